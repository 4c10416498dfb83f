"""One sensor of a machine at rest: is it broken by itself, and which temperature does it show?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from .characteristic import Characteristic
from .grid import Grid
from .verdict import short_below_ohm

SPREAD_HALF_K = 1.0
"""How far two spots of one place may differ in K. Common practice, no source."""

FEWEST = 3
"""With fewer sensors on their curves and no thermometer nobody can say who is right."""


@dataclass(frozen=True, kw_only=True)
class Resting:
    """One sensor's reading.

    Parameters
    ----------
    curve : Characteristic or Grid
    r_ohm : float
        Ω; infinity for over range.
    meter_half_ohm : float
        Half-width of the reading in Ω.
    allow_k : float
        What the sensor's job allows it to be off, in K.
    meter_span_ohm : float
        The highest resistance that the meter can show in Ω.
    """

    curve: Characteristic | Grid
    r_ohm: float
    meter_half_ohm: float = 0.0
    allow_k: float = 0.0
    meter_span_ohm: float = math.inf

    def with_reading_of(self, other: Resting) -> Resting:
        """Return the same sensor, had its plug been the other's."""
        return replace(
            self,
            r_ohm=other.r_ohm,
            meter_half_ohm=other.meter_half_ohm,
            meter_span_ohm=other.meter_span_ohm,
        )


@dataclass(frozen=True, kw_only=True)
class RestingPlace:
    """The sensors of one place, that share its temperature.

    Parameters
    ----------
    readings : mapping of sensor to Resting
    t_c : float or None
        A thermometer's reading there in °C.
    thermometer_half_k, spread_half_k : float
        Half-widths in K: of that reading, and of the spots of the place.
    """

    readings: Mapping[str, Resting]
    t_c: float | None = None
    thermometer_half_k: float = 0.0
    spread_half_k: float = SPREAD_HALF_K


@dataclass(frozen=True, kw_only=True)
class Shown:
    """What one reading shows of the temperature at its sensor.

    Parameters
    ----------
    t_implied_c, limit_k : float
        In °C; the larger of the part's tolerance and what the machine tolerates, in K.
    limit_known : bool
        False where nobody knows either.
    own_u_k : float
        Standard uncertainty in K of its spot, its reading and its curve.
    sound_u_k : float
        The same with what a sound part may be off: how well it tells the temperature of its place.
    """

    t_implied_c: float
    limit_k: float
    limit_known: bool
    own_u_k: float
    sound_u_k: float


def broken_state(reading: Resting, *, short_ohm: float | None = None) -> str:
    """Return "open", "short", "undecided" or "off-curve", or "" where it shows a temperature.

    Over range is open, unless a good part could be beyond the meter somewhere on its curve: then it
    is undecided. Below `short_ohm` it is a short, as for a verdict.
    """
    low_ohm, high_ohm = reading.curve.range_ohm
    if np.isinf(reading.r_ohm):
        return "open" if high_ohm < reading.meter_span_ohm else "undecided"
    if reading.r_ohm == 0 or reading.r_ohm < short_below_ohm(reading.curve, at_most_ohm=short_ohm):
        return "short"
    return "" if low_ohm <= reading.r_ohm <= high_ohm else "off-curve"


def shown(reading: Resting, *, spread_half_k: float) -> Shown:
    """Return what a reading on its curve shows.

    Notes
    -----
    Spot, meter and curve are rectangles, and so is what a sound part may be off: its tolerance, or
    where nobody knows that, what the machine tolerates (JCGM 100:2008, 4.3.7).
    """
    curve = reading.curve
    t_implied_c = float(curve.t_c(reading.r_ohm))
    meter_half_k = reading.meter_half_ohm / abs(float(curve.slope_ohm_per_k(t_implied_c)))
    own_half_k = float(np.hypot(np.hypot(meter_half_k, spread_half_k), curve.law_k(t_implied_c)))
    tol_k = float(curve.tol_k(t_implied_c))
    part_half_k = tol_k if curve.tolerance_known else reading.allow_k
    return Shown(
        t_implied_c=t_implied_c,
        limit_k=max(tol_k, reading.allow_k),
        limit_known=curve.tolerance_known or reading.allow_k > 0,
        own_u_k=own_half_k / np.sqrt(3),
        sound_u_k=float(np.hypot(own_half_k, part_half_k)) / np.sqrt(3),
    )
