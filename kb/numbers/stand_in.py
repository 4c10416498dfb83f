"""Standard resistors to plug in place of a sensor: does the board's input read right?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .characteristic import Characteristic
from .e_series import standard_values_ohm
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
    wanted_ohm = curve.r_ohm(t_c)
    values_ohm = standard_values_ohm(
        series, low_ohm=wanted_ohm / _REACH, high_ohm=wanted_ohm * _REACH
    )
    first_ohm, second_ohm = (values_ohm[i] for i in np.triu_indices(len(values_ohm)))
    single = _Wiring(name="single", r_ohm=values_ohm, parts_ohm=(values_ohm,))
    in_series = _Wiring(
        name="series", r_ohm=first_ohm + second_ohm, parts_ohm=(first_ohm, second_ohm)
    )
    parallel = _Wiring(
        name="parallel",
        r_ohm=first_ohm * second_ohm / (first_ohm + second_ohm),
        parts_ohm=(first_ohm, second_ohm),
    )
    pairs = [
        pair
        for wiring in (in_series, parallel)
        for pair in _nearest(curve, t_c=t_c, wiring=wiring, best=best)
    ]
    singles = _nearest(curve, t_c=t_c, wiring=single, best=best)
    return tuple(singles), tuple(sorted(pairs, key=lambda pair: abs(pair.error_k))[:best])


@dataclass(frozen=True, kw_only=True, eq=False)
class _Wiring:
    """Everything that can be made of the drawer in one way; arrays of shape (n,)."""

    name: str
    r_ohm: np.ndarray
    parts_ohm: tuple[np.ndarray, ...]


def _nearest(
    curve: Characteristic | Grid, *, t_c: float, wiring: _Wiring, best: int
) -> list[StandIn]:
    low_ohm, high_ohm = curve.range_ohm
    inside = np.flatnonzero((wiring.r_ohm >= low_ohm) & (wiring.r_ohm <= high_ohm))
    shows_c = curve.t_c(wiring.r_ohm[inside])
    order = np.argsort(np.abs(shows_c - t_c), kind="stable")[:best]
    return [
        StandIn(
            parts_ohm=tuple(float(part_ohm[inside[i]]) for part_ohm in wiring.parts_ohm),
            wired=wiring.name,
            r_ohm=float(wiring.r_ohm[inside[i]]),
            shows_c=float(shows_c[i]),
            error_k=float(shows_c[i] - t_c),
        )
        for i in order
    ]
