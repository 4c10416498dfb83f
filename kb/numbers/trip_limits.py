"""A code's trip limit through the sensor's curve: this temperature is that resistance."""

from __future__ import annotations

from dataclasses import dataclass

from .characteristic import Characteristic
from .grid import Grid


@dataclass(frozen=True, kw_only=True)
class TripLimit:
    """One limit on both scales.

    Parameters
    ----------
    t_c, r_ohm : float
        The limit in °C and in Ω.
    above_c : bool
        True where it trips above this temperature.
    above_ohm : bool
        True where it trips above this resistance: the other way round on a falling curve.
    """

    t_c: float
    r_ohm: float
    above_c: bool
    above_ohm: bool


def trip_at_c(curve: Characteristic | Grid, *, t_c: float, above: bool) -> TripLimit:
    """Return the limit of a code that trips above (or below) a temperature; OutOfRange outside."""
    return TripLimit(
        t_c=t_c, r_ohm=float(curve.r_ohm(t_c)), above_c=above, above_ohm=above != curve.falling
    )


def trip_at_ohm(curve: Characteristic | Grid, *, r_ohm: float, above: bool) -> TripLimit:
    """Return the limit of a code that trips above (or below) a resistance; OutOfRange outside."""
    return TripLimit(
        t_c=float(curve.t_c(r_ohm)), r_ohm=r_ohm, above_c=above != curve.falling, above_ohm=above
    )
