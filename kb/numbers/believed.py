"""What to believe after a reading: the chance of a fault, from what was believed before."""

from __future__ import annotations

from collections.abc import Sequence

from .error_bound import below_share, inside_share, seen_halves_k

SIZES = 24
"""So many sizes of fault are told apart, each by as many times larger than the one before."""


def fault_share(
    error_k: float,
    *,
    limit_k: float,
    half_widths_k: Sequence[float],
    before: float,
    largest_k: float,
) -> float | None:
    """Return how likely the sensor is at fault after a reading; None where neither could read so.

    Parameters
    ----------
    error_k, limit_k : float
        As read, and what a sound one is not beyond, in K.
    half_widths_k : sequence of float
        Of what the reading leaves open, each rectangular, in K.
    before : float
        How likely it was at fault, between 0 and 1.
    largest_k : float
        The largest error that a fault is thought to have, in K.

    Notes
    -----
    Bayes with two beliefs: a sound one is off by anything within ± limit, all alike; one at fault
    is off by any size from the limit to the largest, each doubling as likely as the next, either
    way (the prior of a size of which nothing is known, 1/x: Jeffreys; from memory). The chance of
    the reading is from the rectangles as they are (`error_bound`).
    """
    if not 0 < limit_k < largest_k:
        return None
    halves_k = seen_halves_k(half_widths_k)
    if not halves_k:
        return None
    sound = inside_share(error_k, limit_k=limit_k, halves_k=halves_k) / (2 * limit_k)
    grows = (largest_k / limit_k) ** (1 / SIZES)
    fault, near_k = 0.0, limit_k
    for _ in range(SIZES):
        far_k = near_k * grows
        either_way = sum(
            below_share(side * error_k - near_k, halves_k=halves_k)
            - below_share(side * error_k - far_k, halves_k=halves_k)
            for side in (1, -1)
        )
        fault += either_way / (far_k - near_k) / (2 * SIZES)
        near_k = far_k
    weighed = before * fault
    every = weighed + (1 - before) * sound
    return weighed / every if every > 0 else None
