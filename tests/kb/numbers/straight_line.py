"""A curve whose arithmetic is exact in binary, so that a test can stand on a limit itself."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kb.numbers.characteristic import Characteristic
from kb.numbers.error_bound import COVERAGE
from kb.numbers.out_of_range import as_given
from kb.numbers.tolerance import KelvinTolerance, NoTolerance

HALF_OF_U_2 = 3**0.5
"""A rectangular half-width whose expanded uncertainty is 2 to the last binary digit."""
HALF_COVERING_2 = 2 / COVERAGE
"""A half-width that alone leaves U = 2 in a verdict."""


@dataclass(frozen=True, kw_only=True)
class StraightLine:
    """R = 1000 Ω + 8 Ω/K t."""

    domain_c = (-1000.0, 1000.0)
    falling = False

    def r_ohm(self, t_c):
        return as_given(1000 + 8 * np.asarray(t_c, dtype=float), given=t_c)

    def t_c(self, r_ohm):
        return as_given((np.asarray(r_ohm, dtype=float) - 1000) / 8, given=r_ohm)

    def slope_ohm_per_k(self, t_c):
        return as_given(np.full(np.shape(t_c), 8.0), given=t_c)


def line(tol_k: float | None = 1.0, *, low_c: float = 0.0, high_c: float = 128.0, id: str = ""):
    """Return the straight line over a range, with its tolerance in kelvin if it has one."""
    tolerance = NoTolerance() if tol_k is None else KelvinTolerance(kelvin=tol_k)
    return Characteristic(
        law=StraightLine(), tolerance=tolerance, low_c=low_c, high_c=high_c, id=id
    )
