"""Nickel sensor: the two Ni1000 characteristics that get mistaken for each other."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from .inverse import first_guess, invert
from .law import Quantity
from .out_of_range import as_given, within
from .rounding import format_plain

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

RATIO_6180 = (1.0, 5.485e-3, 6.65e-6, 0.0, 2.805e-11, 0.0, -2.0e-17)
"""R/R0 by powers of t, former DIN 43760 (IST AG Nickel ND application note; ABB 2013)."""

RATIO_5000 = (1.0, 4.427e-3, 5.172e-6, 5.585e-9)
"""R/R0 by powers of t, 5000 ppm/K (IST AG Nickel NL application note)."""


@dataclass(frozen=True, kw_only=True)
class Nickel:
    """Nickel resistor by its polynomial, −60 to 250 °C.

    Parameters
    ----------
    r0 : float
        Ω at 0 °C.
    ppm_per_k : int
        6180 or 5000: the mean coefficient from 0 to 100 °C. At 100 °C they differ by 118 Ω of
        1000, which is some 20 K.

    Source: IST AG application notes for Nickel ND (6180 ppm/K) and Nickel NL (5000 ppm/K).
    """

    r0: float = 1000.0
    ppm_per_k: int

    domain_c = (-60.0, 250.0)
    falling = False

    def __post_init__(self) -> None:
        if self.ppm_per_k not in (6180, 5000):
            raise ValueError(f"nickel of {self.ppm_per_k} ppm/K is not known; use 6180 or 5000")
        if not self.r0 > 0:
            raise ValueError(f"r0 {format_plain(self.r0)} Ω must be above zero")

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in Ω at `t_c`; OutOfRange outside −60 to 250 °C."""
        return as_given(self._r(_inside(t_c)), given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which it reads `r_ohm`, to 1e-11 K by Newton's method."""
        low, high = self._r(np.array(self.domain_c))
        inside_ohm = within(r_ohm, low=low, high=high, unit="Ω", what="nickel")
        found_c = invert(inside_ohm, r_ohm=self._r, slope_ohm_per_k=self._slope, guess=self._guess)
        return as_given(found_c, given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K at `t_c`."""
        return as_given(self._slope(_inside(t_c)), given=t_c)

    @cached_property
    def _ratio(self) -> np.ndarray:
        return np.array(RATIO_6180 if self.ppm_per_k == 6180 else RATIO_5000)

    @cached_property
    def _guess(self) -> tuple[np.ndarray, np.ndarray]:
        low_c, high_c = self.domain_c
        return first_guess(self._r, low_c=low_c, high_c=high_c)

    def _r(self, t_c: np.ndarray) -> np.ndarray:
        return self.r0 * np.polynomial.polynomial.polyval(t_c, self._ratio)

    def _slope(self, t_c: np.ndarray) -> np.ndarray:
        return self.r0 * np.polynomial.polynomial.polyval(
            t_c, np.polynomial.polynomial.polyder(self._ratio)
        )


def _inside(t_c: ArrayLike) -> np.ndarray:
    low_c, high_c = Nickel.domain_c
    return within(t_c, low=low_c, high=high_c, unit="°C", what="nickel")
