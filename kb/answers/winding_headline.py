"""The one sentence on windings: which is bad and by how much, or why nothing is decided."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from kb.numbers.winding_balance import Balance
from kb.numbers.winding_triangle import PairApart, pair_apart
from kb.numbers.winding_value import TEMPERATURE_HALF_K

from .statement import Statement
from .winding_reading import COLDEST_C, HOTTEST_C, WindingFacts, WindingReading

SAME_SHARE = 1e-9
"""Below this a difference of shares is arithmetic."""


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
        named = [pair for pair, reading in pairs.items() if reading.state == state]
        # Only a motor has a star point and a protector inside: a heater or a coil is one wire.
        fault = "open-wire" if state == "open" and not part.wound else state
        return _counted(f"winding.{fault}", pairs=named, meter=meter)
    if state == "outside":
        faults = [*_off_mean(part, pairs=pairs, balances=balances), *_off_entry(pairs, t_c=t_c)]
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


def _off_mean(
    part: WindingFacts, *, pairs: Mapping[str, WindingReading], balances: Sequence[Balance]
) -> list[Statement]:
    faults = []
    for balance in balances:
        if balance.state != "outside":
            continue
        apart = _apart(balance, pairs=pairs)
        for pair in [apart.pair] if apart else _furthest(balance):
            figures: dict[str, object] = {
                "pair": pair,
                "off_share": balance.windings[pair].off_share,
                "allowed_share": part.balance_share,
            }
            if apart is None:
                faults.append(Statement(id="winding.off-mean", figures=figures))
                continue
            way = "high" if apart.high else "low"
            figures["lead"] = apart.lead
            faults.append(Statement(id=f"winding.off-mean-{way}", figures=figures))
    return faults


def _apart(balance: Balance, *, pairs: Mapping[str, WindingReading]) -> PairApart | None:
    """Return the pair apart, unless the two others read what their entry gives.

    Then they are sound, and no fault lies in a lead that they share.
    """
    apart = pair_apart({pair: winding.r_ohm for pair, winding in balance.windings.items()})
    others = [pairs[pair].state for pair in balance.windings if apart and pair != apart.pair]
    return None if others and all(state == "within" for state in others) else apart


def _furthest(balance: Balance) -> list[str]:
    """Return the windings furthest off the mean.

    One bad winding moves the mean under all of them, so the furthest is the bad one; of two that
    are as far, as any two alone are, nobody can tell which.
    """
    off = {pair: abs(winding.off_share) for pair, winding in balance.windings.items()}
    return [pair for pair, share in off.items() if share >= max(off.values()) - SAME_SHARE]


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
    if any(balance.state == "undecided" for balance in balances):
        return Statement(id="winding.too-coarse", figures={"instrument": meter})
    figures: dict[str, object] = {"instrument": meter, "half_k": TEMPERATURE_HALF_K}
    worst = _worst_share(balances)
    if worst is None:
        return Statement(id="winding.undecided", figures=figures)
    return Statement(id="winding.undecided-alike", figures={**figures, "worst_spread": worst})


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
    return Statement(id=f"winding.{name}{warmth}", figures={**figures, "worst_spread": worst})


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
