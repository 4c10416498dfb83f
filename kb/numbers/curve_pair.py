"""Two curves side by side: how wrong is a board that gets the other sensor?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .characteristic import Characteristic
from .grid import Grid

if TYPE_CHECKING:
    from numpy.typing import NDArray

PLACES = 401
ALIKE_K = 1e-9
"""Places that differ by less are equal, and the coldest is named: rounding must not choose."""

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class Apart:
    """The two curves at one temperature.

    Parameters
    ----------
    at_c : float
        °C.
    one_ohm, other_ohm : float
        What each reads there, in Ω.
    by_k : float
        What a board built for the one would show on the other, less the truth, in K.
    """

    at_c: float
    one_ohm: float
    other_ohm: float
    by_k: float


def apart(curve: Curve, *, other: Curve, t_c: float) -> Apart:
    """Return how far the curves are apart at a temperature.

    Raises
    ------
    OutOfRange
        Where either does not hold.

    Notes
    -----
    Where the other's resistance is past an end of the one, the one goes on along its end's slope:
    the figure then says how far off a board would be at least, not what it would show.
    """
    one_ohm, other_ohm = float(curve.r_ohm(t_c)), float(other.r_ohm(t_c))
    by_k = float(curve.beyond_c(other_ohm)) - t_c
    return Apart(at_c=t_c, one_ohm=one_ohm, other_ohm=other_ohm, by_k=by_k)


def shared_places_c(curve: Curve, *, other: Curve, count: int) -> NDArray[np.float64] | None:
    """Return `count` temperatures in °C, evenly over those both hold for, the ends among them.

    None where they share none.
    """
    low_c, high_c = max(curve.low_c, other.low_c), min(curve.high_c, other.high_c)
    return np.linspace(low_c, high_c, count) if low_c < high_c else None


def most_apart(curve: Curve, *, other: Curve) -> Apart | None:
    """Return where the curves differ most in K, or None where they share no temperature."""
    t_c = shared_places_c(curve, other=other, count=PLACES)
    if t_c is None:
        return None
    size_k = np.abs(np.asarray(curve.beyond_c(other.r_ohm(t_c))) - t_c)
    at = int(np.argmax(size_k >= size_k.max() - ALIKE_K))
    return apart(curve, other=other, t_c=float(t_c[at]))
