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
    Over range is open, unless a good part could be beyond the meter somewhere on its curve: then
    it is undecided, and a meter that reaches further would tell.

    Beyond limit and uncertainty together a sensor stands out; up to the larger of the two it
    agrees, which says only that nothing speaks against it; in between it is undecided. Without a
    thermometer and with fewer than three sensors on their curves nobody can be said to stand out.
    """
    standing = {name: _unreadable(one, short_ohm) for name, one in readings.items()}
    sound = {name: one for name, one in readings.items() if standing[name] is None}
    implied_c = {name: float(one.curve.t_c(one.r_ohm)) for name, one in sound.items()}
    if not sound or (t_c is None and len(sound) < 2):
        alone = {name: Standing(state="undecided", t_implied_c=implied_c[name]) for name in sound}
        return AtRest(
            centre_c=t_c, by_thermometer=t_c is not None, standing=_joined(standing, alone)
        )
    limits_k = {
        name: max(float(one.curve.tol_k(implied_c[name])), one.allow_k)
        for name, one in sound.items()
    }
    own_k = {name: _own_k(one, implied_c[name], spread_half_k) for name, one in sound.items()}
    if t_c is None:
        centre_c = float(np.median(list(implied_c.values())))
        # Standard error of a median, each sensor off by its tolerance too.
        each_k = [np.hypot(own_k[name], limits_k[name] / np.sqrt(3)) for name in sound]
        centre_k = float(np.sqrt(np.pi / 2 / len(sound)) * np.median(each_k))
    else:
        centre_c, centre_k = t_c, thermometer_half_k / np.sqrt(3)
    judged = {}
    for name in sound:
        off_k = implied_c[name] - centre_c
        uncertainty_k = expanded_k(own_k[name], centre_k)
        one = sound[name]
        # Where nobody knows how far the part may be off, nothing speaks for or against it.
        limited = one.curve.tolerance_known or one.allow_k > 0
        few = not limited or (t_c is None and len(sound) < 3)
        state = _state(off_k, limit_k=limits_k[name], uncertainty_k=uncertainty_k, few=few)
        judged[name] = Standing(
            state=state,
            t_implied_c=implied_c[name],
            off_k=off_k,
            limit_k=limits_k[name],
            uncertainty_k=uncertainty_k,
        )
    return AtRest(
        centre_c=centre_c, by_thermometer=t_c is not None, standing=_joined(standing, judged)
    )


def _unreadable(one: Resting, short_ohm: float | None) -> Standing | None:
    low_ohm, high_ohm = one.curve.range_ohm
    if np.isinf(one.r_ohm):
        return Standing(state="open" if high_ohm < one.meter_span_ohm else "undecided")
    if one.r_ohm == 0 or one.r_ohm < short_below_ohm(one.curve, at_most_ohm=short_ohm):
        return Standing(state="short")
    if not low_ohm <= one.r_ohm <= high_ohm:
        return Standing(state="off-curve")
    return None


def _state(off_k: float, *, limit_k: float, uncertainty_k: float, few: bool) -> str:
    if abs(off_k) <= max(limit_k, uncertainty_k):
        return "agrees"
    return "stands-out" if abs(off_k) > limit_k + uncertainty_k and not few else "undecided"


def _own_k(one: Resting, t_c: float, spread_half_k: float) -> float:
    """Standard uncertainty in K of one sensor's place and reading."""
    meter_k = one.meter_half_ohm / abs(float(one.curve.slope_ohm_per_k(t_c)))
    return float(np.hypot(meter_k, spread_half_k) / np.sqrt(3))


def _joined(first: dict[str, Standing | None], second: dict[str, Standing]) -> dict[str, Standing]:
    return {name: one if one is not None else second[name] for name, one in first.items()}
