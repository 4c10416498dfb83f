"""Volts to expect at the plug, and what a sensor reads while still plugged into its board."""

from __future__ import annotations

import math

import numpy as np

from .law import Quantity
from .out_of_range import as_given


def volts_at_plug(
    r_ohm: Quantity, *, supply_v: float, pull_up_ohm: float, voltmeter_ohm: float = math.inf
) -> Quantity:
    """Return direct volts across the sensor fed through the board's pull-up.

    Parameters
    ----------
    r_ohm : array_like, any shape, Ω
        The sensor; infinity for a plug pulled off.
    voltmeter_ohm : float
        The voltmeter's own resistance in Ω, in parallel with the sensor.
    """
    seen_ohm = np.asarray(parallel_ohm(r_ohm, other_ohm=voltmeter_ohm))
    apart = np.isinf(seen_ohm)
    share = np.where(apart, 1.0, seen_ohm / (np.where(apart, 0, seen_ohm) + pull_up_ohm))
    return as_given(supply_v * share, given=r_ohm)


def parallel_ohm(r_ohm: Quantity, *, other_ohm: float) -> Quantity:
    """Return Ω of two in parallel; infinity is nothing connected."""
    asked_ohm = np.asarray(r_ohm, dtype=float)
    with np.errstate(divide="ignore"):
        return as_given(1 / (1 / asked_ohm + 1 / np.float64(other_ohm)), given=r_ohm)


def sensor_from_parallel_ohm(read_ohm: float, *, pull_up_ohm: float) -> float | None:
    """Return the sensor's Ω had the reading been taken with the pull-up in parallel, or None.

    A reading of the pull-up or more cannot have had it in parallel.
    """
    if not 0 < read_ohm < pull_up_ohm:
        return None
    return read_ohm * pull_up_ohm / (pull_up_ohm - read_ohm)
