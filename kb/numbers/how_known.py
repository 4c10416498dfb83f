"""How well a curve itself is known along its range: the worst of it, where, and elsewhere."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .characteristic import Characteristic

STRETCH_SHARE = 0.5
"""Beside the worst place belongs what is more than so much of it. Common practice, no source."""
ENDS_K = 5.0
"""A stretch is said to whole steps of this, outwards."""


@dataclass(frozen=True, kw_only=True)
class HowKnown:
    """A curve's own width in words' figures.

    Parameters
    ----------
    worst_k : float
        The largest half-width in K over the range.
    low_c, high_c : float
        The stretch in °C around it that is about as wide, its ends on whole steps of ENDS_K.
    elsewhere_k : float or None
        The largest outside that stretch; None where the stretch is the whole range.
    """

    worst_k: float
    low_c: float
    high_c: float
    elsewhere_k: float | None


def how_known(curve: Characteristic) -> HowKnown | None:
    """Return how far a curve itself may be off, worst and elsewhere; None where nothing says so.

    Notes
    -----
    Looked for at whole degrees and at the ends.
    """
    inner_c = np.arange(np.ceil(curve.low_c), np.floor(curve.high_c) + 1)
    t_c = np.unique(np.append(inner_c, (curve.low_c, curve.high_c)))
    half_k = np.asarray(curve.law_k(t_c))
    at = int(np.argmax(half_k))
    worst_k = float(half_k[at])
    if worst_k <= 0:
        return None
    narrow = np.flatnonzero(half_k <= STRETCH_SHARE * worst_k)
    before, after = narrow[narrow < at], narrow[narrow > at]
    first_c = t_c[before[-1] + 1] if before.size else curve.low_c
    last_c = t_c[after[0] - 1] if after.size else curve.high_c
    low_c = max(float(np.floor(first_c / ENDS_K) * ENDS_K), curve.low_c)
    high_c = min(float(np.ceil(last_c / ENDS_K) * ENDS_K), curve.high_c)
    elsewhere = half_k[(t_c < low_c) | (t_c > high_c)]
    return HowKnown(
        worst_k=worst_k,
        low_c=low_c,
        high_c=high_c,
        elsewhere_k=float(elsewhere.max()) if elsewhere.size else None,
    )
