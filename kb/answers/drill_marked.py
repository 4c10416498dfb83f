"""Whether a drill was answered rightly, and how far off the answer is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from kb.numbers.notation import Unreadable, parse_ohm, parse_reading

from .drill import Drill
from .sensor_facts import Curve
from .statement import Statement
from .typed import typed_temperature, unreadable

HALF_SHARE = 0.1
"""How far off the half-width of a reading may be worked out: nobody needs it closer. Own choice."""


@dataclass(frozen=True, kw_only=True)
class Mark:
    """What an answer is worth.

    Parameters
    ----------
    right : bool
    off_k : float or None
        How far off a typed answer is in K, above nought where it is too warm; None for the rest.
    words : Statement
        That, to be said.
    """

    right: bool
    off_k: float | None = None
    words: Statement


def mark_resistance(typed: str, *, drill: Drill, curve: Curve) -> Mark:
    """Return the mark on typed ohms: how many kelvin they are off on the curve.

    Raises
    ------
    Refusal
        If they cannot be read.
    """
    try:
        r_ohm = parse_reading(typed)
    except Unreadable as error:
        raise unreadable(error, field="answer") from None
    if not 0 < r_ohm < math.inf:
        return Mark(right=False, words=Statement(id="drill.no-temperature"))
    return _off(float(curve.beyond_c(r_ohm)) - drill.figures["t_c"], drill=drill)


def mark_temperature(typed: str, *, drill: Drill, unit: str = "C") -> Mark:
    """Return the mark on a typed temperature; Refusal where it cannot be read."""
    at = typed_temperature(typed, field="answer", unit=unit)
    return _off(at.t_c - drill.figures["t_c"], drill=drill)


def mark_choice(place: int, *, drill: Drill) -> Mark:
    """Return the mark on the place of a choice."""
    return _plain(place in drill.right)


def mark_tap(pin: str, *, drill: Drill) -> Mark:
    """Return the mark on a tapped pin."""
    return _plain(pin == drill.pin)


def mark_order(order: Sequence[int], *, drill: Drill) -> Mark:
    """Return the mark on places in the order they were put in.

    Suspects that are worth the same by the minute may stand either way.
    """
    if sorted(order) != list(range(len(drill.choices))):
        return _plain(False)
    worth = [_worth(choice) for choice in drill.choices]
    if None not in worth:
        given = [worth[place] for place in order]
        best = [worth[place] for place in drill.right]
        same = all(
            math.isclose(a or 0.0, b or 0.0, rel_tol=1e-9) for a, b in zip(given, best, strict=True)
        )
        return _plain(same)
    return _plain(tuple(order) == drill.right)


def mark_display(typed: str, *, half: str, drill: Drill) -> Mark:
    """Return the mark on a display: its ohms to half a digit, and how far they may be off.

    Raises
    ------
    Refusal
        If either cannot be read; of a display that is over range the second is not asked.
    """
    try:
        r_ohm = parse_reading(typed)
        shown_ohm = drill.figures["shown_ohm"]
        if math.isinf(shown_ohm) or math.isinf(r_ohm):
            return _plain(shown_ohm == r_ohm)
        half_ohm = parse_ohm(half)
    except Unreadable as error:
        raise unreadable(error, field="answer") from None
    if abs(r_ohm - shown_ohm) > drill.figures["digit_ohm"] / 2:
        return Mark(right=False, words=Statement(id="drill.wrong-ohm"))
    wanted_ohm = drill.figures["half_ohm"]
    if abs(half_ohm - wanted_ohm) > wanted_ohm * HALF_SHARE:
        return Mark(right=False, words=Statement(id="drill.wrong-half"))
    return _plain(True)


def _off(off_k: float, *, drill: Drill) -> Mark:
    limit_k = drill.figures["limit_k"]
    right = abs(off_k) <= limit_k
    side = "warm" if off_k > 0 else "cold"
    figures = {"off_k": abs(off_k), "limit_k": limit_k}
    words = Statement(id=f"drill.off-{side}", figures=figures)
    return Mark(right=right, off_k=off_k, words=words)


def _plain(right: bool) -> Mark:
    return Mark(right=right, words=Statement(id="drill.right" if right else "drill.wrong"))


def _worth(choice: Statement) -> float | None:
    share, minutes = choice.figures.get("part_share"), choice.figures.get("minutes")
    if isinstance(share, float) and isinstance(minutes, float):
        return share / minutes
    return None
