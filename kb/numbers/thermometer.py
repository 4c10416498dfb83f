"""A thermometer's accuracy: how far the temperature beside a reading may be off."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .law import Quantity
from .out_of_range import as_given, within


@dataclass(frozen=True, kw_only=True)
class Thermometer:
    """A thermometer to ± (accuracy + percent of reading in °C), and half its last digit.

    Parameters
    ----------
    accuracy_k : float
        ± K.
    percent : float
        ± per cent of the reading in °C, on top.
    resolution_k : float
        One digit in K; half of it is added, since the display rounds.
    low_c, high_c : float
        Its range in °C.
    """

    accuracy_k: float
    percent: float = 0.0
    resolution_k: float = 0.0
    low_c: float = -50.0
    high_c: float = 300.0
    id: str = ""

    def half_width_k(self, t_c: Quantity) -> Quantity:
        """Half-width in K of a reading of `t_c`; OutOfRange outside its range."""
        inside_c = within(
            t_c, low=self.low_c, high=self.high_c, unit="°C", what=self.id or "this thermometer"
        )
        half_k = self.accuracy_k + np.abs(inside_c) * self.percent / 100 + self.resolution_k / 2
        return as_given(half_k, given=t_c)
