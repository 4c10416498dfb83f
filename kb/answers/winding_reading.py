"""One pair of leads as read: what was typed, and how it stands to the value its entry gives."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from kb.numbers.meter import Meter
from kb.numbers.winding_metal import corrected_to
from kb.numbers.winding_value import WindingValue, winding_value

COLDEST_C, HOTTEST_C = -40.0, 150.0
"""A winding in °C that can be judged: colder nobody reads one, hotter it has just been running."""


@dataclass(frozen=True, kw_only=True)
class WindingFacts:
    """What an entry says of a part's windings: no words, only what decides.

    Parameters
    ----------
    pairs : mapping of lead pair to Ω
    at_c : float
        The temperature in °C that these hold at.
    tolerance_share, balance_share : float or None
        What each may be off its value, and equal ones off their mean; None if nobody gave one.
    metal : str
        Its word in the notes, and `constant` the winding constant in °C that goes with it.
    wound : bool
        A motor's windings: good ohms do not prove a motor.
    insulated : bool
        Whether the entry has an insulation limit too.
    connection : str
        "star", "delta", "single-phase" or "unknown".
    """

    pairs: Mapping[str, float]
    at_c: float = 20.0
    tolerance_share: float | None = None
    balance_share: float | None = None
    metal: str = "copper"
    constant: float = 234.5
    wound: bool = False
    insulated: bool = False
    connection: str = "unknown"


@dataclass(frozen=True, kw_only=True)
class Repeated:
    """One pair of leads as typed, once or more often.

    Parameters
    ----------
    r_ohm : float
        The mean in Ω; infinity over range.
    count : int
    spread_ohm : float
        The greatest less the least.
    half_ohm : float
        What the contact leaves in the mean, as the half-width of a rectangle.
    """

    r_ohm: float
    count: int = 1
    spread_ohm: float = 0.0
    half_ohm: float = 0.0


@dataclass(frozen=True, kw_only=True)
class WindingReading:
    """One pair of leads against the value its entry gives.

    Parameters
    ----------
    r_ohm : float
        As read, the mean of repeats; infinity where it was over range.
    repeats : int
    spread_ohm : float
        How often it was read, and the greatest of those less the least.
    contact_half_ohm : float
        What the contact leaves in it, as a half-width beside the meter's.
    digit_ohm : float
        One digit of the range it was read on; infinity where it was over range.
    at_20_ohm, expected_ohm : float or None
        Brought to 20 °C, and the entry's value brought to the temperature of the reading; None
        without a temperature or a figure.
    off_share, uncertainty_share : float or None
        Departure from that value, and U of it from meter and temperature.
    allowed_share : float or None
    sound_ohm : (low, high) or None
        Without a temperature, what a sound winding may read at any that is judged.
    state : str
        "within", "outside", "undecided", "open", "short"; "" where nothing was compared. Without
        a temperature only what holds at every one that is judged.
    """

    r_ohm: float
    repeats: int = 1
    spread_ohm: float = 0.0
    contact_half_ohm: float = 0.0
    digit_ohm: float
    at_20_ohm: float | None = None
    expected_ohm: float | None = None
    sound_ohm: tuple[float, float] | None = None
    off_share: float | None = None
    uncertainty_share: float | None = None
    allowed_share: float | None = None
    state: str = ""


def read_winding(
    facts: WindingFacts, *, pair: str, repeated: Repeated, meter: Meter, t_c: float | None
) -> WindingReading:
    """Return how one pair of leads stands to its entry.

    Notes
    -----
    Over range is open only where the meter could have shown a sound winding, and nothing at all
    is a short only where it would have: without a temperature, one as hot or as cold as any that
    is judged.
    """
    r_ohm = math.inf if repeated.r_ohm > meter.span_ohm else repeated.r_ohm
    bare = WindingReading(
        r_ohm=r_ohm,
        repeats=repeated.count,
        spread_ohm=repeated.spread_ohm,
        contact_half_ohm=repeated.half_ohm,
        digit_ohm=float(meter.digit_ohm(r_ohm)),
        allowed_share=facts.tolerance_share,
    )
    if math.isinf(r_ohm):
        reached = most_ohm(facts, pair=pair, t_c=t_c) <= meter.span_ohm
        return replace(bare, state="open" if reached else "undecided")
    if r_ohm == 0:
        shown = _nothing_is_less(facts, pair=pair, meter=meter, t_c=t_c)
        return replace(bare, state="short" if shown else "undecided")
    if t_c is None:
        return _at_any_warmth(facts, bare=bare, pair=pair, meter=meter)
    value = _value(facts, bare=bare, pair=pair, meter=meter, t_c=t_c)
    return replace(
        bare,
        at_20_ohm=float(value.at_20_ohm),
        expected_ohm=_expected_ohm(facts, pair=pair, t_c=t_c),
        off_share=float(value.off_share),
        uncertainty_share=float(value.uncertainty_share),
        state=value.state,
    )


def _value(
    facts: WindingFacts, *, bare: WindingReading, pair: str, meter: Meter, t_c: float
) -> WindingValue:
    return winding_value(
        bare.r_ohm,
        half_ohm=math.hypot(float(meter.half_width_ohm(bare.r_ohm)), bare.contact_half_ohm),
        t_c=t_c,
        part_ohm=facts.pairs[pair],
        part_c=facts.at_c,
        allowed_share=facts.tolerance_share,
        constant=facts.constant,
    )


def _at_any_warmth(
    facts: WindingFacts, *, bare: WindingReading, pair: str, meter: Meter
) -> WindingReading:
    """Return what holds at every temperature that is judged; nothing where that depends on it.

    Notes
    -----
    Departure and uncertainty bend one way in 1/(k + t), so that what holds at the coldest and at
    the hottest, and lies off to the same side at both, holds between them.
    """
    if facts.tolerance_share is None:
        return bare
    coldest, hottest = (
        _value(facts, bare=bare, pair=pair, meter=meter, t_c=t_c) for t_c in (COLDEST_C, HOTTEST_C)
    )
    if coldest.state != hottest.state or coldest.state == "undecided":
        return bare
    if coldest.state == "outside" and (coldest.off_share > 0) != (hottest.off_share > 0):
        return bare
    low_ohm = _expected_ohm(facts, pair=pair, t_c=COLDEST_C) * (1 - facts.tolerance_share)
    sound_ohm = (low_ohm, most_ohm(facts, pair=pair, t_c=None))
    return replace(bare, sound_ohm=sound_ohm, state=coldest.state)


def most_ohm(facts: WindingFacts, *, pair: str, t_c: float | None) -> float:
    """Return the most in Ω that a sound winding may read, at the hottest where nobody knows."""
    hot_c = HOTTEST_C if t_c is None else t_c
    return _expected_ohm(facts, pair=pair, t_c=hot_c) * (1 + (facts.tolerance_share or 0.0))


def _nothing_is_less(facts: WindingFacts, *, pair: str, meter: Meter, t_c: float | None) -> bool:
    """Return whether zero on this meter is certainly less than a sound winding."""
    value = winding_value(
        0.0,
        half_ohm=float(meter.half_width_ohm(0.0)),
        t_c=COLDEST_C if t_c is None else t_c,
        part_ohm=facts.pairs[pair],
        part_c=facts.at_c,
        allowed_share=facts.tolerance_share or 0.0,
        constant=facts.constant,
    )
    return value.state == "outside"


def _expected_ohm(facts: WindingFacts, *, pair: str, t_c: float) -> float:
    part_ohm = facts.pairs[pair]
    return float(corrected_to(part_ohm, from_c=facts.at_c, to_c=t_c, constant=facts.constant))
