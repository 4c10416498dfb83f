"""Which of the team's meters can judge a sensor: ± kelvin over its range, and where not at all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .characteristic import Characteristic
from .grid import Grid
from .meter import Meter

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True, kw_only=True, eq=False)
class MeterReach:
    """One meter on one curve; arrays of shape (n,).

    Parameters
    ----------
    t_c : ndarray
        Temperatures in °C.
    half_k : ndarray
        The meter's half-width in K; infinity where it is over range.
    over_range : ndarray of bool
        True where a good part may exceed the meter's span.
    too_coarse : ndarray of bool
        True where the meter alone leaves U above the limit: it can never say "within".
    """

    t_c: np.ndarray
    half_k: np.ndarray
    over_range: np.ndarray
    too_coarse: np.ndarray

    @property
    def can_judge(self) -> np.ndarray:
        """True where the meter can judge, shape (n,)."""
        return ~(self.over_range | self.too_coarse)


def meter_reach(
    meter: Meter, *, curve: Characteristic | Grid, t_c: ArrayLike, allow_k: float = 0.0
) -> MeterReach:
    """Return how well a meter reads a curve at temperatures `t_c`, shape (n,).

    Raises
    ------
    OutOfRange
        If a temperature is outside the curve's range.

    Notes
    -----
    U = 2 a/√3 against the larger of tolerance and allowance; where neither is known nothing is
    called too coarse.
    """
    t_c = np.atleast_1d(np.asarray(t_c, dtype=float))
    r_ohm = np.asarray(curve.r_ohm(t_c)) + meter.leads_ohm
    over_range = np.asarray(curve.high_ohm(t_c)) + meter.leads_ohm > meter.span_ohm
    half_k = np.asarray(meter.half_width_ohm(r_ohm)) / np.abs(curve.slope_ohm_per_k(t_c))
    limit_k = np.maximum(curve.tol_k(t_c), allow_k)
    too_coarse = (limit_k > 0) & (2 * half_k / np.sqrt(3) > limit_k)
    return MeterReach(t_c=t_c, half_k=half_k, over_range=over_range, too_coarse=too_coarse)
