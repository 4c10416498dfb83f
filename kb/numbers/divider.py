"""Volts to expect at the plug, and what a sensor reads while still plugged into its board."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from .law import Number


def volts_at_plug(
    r_ohm: ArrayLike, *, supply_v: float, pull_up_ohm: float, voltmeter_ohm: float = np.inf
) -> Number:
    """Return direct volts across the sensor fed through the board's pull-up.

    Parameters
    ----------
    r_ohm : array_like, any shape, Ω
        The sensor; infinity for a plug pulled off.
    voltmeter_ohm : float
        The voltmeter's own resistance in Ω, in parallel with the sensor.
    """
    seen = np.asarray(parallel_ohm(r_ohm, other_ohm=voltmeter_ohm))
    share = np.where(np.isinf(seen), 1.0, seen / (np.where(np.isinf(seen), 0, seen) + pull_up_ohm))
    return _plain(supply_v * share)


def parallel_ohm(r_ohm: ArrayLike, *, other_ohm: float) -> Number:
    """Return Ω of two in parallel; infinity is nothing connected."""
    asked = np.asarray(r_ohm, dtype=float)
    with np.errstate(divide="ignore"):
        return _plain(1 / (1 / asked + 1 / np.float64(other_ohm)))


def sensor_from_parallel_ohm(read_ohm: float, *, pull_up_ohm: float) -> float | None:
    """Return the sensor's Ω had the reading been taken with the pull-up in parallel, or None.

    A reading of the pull-up or more cannot have had it in parallel.
    """
    if not 0 < read_ohm < pull_up_ohm:
        return None
    return read_ohm * pull_up_ohm / (pull_up_ohm - read_ohm)


def _plain(result: np.ndarray) -> Number:
    return float(result) if np.ndim(result) == 0 else result
