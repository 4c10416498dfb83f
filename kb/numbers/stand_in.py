"""Standard resistors to plug in place of a sensor: does the board's input read right?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .characteristic import Characteristic
from .e_series import values_ohm
from .grid import Grid

_REACH = 100.0


@dataclass(frozen=True, kw_only=True)
class StandIn:
    """One resistor, or two together.

    Parameters
    ----------
    parts_ohm : tuple of float
        One or two standard values in Ω.
    wired : str
        "single", "series" or "parallel".
    r_ohm : float
        Ω together.
    shows_c : float
        The temperature the board should then show, in °C.
    error_k : float
        `shows_c` less the temperature asked for.
    """

    parts_ohm: tuple[float, ...]
    wired: str
    r_ohm: float
    shows_c: float
    error_k: float


def stand_ins(
    curve: Characteristic | Grid, *, t_c: float, series: str = "E24", best: int = 3
) -> tuple[tuple[StandIn, ...], tuple[StandIn, ...]]:
    """Return (singles, pairs) nearest to a temperature, the nearest first.

    Parameters
    ----------
    t_c : float
        The temperature to stand for in °C, inside the curve's range.
    series : str
        E12, E24 or E96.
    best : int
        How many of each.

    Raises
    ------
    OutOfRange
        If the temperature is outside the curve's range.

    Notes
    -----
    A pair's parts are within a factor of 100 of the resistance wanted: beyond that one of the two
    no longer matters beside its own tolerance.
    """
    wanted_ohm = float(curve.r_ohm(t_c))
    values = values_ohm(series, low_ohm=wanted_ohm / _REACH, high_ohm=wanted_ohm * _REACH)
    one, other = (values[i] for i in np.triu_indices(len(values)))
    singles = _nearest(curve, t_c, values, [values], "single", best)
    pairs = [
        *_nearest(curve, t_c, one + other, [one, other], "series", best),
        *_nearest(curve, t_c, one * other / (one + other), [one, other], "parallel", best),
    ]
    return tuple(singles), tuple(sorted(pairs, key=lambda pair: abs(pair.error_k))[:best])


def _nearest(
    curve: Characteristic | Grid,
    t_c: float,
    r_ohm: np.ndarray,
    parts_ohm: list[np.ndarray],
    wired: str,
    best: int,
) -> list[StandIn]:
    low_ohm, high_ohm = curve.range_ohm
    inside = np.flatnonzero((r_ohm >= low_ohm) & (r_ohm <= high_ohm))
    shows_c = np.asarray(curve.t_c(r_ohm[inside]))
    order = np.argsort(np.abs(shows_c - t_c), kind="stable")[:best]
    return [
        StandIn(
            parts_ohm=tuple(float(part[inside[i]]) for part in parts_ohm),
            wired=wired,
            r_ohm=float(r_ohm[inside[i]]),
            shows_c=float(shows_c[i]),
            error_k=float(shows_c[i] - t_c),
        )
        for i in order
    ]
