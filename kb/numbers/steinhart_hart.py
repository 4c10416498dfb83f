"""NTC sensor by the three Steinhart–Hart coefficients."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .kelvin import ZERO_C_K, kelvin
from .law import Quantity
from .out_of_range import as_given, within
from .rounding import format_plain

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True, kw_only=True)
class SteinhartHart:
    """NTC thermistor by 1/T = a + b ln R + c (ln R)³, R in Ω and T in kelvin.

    Parameters
    ----------
    a, b, c : float
        Coefficients in 1/K. b is above zero and c not below it, so that R falls everywhere.

    Notes
    -----
    R from T by Cardano's formula, then one Newton step, since two cube roots nearly cancel.

    Source: Steinhart and Hart, Deep-Sea Research 15 (1968) 497 (from memory).
    """

    a: float
    b: float
    c: float

    domain_c = (-100.0, 400.0)
    falling = True

    def __post_init__(self) -> None:
        if not (self.b > 0 and self.c >= 0):
            raise ValueError(
                f"b {format_plain(self.b)} must be above zero and c {format_plain(self.c)} not "
                "below it, or the curve "
                "turns back; check the signs, or use a table of points"
            )

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in Ω at `t_c`; OutOfRange outside −100 to 400 °C."""
        return as_given(np.exp(self._ln_r(t_c)), given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which it reads `r_ohm`."""
        low_c, high_c = self.domain_c
        inside_ohm = within(
            r_ohm, low=self.r_ohm(high_c), high=self.r_ohm(low_c), unit="Ω", what="Steinhart–Hart"
        )
        ln_r = np.log(inside_ohm)
        return as_given(1 / (self.a + ln_r * (self.b + self.c * ln_r**2)) - ZERO_C_K, given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K: −R/(T² (b + 3c ln²R))."""
        ln_r = self._ln_r(t_c)
        return as_given(
            -np.exp(ln_r) / (kelvin(t_c) ** 2 * (self.b + 3 * self.c * ln_r**2)), given=t_c
        )

    def _ln_r(self, t_c: ArrayLike) -> np.ndarray:
        low_c, high_c = self.domain_c
        t_k = kelvin(within(t_c, low=low_c, high=high_c, unit="°C", what="Steinhart–Hart"))
        if self.c == 0:
            return (1 / t_k - self.a) / self.b
        half = (self.a - 1 / t_k) / (2 * self.c)
        root = np.sqrt((self.b / (3 * self.c)) ** 3 + half**2)
        ln_r = np.cbrt(root - half) - np.cbrt(root + half)
        off = self.a + ln_r * (self.b + self.c * ln_r**2) - 1 / t_k
        return ln_r - off / (self.b + 3 * self.c * ln_r**2)
