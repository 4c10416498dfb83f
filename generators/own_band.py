"""How far a curve itself may be off, as a band on its chart: where it is wide enough to be seen."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kb.numbers.characteristic import Characteristic

CHART_POINTS = 121
SEEN_SHARE = 0.05
"""Beside the part's tolerance less than so much of the picture's height is not seen."""
LEAST_K = 0.05
"""Less is drawn nowhere: no meter of a van tells it."""
SEEN_BESIDE_LINE_K = 1.0
"""Beside the line of resistance less is not wider than the line."""


@dataclass(frozen=True, kw_only=True)
class OwnBand:
    """The band: ± K, and lowest and highest Ω, empty where that is not wider than the line.

    All of one shape, that of the temperatures asked for.
    """

    own_k: np.ndarray
    low_ohm: np.ndarray
    high_ohm: np.ndarray


def chart_places_c(characteristic: Characteristic) -> np.ndarray:
    """Return the temperatures in °C that a chart is drawn through."""
    return np.linspace(characteristic.low_c, characteristic.high_c, CHART_POINTS)


def own_band(characteristic: Characteristic, *, t_c: np.ndarray) -> OwnBand | None:
    """Return the band of a curve's own width at `t_c`; None where it could not be seen."""
    own_k = np.asarray(characteristic.law_k(t_c))
    widest_k = float(own_k.max())
    if widest_k < max(LEAST_K, SEEN_SHARE * float(np.max(characteristic.tol_k(t_c)))):
        return None
    none = np.empty(0)
    if widest_k < SEEN_BESIDE_LINE_K:
        return OwnBand(own_k=own_k, low_ohm=none, high_ohm=none)
    ends_ohm = [characteristic.beyond_ohm(t_c + own_k), characteristic.beyond_ohm(t_c - own_k)]
    return OwnBand(own_k=own_k, low_ohm=np.minimum(*ends_ohm), high_ohm=np.maximum(*ends_ohm))
