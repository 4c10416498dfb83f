"""How many digits of ohms tell what a kelvin needs on a curve: terminal, page and table alike."""

from __future__ import annotations

import numpy as np

from .characteristic import Characteristic
from .grid import Grid
from .rounding import digits_for
from .same import once_each

_PARTS = 4


def ohm_digits(curve: Characteristic | Grid) -> int:
    """Return how many significant digits of ohms keep half a step below 0.05 K, 3 to 6.

    Alike over the whole curve: what tells enough in the flattest of four parts of its range.
    """
    return _digits_of(curve)


def _computed(curve: Characteristic | Grid) -> int:
    at_c = np.linspace(curve.low_c, curve.high_c, _PARTS + 1)
    steps = np.abs(np.diff(np.log(np.asarray(curve.r_ohm(at_c)))))
    return digits_for(float(steps.min()) * _PARTS / (curve.high_c - curve.low_c))


_digits_of = once_each(_computed, most=512)
