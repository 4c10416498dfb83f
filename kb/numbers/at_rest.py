"""A machine at rest: do all its sensors agree, with or without a thermometer?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .characteristic import Characteristic
from .grid import Grid
from .verdict import expanded_k, short_below_ohm

SPREAD_HALF_K = 1.0
"""How far two places of a machine at rest may differ in K. Common practice, no source."""

FEWEST = 3
"""With fewer sensors on their curves and no thermometer nobody can be said to stand out."""


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
    meter_span_ohm: float = np.inf


@dataclass(frozen=True, kw_only=True)
class Standing:
    """How one sensor stands among the others.

    Parameters
    ----------
    state : str
        "agrees", "stands-out", "undecided", "open", "short" or "off-curve".
    t_implied_c, off_k, limit_k, uncertainty_k : float or None
        Its temperature in °C, how far that is from the centre, its limit and U, in K.
    """

    state: str
    t_implied_c: float | None = None
    off_k: float | None = None
    limit_k: float | None = None
    uncertainty_k: float | None = None


@dataclass(frozen=True, kw_only=True)
class AtRest:
    """All sensors of a machine at rest.

    Parameters
    ----------
    centre_c : float or None
        The temperature they are held against: the thermometer's, or the median of the sensors.
    by_thermometer : bool
    standing : dict of sensor to Standing
    """

    centre_c: float | None
    by_thermometer: bool
    standing: dict[str, Standing]


def at_rest(
    readings: Mapping[str, Resting],
    *,
    t_c: float | None = None,
    thermometer_half_k: float = 0.0,
    spread_half_k: float = SPREAD_HALF_K,
    short_ohm: float | None = None,
) -> AtRest:
    """Return who agrees and who stands out.

    Parameters
    ----------
    readings : mapping of sensor to Resting
    t_c : float, optional
        A thermometer's reading in °C; without it the median of the implied temperatures is taken,
        which up to half of the sensors cannot move far.
    thermometer_half_k, spread_half_k : float
        Half-widths in K, of the thermometer and of the places of a resting machine.
    short_ohm : float, optional
        Below this a reading is a short, as for a verdict.

    Notes
    -----
    Beyond limit and uncertainty together a sensor stands out; up to the larger of the two it
    agrees, which says only that nothing speaks against it; in between it is undecided. Over range
    is open, unless a good part could be beyond the meter somewhere on its curve: then undecided.
    """
    standing = {
        name: _unreadable(reading, short_ohm=short_ohm) for name, reading in readings.items()
    }
    sensors = {
        name: _implied(readings[name], spread_half_k=spread_half_k)
        for name, broken in standing.items()
        if broken is None
    }
    centre = _centre(sensors, t_c=t_c, thermometer_half_k=thermometer_half_k)
    few = t_c is None and len(sensors) < FEWEST
    return AtRest(
        centre_c=t_c if centre is None else centre.t_c,
        by_thermometer=t_c is not None,
        standing={
            name: broken or _standing(sensors[name], centre=centre, few=few)
            for name, broken in standing.items()
        },
    )


@dataclass(frozen=True, kw_only=True)
class _Implied:
    """What one sensor says of the temperature.

    `own_u_k` is the standard uncertainty in K of its place and reading. Where nobody knows how far
    the part may be off (`limit_known`), nothing speaks for or against it.
    """

    t_implied_c: float
    limit_k: float
    limit_known: bool
    own_u_k: float


def _implied(reading: Resting, *, spread_half_k: float) -> _Implied:
    curve = reading.curve
    t_implied_c = float(curve.t_c(reading.r_ohm))
    meter_half_k = reading.meter_half_ohm / abs(float(curve.slope_ohm_per_k(t_implied_c)))
    return _Implied(
        t_implied_c=t_implied_c,
        limit_k=max(float(curve.tol_k(t_implied_c)), reading.allow_k),
        limit_known=curve.tolerance_known or reading.allow_k > 0,
        own_u_k=float(np.hypot(meter_half_k, spread_half_k) / np.sqrt(3)),
    )


@dataclass(frozen=True, kw_only=True)
class _Centre:
    """The temperature that all are held against, and its standard uncertainty in K."""

    t_c: float
    u_k: float


def _centre(
    sensors: Mapping[str, _Implied], *, t_c: float | None, thermometer_half_k: float
) -> _Centre | None:
    """Return the thermometer's, or the sensors' median; None where there is nothing to compare."""
    if not sensors or (t_c is None and len(sensors) < 2):
        return None
    if t_c is not None:
        return _Centre(t_c=t_c, u_k=thermometer_half_k / np.sqrt(3))
    # Standard error of a median, each sensor off by its tolerance too.
    each_u_k = [
        np.hypot(sensor.own_u_k, sensor.limit_k / np.sqrt(3)) for sensor in sensors.values()
    ]
    return _Centre(
        t_c=float(np.median([sensor.t_implied_c for sensor in sensors.values()])),
        u_k=float(np.sqrt(np.pi / 2 / len(sensors)) * np.median(each_u_k)),
    )


def _standing(sensor: _Implied, *, centre: _Centre | None, few: bool) -> Standing:
    if centre is None:
        return Standing(state="undecided", t_implied_c=sensor.t_implied_c)
    off_k = sensor.t_implied_c - centre.t_c
    uncertainty_k = expanded_k(sensor.own_u_k, centre.u_k)
    return Standing(
        state=_state(
            off_k,
            limit_k=sensor.limit_k,
            uncertainty_k=uncertainty_k,
            may_stand_out=sensor.limit_known and not few,
        ),
        t_implied_c=sensor.t_implied_c,
        off_k=off_k,
        limit_k=sensor.limit_k,
        uncertainty_k=uncertainty_k,
    )


def _unreadable(reading: Resting, *, short_ohm: float | None) -> Standing | None:
    low_ohm, high_ohm = reading.curve.range_ohm
    if np.isinf(reading.r_ohm):
        return Standing(state="open" if high_ohm < reading.meter_span_ohm else "undecided")
    below_ohm = short_below_ohm(reading.curve, at_most_ohm=short_ohm)
    if reading.r_ohm == 0 or reading.r_ohm < below_ohm:
        return Standing(state="short")
    if not low_ohm <= reading.r_ohm <= high_ohm:
        return Standing(state="off-curve")
    return None


def _state(off_k: float, *, limit_k: float, uncertainty_k: float, may_stand_out: bool) -> str:
    if abs(off_k) <= max(limit_k, uncertainty_k):
        return "agrees"
    return "stands-out" if abs(off_k) > limit_k + uncertainty_k and may_stand_out else "undecided"
