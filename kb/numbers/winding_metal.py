"""Copper, aluminium, heating wire: a winding's resistance at another temperature."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .law import Quantity
from .out_of_range import as_given, within
from .rounding import format_plain

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

CONSTANTS = {
    234.5: "copper, as IEC 60335-1, IEEE 112 and EN 61558-1 count it",
    235.0: "copper, as IEC 60034-1 counts it",
    225.0: "aluminium, as IEC 60034-1 counts it",
    9980.0: "nickel-chromium heating wire, about 0.01 % per kelvin (from memory)",
}
"""Constant k in °C → which metal and whose: state it beside every result. k = 1/α − 20."""

OF_METAL = {"copper": 234.5, "aluminium": 225.0, "heating wire": 9980.0}
"""The word in the notes → the constant that is used for it."""


@dataclass(frozen=True, kw_only=True)
class WindingMetal:
    """Winding resistance by R = r_ref (k + t)/(k + at_c).

    Parameters
    ----------
    r_ref : float
        Ω at `at_c`.
    at_c : float
        °C.
    constant : float
        k: 234.5 or 235 for copper, 225 for aluminium.

    Source: clause attributions of the constants are from memory.
    """

    r_ref: float
    at_c: float = 20.0
    constant: float = 234.5

    domain_c = (-60.0, 250.0)
    falling = False

    def __post_init__(self) -> None:
        _known(self.constant)
        if not self.r_ref > 0:
            raise ValueError(f"r_ref {format_plain(self.r_ref)} Ω must be above zero")

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in Ω at `t_c`; OutOfRange outside −60 to 250 °C."""
        return as_given(self._per_k * (self.constant + _inside(t_c)), given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which the winding reads `r_ohm`."""
        low, high = (self._per_k * (self.constant + t_c) for t_c in self.domain_c)
        inside_ohm = within(r_ohm, low=low, high=high, unit="Ω", what="the winding")
        return as_given(inside_ohm / self._per_k - self.constant, given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K: constant."""
        return as_given(np.full(np.shape(t_c), self._per_k) + 0 * _inside(t_c), given=t_c)

    @property
    def _per_k(self) -> float:
        return self.r_ref / (self.constant + self.at_c)


def corrected_to(r_ohm: Quantity, *, from_c: float, to_c: float, constant: float) -> Quantity:
    """Return the winding's Ω at `to_c` from Ω read at `from_c`.

    Raises
    ------
    ValueError
        If the constant is not one of CONSTANTS.
    """
    k = _known(constant)
    return as_given(np.asarray(r_ohm, float) * (k + to_c) / (k + from_c), given=r_ohm)


def _known(constant: float) -> float:
    if constant not in CONSTANTS:
        raise ValueError(
            f"{format_plain(constant)} is no winding constant; use 234.5 or 235 for copper, "
            "225 for aluminium, 9980 for heating wire"
        )
    return constant


def _inside(t_c: ArrayLike) -> np.ndarray:
    low_c, high_c = WindingMetal.domain_c
    return within(t_c, low=low_c, high=high_c, unit="°C", what="the winding")
