"""A part's windings as read: equal to each other, and what its entry gives?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.instruments import meter_of, meters
from kb.model import Instrument, Part
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.numbers.meter import Meter
from kb.numbers.winding_balance import Balance, winding_balance
from kb.numbers.winding_metal import OF_METAL, corrected_to
from kb.numbers.winding_value import winding_value

from .arguments import Temperature
from .options import NotUnderstood
from .part_lookup import cautions_of

WORST_FIRST = ("open", "outside", "undecided", "within")

OWN_CAUTIONS = [
    "Every lead off the inverter, contactor, board and capacitors first, and note which was where.",
    "The winding must have cooled through: its temperature is the reading's temperature.",
]

LEADS = "leads zeroed, or their reading taken off"
"""How a winding is read: the program takes nothing off itself, or it would come off twice."""


@dataclass(frozen=True, kw_only=True)
class LeadPair:
    """One pair of leads against the value its entry gives.

    Parameters
    ----------
    r_ohm, at_20_ohm : float
        As read, and brought to 20 °C; the latter None without a temperature.
    digit_ohm : float
        One digit of the range it was read on; infinity where it was over range.
    expected_ohm : float
        The entry's value brought to the temperature of the reading.
    off_share, uncertainty_share, allowed_share : float or None
        Departure from that value, U of it from meter and temperature, and what is allowed,
        as shares.
    state : str
        "within", "outside", "undecided", "open"; "" where nothing was compared.
    """

    r_ohm: float
    digit_ohm: float
    at_20_ohm: float | None
    expected_ohm: float | None
    off_share: float | None
    uncertainty_share: float | None
    allowed_share: float | None
    state: str


@dataclass(frozen=True, kw_only=True)
class Windings:
    """A part's windings as read.

    Parameters
    ----------
    pairs : dict of lead pair to LeadPair
    balances : tuple of Balance
        One for each set of windings that should be equal and of which two or more were read.
    unread : tuple of str
    better : tuple of Instrument
        Meters of the team's that read these leads closer, best first, where this one cannot tell.
    state : str
        The worst of all; "" where the entry gives no limit.
    """

    part: Part
    at: Temperature | None
    meter: Instrument
    pairs: dict[str, LeadPair]
    balances: tuple[Balance, ...]
    unread: tuple[str, ...]
    better: tuple[Instrument, ...]
    state: str
    cautions: tuple[str, ...]

    @property
    def constant(self) -> float:
        """The winding constant used, in °C."""
        return OF_METAL[self.part.windings.metal]


def compared(
    notes: Notes,
    part: Part,
    readings: list[tuple[str, float]],
    *,
    at: Temperature | None,
    meter: Instrument,
) -> Windings:
    """Return how a part's windings stand to each other and to its entry.

    Raises
    ------
    NotUnderstood
        When the part has no such pair of leads, one was given twice, or one reads zero.

    Notes
    -----
    Balance holds windings against each other, so one digit of the meter counts there; the entry's
    value needs its whole accuracy.
    """
    told = part.windings
    read: dict[str, float] = {}
    for name, r_ohm in readings:
        pair = _pair(part, name)
        if pair in read:
            raise NotUnderstood(f"{pair} was given twice; give each pair of leads once")
        read[pair] = r_ohm
    tool = meter_of(meter)
    read = {pair: _shown(tool, pair, r_ohm) for pair, r_ohm in read.items()}
    constant = OF_METAL[told.metal]
    pairs = {
        pair: _against_entry(part, pair, r_ohm, meter=tool, at=at) for pair, r_ohm in read.items()
    }
    allowed = None if told.balance_percent is None else told.balance_percent / 100
    balances = []
    for value in dict.fromkeys(told.pairs.values()):
        equal = [pair for pair in read if told.pairs[pair] == value]
        if len(equal) > 1:
            halves = tool.beside_half_ohm([read[pair] for pair in equal])
            balances.append(
                winding_balance(
                    {pair: read[pair] for pair in equal},
                    half_widths_ohm=dict(zip(equal, halves, strict=True)),
                    t_c=20.0 if at is None else at.t_c,
                    allowed_share=allowed,
                    constant=constant,
                )
            )
    states = [*(one.state for one in pairs.values()), *(one.state for one in balances)]
    state = next((one for one in WORST_FIRST if one in states), "")
    return Windings(
        part=part,
        at=at,
        meter=meter,
        pairs=pairs,
        balances=tuple(balances),
        unread=tuple(pair for pair in told.pairs if pair not in read),
        better=_better(notes, tool, pairs) if state == "undecided" else (),
        state=state,
        cautions=tuple(cautions_of(notes, part, judges="windings", own=OWN_CAUTIONS)),
    )


def _pair(part: Part, name: str) -> str:
    asked = {lead.strip().casefold() for lead in name.split("-")}
    for pair in part.windings.pairs:
        if {lead.casefold() for lead in pair.split("-")} == asked:
            return pair
    raise NotUnderstood(
        f"{part.name} has no pair of leads '{name}'; {nearest(name, part.windings.pairs)}"
    )


def _shown(meter: Meter, pair: str, r_ohm: float) -> float:
    """Return the reading, or infinity where this meter cannot have shown it."""
    if r_ohm <= 0:
        raise NotUnderstood(
            f"{pair} reads nothing: read it with a meter for milliohms, or look for a short"
        )
    return math.inf if r_ohm > meter.span_ohm else r_ohm


def _against_entry(
    part: Part, pair: str, r_ohm: float, *, meter: Meter, at: Temperature | None
) -> LeadPair:
    told = part.windings
    constant = OF_METAL[told.metal]
    allowed = None if told.tolerance_percent is None else told.tolerance_percent / 100
    if math.isinf(r_ohm) or at is None:
        state = "open" if math.isinf(r_ohm) else ""
        return LeadPair(
            r_ohm=r_ohm,
            digit_ohm=meter.digit_ohm(r_ohm),
            at_20_ohm=None,
            expected_ohm=None,
            off_share=None,
            uncertainty_share=None,
            allowed_share=allowed,
            state=state,
        )
    value = winding_value(
        r_ohm,
        half_ohm=float(meter.half_width_ohm(r_ohm)),
        t_c=at.t_c,
        part_ohm=told.pairs[pair],
        part_c=told.at_c,
        allowed_share=allowed,
        constant=constant,
    )
    expected = corrected_to(told.pairs[pair], from_c=told.at_c, to_c=at.t_c, constant=constant)
    return LeadPair(
        r_ohm=r_ohm,
        digit_ohm=meter.digit_ohm(r_ohm),
        at_20_ohm=float(value.at_20_ohm),
        expected_ohm=float(expected),
        off_share=float(value.off_share),
        uncertainty_share=float(value.uncertainty_share),
        allowed_share=allowed,
        state=value.state,
    )


def _better(notes: Notes, used: Meter, pairs: dict[str, LeadPair]) -> tuple[Instrument, ...]:
    to_value = any(one.state == "undecided" for one in pairs.values())

    def widest(meter: Meter) -> float:
        half = meter.half_width_ohm if to_value else meter.digit_ohm
        return max(float(half(one.r_ohm)) for one in pairs.values())

    closer = [(widest(meter_of(one)), one) for one in meters(notes)]
    found = sorted(
        ((half, one) for half, one in closer if half < widest(used)), key=lambda each: each[0]
    )
    return tuple(one for _, one in found)


def as_dict(one: Windings) -> dict[str, object]:
    """Return the answer for machines; over range and what nobody knows are null."""
    allowed = one.part.windings.balance_percent
    return {
        "part": one.part.id,
        "verdict": one.state or None,
        "constant": one.constant,
        "meter": one.meter.id,
        "balance": [
            {
                "pairs": list(balance.windings),
                "state": balance.state or None,
                "mean_at_20_ohm": None if one.at is None else balance.mean_at_20_ohm,
                "worst_percent": _percent(balance.worst_share),
                "allowed_percent": allowed,
                "off_percent": {
                    pair: _percent(each.off_share) for pair, each in balance.windings.items()
                },
                "uncertainty_percent": {
                    pair: _percent(each.uncertainty_share)
                    for pair, each in balance.windings.items()
                },
            }
            for balance in one.balances
        ],
        "windings": [
            {
                "pair": pair,
                "r_ohm": each.r_ohm if math.isfinite(each.r_ohm) else None,
                "at_20_ohm": each.at_20_ohm,
                "expected_ohm": each.expected_ohm,
                "off_percent": _percent(each.off_share),
                "uncertainty_percent": _percent(each.uncertainty_share),
                "allowed_percent": _percent(each.allowed_share),
                "state": each.state or None,
            }
            for pair, each in one.pairs.items()
        ],
        "unread": list(one.unread),
        "cautions": list(one.cautions),
    }


def _percent(share: float | None) -> float | None:
    return None if share is None or not math.isfinite(share) else share * 100
