"""Tell how far a curve moved: in ohms as a meter shows, in kelvin as a machine sees."""

from __future__ import annotations

from collections.abc import Sequence

from kb.numbers.rounding import format_k, format_ohm
from kb.words.phrase import in_words

WORTH_TELLING_K = 0.02
"""A smaller move is arithmetic, such as one more printed digit."""
NAMED_C = 20.0
"""Where a move is told first: about where most readings are taken."""
FARTHER = 1.5
"""The worst place is named too when it moved that many times as far as at NAMED_C."""

Sampled = Sequence[Sequence[float]]
"""[t_c, r_ohm, slope_ohm_per_k] at set temperatures."""


def curve_moves(old: Sampled, *, new: Sampled) -> str:
    """Return how a curve moved, in words that follow its name; nothing when it did not.

    The kelvins are how much warmer a given resistance now counts than before, to first order:
    minus the difference in ohms over the new slope.
    """
    before = {t_c: r_ohm for t_c, r_ohm, _ in old}
    moves_k = {
        t_c: (before[t_c], r_ohm, -(r_ohm - before[t_c]) / slope)
        for t_c, r_ohm, slope in new
        if t_c in before and slope
    }
    if not moves_k:
        return ""
    worst = max(moves_k, key=lambda t_c: abs(moves_k[t_c][2]))
    if abs(moves_k[worst][2]) < WORTH_TELLING_K:
        return ""
    first = min(moves_k, key=lambda t_c: abs(t_c - NAMED_C))
    if abs(moves_k[first][2]) < WORTH_TELLING_K:
        return in_words("change.curve-moved-elsewhere", **_move(worst, moves_k), stands_c=first)
    if abs(moves_k[worst][2]) > FARTHER * abs(moves_k[first][2]):
        farthest = {"worst_c": worst, "worst": _signed_k(moves_k[worst][2])}
        return in_words("change.curve-moved-most", **_move(first, moves_k), **farthest)
    return in_words("change.curve-moved", **_move(first, moves_k))


def _move(t_c: float, moves_k: dict[float, tuple[float, float, float]]) -> dict[str, object]:
    """Return the figures of a move: where, from what to what, and by how many kelvin."""
    was, is_, moved_k = moves_k[t_c]
    digits = next(
        (n for n in (3, 4, 5) if format_ohm(was, digits=n) != format_ohm(is_, digits=n)), 6
    )
    return {
        "t_c": t_c,
        "was": format_ohm(was, digits=digits),
        "now": format_ohm(is_, digits=digits),
        "by": _signed_k(moved_k),
    }


def _signed_k(moved_k: float) -> str:
    return f"{'+' if moved_k > 0 else ''}{format_k(moved_k, digits=1 if abs(moved_k) < 1 else 2)}"
