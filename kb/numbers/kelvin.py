"""Absolute temperature: what the laws count in, behind the degrees Celsius of the gauge."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

ZERO_C_K = 273.15
"""0 °C in kelvin, exact (ITS-90)."""


def kelvin(t_c: ArrayLike) -> np.ndarray:
    """Return kelvin, any shape, of degrees Celsius."""
    return np.asarray(t_c, dtype=float) + ZERO_C_K
