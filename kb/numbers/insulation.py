"""Insulation resistance: brought to 40 °C, against the part's own limit and then the standard's."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from .law import Quantity
from .notation import Unreadable, parse_reading
from .out_of_range import as_given, within

LOW_C, HIGH_C = 10.0, 85.0
"""Winding temperatures in °C between which the corrections are given (IEEE 43-2013, memory)."""

_BARE_BELOW_OHM = 100e3
_LETTERED = re.compile("[kmgr\u03a9\u2126]", re.IGNORECASE)

MATERIALS = ("thermoplastic", "thermoset")

WINDING_KINDS = ("before-1970", "form-wound", "random-wound")
"""Which row of IEEE 43-2013, Table 3.

Made before about 1970, or a field winding; form-wound for alternating current, made after;
random-wound stator, form-wound below 1 kV, or armature for direct current: a small motor too.
"""


def parse_insulation(text: str) -> float:
    """Return ohms from an insulation tester's display; infinity for OL.

    Raises
    ------
    Unreadable
        As `parse_reading`; and for a low number with no letter: testers show 25.0 and mean
        megohms, and 25 ohms would condemn a good motor. Zero is zero in any unit.
    """
    r_ohm = parse_reading(text)
    if 0 < r_ohm < _BARE_BELOW_OHM and not _LETTERED.search(text):
        raise Unreadable("of-what", typed=text.strip())
    return r_ohm


def factor_to_40(t_c: Quantity, *, material: str) -> Quantity:
    """Return K with R(40 °C) = K R(t): above one for a winding hotter than 40 °C.

    Parameters
    ----------
    t_c : array_like, any shape, °C
    material : str
        "thermoplastic": the resistance halves every 10 K. "thermoset": two exponentials in 1/T,
        which meet at 40 °C.

    Raises
    ------
    OutOfRange
        Outside 10 to 85 °C: warm or cool the winding first.

    Source: IEEE 43-2013, clause 6.3 (thermoplastic seen in an excerpt; thermoset from memory,
    agrees with published worked examples).
    """
    if material not in MATERIALS:
        raise ValueError(f"material '{material}' is neither thermoplastic nor thermoset")
    inside_c = within(t_c, low=LOW_C, high=HIGH_C, unit="°C", what="the insulation correction")
    if material == "thermoplastic":
        return as_given(0.5 ** ((40 - inside_c) / 10), given=t_c)
    # The standard counts 273 and not 273.15 here.
    steepness_k = np.where(inside_c < 40, 1245.0, 4230.0)
    return as_given(np.exp(-steepness_k * (1 / (inside_c + 273) - 1 / 313)), given=t_c)


def brought_to_c(r_ohm: Quantity, *, from_c: float, to_c: float, material: str) -> Quantity:
    """Return insulation resistance in Ω at `to_c` from Ω read at `from_c`.

    Raises
    ------
    OutOfRange
        If either is outside 10 to 85 °C.
    """
    factor = factor_to_40(from_c, material=material) / factor_to_40(to_c, material=material)
    return as_given(np.asarray(r_ohm, dtype=float) * factor, given=r_ohm)


def standard_min_ohm(*, winding: str, rated_v: float) -> float:
    """Return the least insulation resistance in Ω at 40 °C after one minute.

    Parameters
    ----------
    winding : str
        One of WINDING_KINDS.
    rated_v : float
        Rated line-to-line volts, r.m.s.

    Source: IEEE 43-2013, Table 3 (from memory, corroborated): kV + 1, 100 or 5 MΩ.
    """
    if winding not in WINDING_KINDS:
        raise ValueError(f"winding '{winding}' is not one of {', '.join(WINDING_KINDS)}")
    least = {"before-1970": rated_v / 1000 + 1, "form-wound": 100.0, "random-wound": 5.0}
    return 1e6 * least[winding]


@dataclass(frozen=True, kw_only=True)
class LimitCheck:
    """The reading against one limit: "within", "outside" or "undecided".

    Parameters
    ----------
    whose : str
        "part" or "IEEE 43".
    limit_ohm, limit_c : float
        The limit in Ω and the temperature it holds at.
    reading_ohm : float
        The reading in Ω brought to that temperature, or as read where no correction holds.
    """

    whose: str
    limit_ohm: float
    limit_c: float
    reading_ohm: float
    state: str


@dataclass(frozen=True, kw_only=True)
class InsulationVerdict:
    """Insulation judged: by the part's own limit where it has one, the standard's beside it.

    Parameters
    ----------
    at_40_ohm : float or None
        Reading in Ω brought to 40 °C; infinity where the tester was over range; None where no
        correction holds.
    beyond : str
        "cold" or "hot" where the winding is outside 10 to 85 °C and was judged as read; else "".
    state : str
        The first check's: the part's own limit stands before the standard's.
    checks : tuple of LimitCheck
        The part's first. The standard's, for comparison, is left out where it asks for the same.
    """

    at_40_ohm: float | None
    beyond: str
    state: str
    checks: tuple[LimitCheck, ...]


def judge_insulation(
    r_ohm: float,
    *,
    t_c: float,
    material: str,
    percent: float = 0.0,
    t_half_k: float = 0.0,
    part_min_ohm: float | None = None,
    part_limit_c: float = 40.0,
    winding: str = "random-wound",
    rated_v: float = 400.0,
) -> InsulationVerdict:
    """Return the verdict on an insulation reading after one minute; OutOfRange as brought_to_c.

    Parameters
    ----------
    r_ohm, t_c : float
        Ω, infinity for over range, which is as good as the tester can show; winding °C.
    percent : float
        The tester's ± per cent of reading.
    t_half_k : float
        How far the winding may be off `t_c`, in ± K: it moves the correction.
    part_min_ohm, part_limit_c : float
        The part's own limit in Ω and the temperature it holds at; judged first.
    material, winding, rated_v
        As for `factor_to_40` and `standard_min_ohm`.

    Notes
    -----
    Guarded by U of the reading as brought to a limit's temperature: of its two errors, as shares of
    it, u² = a_tester²/3 + a_temperature²/3 (JCGM 100, 4.3.7).
    """
    beyond = "cold" if t_c < LOW_C else "hot" if t_c > HIGH_C else ""
    limits = [_Limit("IEEE 43", standard_min_ohm(winding=winding, rated_v=rated_v), 40.0)]
    if part_min_ohm is not None:
        own = _Limit("part", part_min_ohm, part_limit_c)
        limits = [own] if own[1:] == limits[0][1:] else [own, *limits]
    at_40_ohm = None if beyond else brought_to_c(r_ohm, from_c=t_c, to_c=40.0, material=material)
    share = _share(percent, warmth=_warmth_share(t_c, half_k=t_half_k, of=material))
    checks = []
    for limit in limits:
        # As read where no correction holds; a limit's own temperature must have one all the same.
        from_c = limit.limit_c if beyond else t_c
        reading_ohm = brought_to_c(r_ohm, from_c=from_c, to_c=limit.limit_c, material=material)
        state = _state(reading_ohm, limit_ohm=limit.limit_ohm, share=share)
        state = _certain(state, beyond=beyond, reading_ohm=reading_ohm)
        checks.append(LimitCheck(**limit._asdict(), reading_ohm=reading_ohm, state=state))
    return InsulationVerdict(
        at_40_ohm=at_40_ohm, beyond=beyond, state=checks[0].state, checks=tuple(checks)
    )


class _Limit(NamedTuple):
    whose: str
    limit_ohm: float
    limit_c: float


def _certain(state: str, *, beyond: str, reading_ohm: float) -> str:
    """Return what is left of a state where the reading could not be brought anywhere.

    Insulation reads less the hotter it is. Below 10 °C there is no correction, and the cold only
    flatters: what is too low as read is outside for certain, anything else is undecided. Above
    85 °C likewise the other way round: enough as read is within, anything else undecided. Only
    nothing at all is too little at any temperature.
    """
    if reading_ohm == 0:
        return state
    doubtful = {"cold": "within", "hot": "outside"}.get(beyond)
    return "undecided" if state == doubtful else state


def _share(percent: float, *, warmth: float) -> float:
    """Return U of the reading as a share of it."""
    return 2 * float(np.sqrt(np.sum(np.square([percent / 100, warmth])) / 3))


def _warmth_share(t_c: float, *, half_k: float, of: str) -> float:
    """Return by what share of itself the correction moves at most, within ± `half_k`.

    Nothing where none is made.
    """
    if not LOW_C <= t_c <= HIGH_C:
        return 0.0
    here = factor_to_40(t_c, material=of)
    ends_c = (max(t_c - half_k, LOW_C), min(t_c + half_k, HIGH_C))
    return max(abs(factor_to_40(end_c, material=of) / here - 1) for end_c in ends_c)


def _state(reading_ohm: float, *, limit_ohm: float, share: float) -> str:
    if np.isinf(reading_ohm):
        return "within"
    uncertainty_ohm = reading_ohm * share
    # One limit only, and to be at it is enough.
    if reading_ohm - limit_ohm >= uncertainty_ohm:
        return "within"
    return "outside" if limit_ohm - reading_ohm > uncertainty_ohm else "undecided"
