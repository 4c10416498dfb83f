"""How far may it be off? All that one reading leaves open, as a sum of rectangles."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from functools import lru_cache

SURE = 0.95
"""How sure the bound is said to be."""
COVERAGE = 0.9545
"""What it really covers: as k = 2 does of a normal one (JCGM 100:2008, G.1.3)."""
_SMALL = 0.02
"""Half-widths below this share of all together are taken as one: their shape is no longer seen."""
_NOTHING_K = 1e-9
_HALVINGS = 50


def coverage_k(half_widths_k: Sequence[float]) -> float:
    """Return U in K: the true error lies within ± U of the one read, with `COVERAGE`.

    Parameters
    ----------
    half_widths_k : sequence of float
        Of what the reading leaves open: each equally likely anywhere within ± its half-width.

    Notes
    -----
    The true error is the one read less the sum of those. Their sum is taken as it is, and not as a
    normal one: of one rectangle alone nothing lies beyond its half-width, where 2u would say so.
    Never above 2u.

    Source: JCGM 101:2008, 5.5 and 7.7 (distributions propagated; here in closed form, the sum of
    rectangles); JCGM 106:2012 for the probability, nothing being known of the error before.
    """
    halves_k = seen_halves_k(half_widths_k)
    low_k, high_k = 0.0, sum(halves_k)
    if len(halves_k) < 2:
        return COVERAGE * high_k
    beyond = (1 - COVERAGE) / 2
    for _ in range(_HALVINGS):
        middle_k = (low_k + high_k) / 2
        # The low tail has few terms, and loses no digit to their difference.
        if below_share(-middle_k, halves_k=halves_k) > beyond:
            low_k = middle_k
        else:
            high_k = middle_k
    return high_k


def inside_share(error_k: float, *, limit_k: float, halves_k: Sequence[float]) -> float:
    """Return how likely the true error is within ± `limit_k`, by this reading alone."""
    if limit_k <= 0:
        return 0.0
    under = below_share(error_k + limit_k, halves_k=halves_k)
    return max(under - below_share(error_k - limit_k, halves_k=halves_k), 0.0)


def seen_halves_k(half_widths_k: Sequence[float]) -> tuple[float, ...]:
    """Return half-widths in K for `below_share`: the small ones as one of their variance."""
    every_k = sum(half_widths_k)
    large = [half_k for half_k in half_widths_k if half_k > max(_SMALL * every_k, _NOTHING_K)]
    small_k = math.sqrt(sum(half_k**2 for half_k in half_widths_k if half_k not in large))
    return (*large, small_k) if small_k > max(_NOTHING_K, every_k * 1e-3) else tuple(large)


def below_share(x_k: float, *, halves_k: Sequence[float]) -> float:
    """Return how likely the sum of rectangles is below `x_k`.

    Parameters
    ----------
    x_k : float
    halves_k : sequence of float
        From `seen_halves_k`.

    Notes
    -----
    With n half-widths a: F(x) = Σ ± max(0, x ± a₁ … ± a_n)ⁿ / (2ⁿ n! a₁ … a_n), a minus before
    each term for each minus in it. Source: volume of a cube under a plane; from memory.
    """
    count, reach_k = len(halves_k), sum(halves_k)
    if x_k > 0:
        return 1 - below_share(-x_k, halves_k=halves_k)
    if x_k <= -reach_k:
        return 0.0 if x_k < 0 or halves_k else 0.5
    total = 0.0
    for sign, corner_k in _corners(tuple(halves_k)):
        if x_k + corner_k > 0:
            total += sign * (x_k + corner_k) ** count
    return total / (2**count * math.factorial(count) * math.prod(halves_k))


@lru_cache(maxsize=64)
def _corners(halves_k: tuple[float, ...]) -> tuple[tuple[int, float], ...]:
    """Return the corners of the cube: whether each counts or is taken off, and how far along."""
    return tuple(
        (math.prod(signs), sum(sign * half_k for sign, half_k in zip(signs, halves_k, strict=True)))
        for signs in itertools.product((1, -1), repeat=len(halves_k))
    )
