"""NTC sensor by its B value: two numbers off the part, right near the two points they came from."""

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

BENDS_PER_K = 7e-4
"""By so much of itself a part's B value grows at most for each kelvin of its pair's sum.

Source: the most that seven published tables need at −40 to 100 °C (`ntc_one_b_value_error`).
"""
USUAL_PAIRS_C = ((25.0, 50.0), (25.0, 85.0), (25.0, 100.0))
"""What data sheets take a B value between, where a label says nothing."""


@dataclass(frozen=True, kw_only=True)
class NtcBeta:
    """NTC thermistor by resistance at one temperature and B value.

    Parameters
    ----------
    r_ref : float
        Ω at `at_c`.
    b_k : float
        B value in kelvin. Which pair of temperatures it came from decides where it is right.
    at_c : float
        Reference temperature in °C.
    pairs_c : tuple of pairs of floats
        The temperatures in °C that the B value was taken between; several where nobody knows which.
        Empty for a law that is right as it is.

    Notes
    -----
    R = r_ref exp(B (1/T − 1/T_ref)), T in kelvin. One B value alone reads 2 to 4 K warm at −40 °C
    against makers' own tables: prefer a table.

    Source: IEC 60539-1, definition of the B value (from memory).
    """

    r_ref: float
    b_k: float
    at_c: float = 25.0
    pairs_c: tuple[tuple[float, float], ...] = ()

    domain_c = (-100.0, 400.0)
    falling = True

    def __post_init__(self) -> None:
        if not (self.r_ref > 0 and self.b_k > 0):
            raise ValueError(
                f"r_ref {format_plain(self.r_ref)} Ω and b_k {format_plain(self.b_k)} K must both "
                "be above zero"
            )

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in Ω at `t_c`; OutOfRange outside −100 to 400 °C."""
        t_k = kelvin(self._inside(t_c))
        return as_given(
            self.r_ref * np.exp(self.b_k * (1 / t_k - 1 / kelvin(self.at_c))), given=t_c
        )

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which it reads `r_ohm`, in closed form."""
        low_c, high_c = self.domain_c
        inside_ohm = within(
            r_ohm, low=self.r_ohm(high_c), high=self.r_ohm(low_c), unit="Ω", what="B"
        )
        per_k = 1 / kelvin(self.at_c) + np.log(inside_ohm / self.r_ref) / self.b_k
        return as_given(1 / per_k - ZERO_C_K, given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K: −B R/T²."""
        t_k = kelvin(self._inside(t_c))
        r_ohm = self.r_ref * np.exp(self.b_k * (1 / t_k - 1 / kelvin(self.at_c)))
        return as_given(-self.b_k * r_ohm / t_k**2, given=t_c)

    def half_k(self, t_c: Quantity) -> Quantity:
        """How far the law may be off a part with this label at `t_c`, in ± K.

        Notes
        -----
        A part's B value between a and b grows with a + b, in shares of itself s per kelvin. Then
        ln R is off by B s (T + T_ref − T₁ − T₂)(1/T − 1/T_ref), and in kelvin, over B/T², by
        s |T + T_ref − T₁ − T₂| |T − T_ref| T/T_ref: nothing at T_ref, and nothing at the other end
        of a pair that begins there. Of several pairs the worst counts.
        """
        asked_c = self._inside(t_c)
        if not self.pairs_c:
            return as_given(np.zeros_like(asked_c), given=t_c)
        apart_k = np.max(
            [np.abs(asked_c + self.at_c - sum(pair_c)) for pair_c in self.pairs_c], axis=0
        )
        warmth = kelvin(asked_c) / kelvin(self.at_c)
        return as_given(BENDS_PER_K * apart_k * np.abs(asked_c - self.at_c) * warmth, given=t_c)

    def _inside(self, t_c: ArrayLike) -> np.ndarray:
        low_c, high_c = self.domain_c
        return within(t_c, low=low_c, high=high_c, unit="°C", what="the B value law")


def b_value_k(*, r1_ohm: float, t1_c: float, r2_ohm: float, t2_c: float) -> float:
    """Return the B value in kelvin between two points.

    Notes
    -----
    B = ln(R1/R2)/(1/T1 − 1/T2). Never compare two B values without their pairs of temperatures.

    Raises
    ------
    ValueError
        If both temperatures are the same.

    Source: IEC 60539-1, definition of the B value (from memory).
    """
    if t1_c == t2_c:
        raise ValueError(
            f"both points are at {format_plain(t1_c)} °C; a B value needs two temperatures"
        )
    return float(np.log(r1_ohm / r2_ohm) / (1 / kelvin(t1_c) - 1 / kelvin(t2_c)))
