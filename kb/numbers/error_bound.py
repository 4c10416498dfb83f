"""How far may it be off at most? From one reading, all that the instruments leave open."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

SURE = 0.95
"""How sure the bound is."""
_NEGLIGIBLE = 1e-3
"""A half-width below this share of all together moves the bound by less than itself."""
_NOTHING_K = 1e-9
_HALVINGS = 60


def at_most_k(error_k: float, *, half_widths_k: Sequence[float]) -> float:
    """Return what the true error in K does not exceed, either way, with `SURE`.

    Parameters
    ----------
    error_k : float
        As read, in K.
    half_widths_k : sequence of float
        Of what the reading leaves open: each equally likely anywhere within ± its half-width.

    Notes
    -----
    The true error is the one read less the sum of those. Their sum is taken as it is, and not as a
    normal one: of one rectangle alone nothing lies beyond its half-width, where 2u would say so.

    Source: JCGM 101:2008 (distributions propagated; here in closed form, the sum of rectangles);
    JCGM 106:2012 for the probability, nothing being known of the error before.
    """
    every_k = sum(half_widths_k)
    halves_k = [
        half_k for half_k in half_widths_k if half_k > max(_NEGLIGIBLE * every_k, _NOTHING_K)
    ]
    if not halves_k:
        return abs(error_k)
    low_k, high_k = 0.0, abs(error_k) + every_k
    for _ in range(_HALVINGS):
        middle_k = (low_k + high_k) / 2
        sure = _below(error_k + middle_k, halves_k=halves_k) - _below(
            error_k - middle_k, halves_k=halves_k
        )
        if sure < SURE:
            low_k = middle_k
        else:
            high_k = middle_k
    return high_k


def _below(x_k: float, *, halves_k: Sequence[float]) -> float:
    """Return how likely the sum of rectangles is below `x_k`.

    With n half-widths a: F(x) = Σ ± max(0, x ± a₁ … ± a_n)ⁿ / (2ⁿ n! a₁ … a_n), a minus before
    each term for each minus in it.
    """
    count, reach_k = len(halves_k), sum(halves_k)
    if x_k <= -reach_k:
        return 0.0
    if x_k >= reach_k:
        return 1.0
    total = 0.0
    for signs in itertools.product((1, -1), repeat=count):
        inside_k = x_k + sum(sign * half_k for sign, half_k in zip(signs, halves_k, strict=True))
        if inside_k > 0:
            total += math.prod(signs) * inside_k**count
    return total / (2**count * math.factorial(count) * math.prod(halves_k))
