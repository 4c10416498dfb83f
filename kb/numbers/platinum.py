"""Platinum sensor: Pt100, Pt500, Pt1000 on both sides of 0 °C."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .law import Quantity
from .out_of_range import as_given, within
from .rounding import format_plain

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

A_PER_K = 3.9083e-3
B_PER_K2 = -5.775e-7
C_PER_K4 = -4.183e-12


@dataclass(frozen=True, kw_only=True)
class Platinum:
    """Platinum resistor to IEC 60751 (3851 ppm/K).

    Parameters
    ----------
    r0 : float
        Ω at 0 °C: 100, 500, 1000.

    Notes
    -----
    R = r0 (1 + A t + B t² + C (t − 100) t³ below 0 °C), −200 to 850 °C. The temperature is exact
    above 0 °C by the quadratic; below, Newton's method on the quartic, settled to 1e-11 K.

    Source: IEC 60751:2022, clause 4.2 (coefficients read through third parties).
    """

    r0: float = 100.0

    domain_c = (-200.0, 850.0)
    falling = False

    def __post_init__(self) -> None:
        if not self.r0 > 0:
            raise ValueError(f"r0 {format_plain(self.r0)} Ω must be above zero")

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in Ω at `t_c`; OutOfRange outside −200 to 850 °C."""
        return as_given(self.r0 * _ratio(_inside(t_c)), given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which it reads `r_ohm`."""
        low_c, high_c = self.domain_c
        low, high = self.r0 * _ratio(np.array([low_c, high_c]))
        ratio = within(r_ohm, low=low, high=high, unit="Ω", what="platinum") / self.r0
        # Written this way round nothing cancels near 0 °C.
        root = np.sqrt(A_PER_K**2 - 4 * B_PER_K2 * (1 - ratio))
        t_c = np.atleast_1d(2 * (ratio - 1) / (A_PER_K + root))
        cold = t_c < 0
        if np.any(cold):
            t_c[cold] = _below_zero(np.atleast_1d(ratio)[cold], guess_c=t_c[cold])
        return as_given(t_c.reshape(np.shape(r_ohm)), given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K at `t_c`."""
        return as_given(self.r0 * _ratio_slope(_inside(t_c)), given=t_c)


def _inside(t_c: ArrayLike) -> np.ndarray:
    low_c, high_c = Platinum.domain_c
    return within(t_c, low=low_c, high=high_c, unit="°C", what="platinum")


def _ratio(t_c: np.ndarray) -> np.ndarray:
    cold_c = np.minimum(t_c, 0.0)
    return 1 + t_c * (A_PER_K + B_PER_K2 * t_c) + C_PER_K4 * (cold_c - 100) * cold_c**3


def _ratio_slope(t_c: np.ndarray) -> np.ndarray:
    cold_c = np.minimum(t_c, 0.0)
    return A_PER_K + 2 * B_PER_K2 * t_c + C_PER_K4 * cold_c**2 * (4 * cold_c - 300)


def _below_zero(ratio: np.ndarray, *, guess_c: np.ndarray) -> np.ndarray:
    # The quadratic's answer is at most 2.5 K off at -200 °C: three steps settle, eight are plenty.
    t_c = guess_c
    for _ in range(8):
        step_k = (_ratio(t_c) - ratio) / _ratio_slope(t_c)
        t_c = t_c - step_k
        if np.all(np.abs(step_k) < 1e-11):
            break
    return t_c
