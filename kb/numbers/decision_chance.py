"""Would another reading decide? How likely that is, by what this one leaves open."""

from __future__ import annotations

from collections.abc import Sequence

from .error_bound import below_share, coverage_k, seen_halves_k


def decision_chance(
    error_k: float, *, limit_k: float, left_k: Sequence[float], drawn_k: Sequence[float]
) -> float:
    """Return how likely another reading decides.

    Parameters
    ----------
    error_k : float
        As read now, in K.
    limit_k : float
        What it will be held against, in K.
    left_k : sequence of float
        Half-widths in K of all that the other reading will leave open.
    drawn_k : sequence of float
        Half-widths in K of all in which the two readings differ: what is changed, as it is now and
        as it will be. What stays (the same meter, the same spot) is wrong by the same in both.

    Notes
    -----
    The other error read is this one, less what was drawn now, plus what will be drawn: a sum of
    rectangles about this one, nothing being known of the true error before (JCGM 106). It decides
    where it is within limit less U or beyond limit and U.
    """
    uncertainty_k, halves_k = coverage_k(left_k), seen_halves_k(drawn_k)

    def within(reach_k: float) -> float:
        if reach_k < 0:
            return 0.0
        if not halves_k:
            return float(abs(error_k) <= reach_k)
        below = below_share(reach_k - error_k, halves_k=halves_k)
        return below - below_share(-reach_k - error_k, halves_k=halves_k)

    return within(limit_k - uncertainty_k) + 1 - within(limit_k + uncertainty_k)
