"""NTC sensor by the maker's four coefficients in 1/T."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from .inverse import first_guess, invert
from .kelvin import ZERO_C_K, kelvin
from .law import Quantity
from .out_of_range import as_given, within
from .rounding import format_plain

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True, kw_only=True)
class NtcPolynomial:
    """NTC thermistor by R = r_ref exp(A + B/T + C/T² + D/T³), T in kelvin.

    Parameters
    ----------
    r_ref : float
        The factor in Ω before exp, in the maker's formula the resistance at 25 °C.
    a, b, c, d : float
        A (1), B (K), C (K²), D (K³).

    Notes
    -----
    Rounded coefficients may miss r_ref at 25 °C by a few parts in 100 000; what the formula gives
    stands. The domain is the stretch around 25 °C, within −100 to 400 °C, over which R falls.

    Source: Vishay BCcomponents data sheet 29049 prints both this form and its inverse.
    """

    r_ref: float
    a: float
    b: float
    c: float
    d: float

    falling = True

    def __post_init__(self) -> None:
        if not self.r_ref > 0:
            raise ValueError(f"r_ref {format_plain(self.r_ref)} Ω must be above zero")
        if not self._slope(np.array(25.0)) < 0:
            raise ValueError("these coefficients rise at 25 °C; an NTC falls: check the signs")

    @cached_property
    def domain_c(self) -> tuple[float, float]:
        """The stretch around 25 °C over which resistance falls."""
        t_c = np.arange(-100.0, 400.25, 0.5)
        rising = np.flatnonzero(self._slope(t_c) >= 0)
        at = int(np.searchsorted(t_c, 25.0))
        below, above = rising[rising < at], rising[rising > at]
        low = below[-1] + 1 if below.size else 0
        high = above[0] - 1 if above.size else len(t_c) - 1
        return float(t_c[low]), float(t_c[high])

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in Ω at `t_c`; OutOfRange outside `domain_c`."""
        return as_given(self._r(self._inside(t_c)), given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which it reads `r_ohm`, to 1e-11 K by Newton's method.

        The maker's second set of coefficients, for this direction, agrees only to some 0.01 K.
        """
        low_c, high_c = self.domain_c
        inside_ohm = within(
            r_ohm,
            low=float(self._r(np.array(high_c))),
            high=float(self._r(np.array(low_c))),
            unit="Ω",
            what="the polynomial",
        )
        found_c = invert(inside_ohm, r_ohm=self._r, slope_ohm_per_k=self._slope, guess=self._guess)
        return as_given(found_c, given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K at `t_c`."""
        return as_given(self._slope(self._inside(t_c)), given=t_c)

    @cached_property
    def _guess(self) -> tuple[np.ndarray, np.ndarray]:
        low_c, high_c = self.domain_c
        return first_guess(self._r, low_c=low_c, high_c=high_c)

    def _inside(self, t_c: ArrayLike) -> np.ndarray:
        low_c, high_c = self.domain_c
        return within(t_c, low=low_c, high=high_c, unit="°C", what="the polynomial")

    def _r(self, t_c: np.ndarray) -> np.ndarray:
        x = 1 / kelvin(t_c)
        return self.r_ref * np.exp(self.a + x * (self.b + x * (self.c + x * self.d)))

    def _slope(self, t_c: np.ndarray) -> np.ndarray:
        x = 1 / (t_c + ZERO_C_K)
        return -self._r(t_c) * x**2 * (self.b + x * (2 * self.c + x * 3 * self.d))
