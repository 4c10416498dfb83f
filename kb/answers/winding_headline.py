"""The one sentence on windings: which is bad and by how much, or why nothing is decided."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from kb.numbers.rounding import NO_SHARE
from kb.numbers.winding_balance import Balance
from kb.numbers.winding_value import TEMPERATURE_HALF_K

from .statement import Statement
from .winding_faults import off_mean, open_lead
from .winding_reading import COLDEST_C, HOTTEST_C, WindingFacts, WindingReading

HARDLY_SHARE = 5e-4
"""A spread below this share of the mean is told as less than it."""


def winding_headline(
    part: WindingFacts,
    *,
    state: str,
    pairs: Mapping[str, WindingReading],
    balances: Sequence[Balance],
    t_c: float | None,
    meter: str,
) -> Statement:
    """Return what is said first of windings as read with the meter of that name."""
    if state in ("open", "short"):
        lead = open_lead(part, pairs=pairs) if state == "open" and part.wound else None
        if lead is not None:
            return lead
        named = [pair for pair, reading in pairs.items() if reading.state == state]
        # Only a motor has a star point and a protector inside: a heater or a coil is one wire.
        fault = "open-wire" if state == "open" and not part.wound else state
        return _counted(f"winding.{fault}", pairs=named, meter=meter)
    if state == "outside":
        faults = [*off_mean(part, pairs=pairs, balances=balances), *_off_entry(pairs, t_c=t_c)]
        return Statement(id="winding.outside", figures={"faults": faults})
    if state == "undecided":
        return _undecided(pairs, balances=balances, meter=meter)
    if state == "within":
        return _within(pairs, balances=balances, t_c=t_c)
    if t_c is None and part.tolerance_share is not None:
        return Statement(id="winding.needs-temperature")
    return Statement(id="winding.no-limit")


def _counted(statement_id: str, *, pairs: Sequence[str], meter: str) -> Statement:
    count = "one" if len(pairs) == 1 else "many"
    figures = {"pairs": list(pairs), "instrument": meter}
    return Statement(id=f"{statement_id}-{count}", figures=figures)


def _off_entry(pairs: Mapping[str, WindingReading], *, t_c: float | None) -> list[Statement]:
    return [
        _off_at(pair, reading=reading, t_c=t_c)
        for pair, reading in pairs.items()
        if reading.state == "outside"
    ]


def _off_at(pair: str, *, reading: WindingReading, t_c: float | None) -> Statement:
    if t_c is None:
        figures: dict[str, object] = {
            "pair": pair,
            "r_ohm": reading.r_ohm,
            "sound_ohm": reading.sound_ohm,
            "low_c": COLDEST_C,
            "high_c": HOTTEST_C,
        }
        return Statement(id="winding.off-any", figures=figures)
    figures = {
        "pair": pair,
        "off_share": reading.off_share,
        "expected_ohm": reading.expected_ohm,
        "t_c": t_c,
        "allowed_share": reading.allowed_share,
    }
    return Statement(id="winding.off-entry", figures=figures)


def _undecided(
    pairs: Mapping[str, WindingReading], *, balances: Sequence[Balance], meter: str
) -> Statement:
    open_pairs = [pair for pair, reading in pairs.items() if _beyond(reading)]
    if open_pairs:
        return _counted("winding.over-range", pairs=open_pairs, meter=meter)
    empty = [pair for pair, reading in pairs.items() if reading.r_ohm == 0]
    if empty:
        return _counted("winding.nothing", pairs=empty, meter=meter)
    if contact_leads(pairs, balances=balances):
        return Statement(id="winding.contact-coarse")
    if any(balance.state == "undecided" for balance in balances):
        return Statement(id="winding.too-coarse", figures={"instrument": meter})
    figures: dict[str, object] = {"instrument": meter, "half_k": TEMPERATURE_HALF_K}
    worst = _worst_share(balances)
    if worst is None:
        return Statement(id="winding.undecided", figures=figures)
    return Statement(
        id="winding.undecided-alike", figures={**figures, "worst_spread": _spread(worst)}
    )


def contact_leads(pairs: Mapping[str, WindingReading], *, balances: Sequence[Balance]) -> bool:
    """Whether the contact and not the meter leaves it open if windings are equal."""
    held = [reading for reading in pairs.values() if math.isfinite(reading.r_ohm)]
    return any(balance.state == "undecided" for balance in balances) and any(
        reading.contact_half_ohm > reading.digit_ohm for reading in held
    )


def _within(
    pairs: Mapping[str, WindingReading], *, balances: Sequence[Balance], t_c: float | None
) -> Statement:
    worst = _worst_share(balances)
    right = all(reading.state == "within" for reading in pairs.values())
    warmth = "-any" if t_c is None and right else ""
    figures: dict[str, object] = {"low_c": COLDEST_C, "high_c": HOTTEST_C} if warmth else {}
    if worst is None:
        return Statement(id=f"winding.within-entry{warmth}", figures=figures)
    name = "within-both" if right else "within-alike"
    figures["worst_spread"] = _spread(worst)
    return Statement(id=f"winding.{name}{warmth}", figures=figures)


def _spread(worst_share: float) -> Statement:
    """Return how far windings lie from their mean."""
    if worst_share < NO_SHARE:
        return Statement(id="spread.alike")
    if worst_share < HARDLY_SHARE:
        return Statement(id="spread.hardly", figures={"hardly_share": HARDLY_SHARE})
    return Statement(id="spread.most", figures={"worst_share": worst_share})


def _beyond(reading: WindingReading) -> bool:
    return math.isinf(reading.r_ohm)


def _worst_share(balances: Sequence[Balance]) -> float | None:
    """Return the largest departure from a mean among those that are within limits."""
    shares = [
        balance.worst_share
        for balance in balances
        if balance.state == "within" and balance.worst_share is not None
    ]
    return max(shares, default=None)
