"""Where water condenses out of the air: a surface below it is wet, whatever it looks like."""

from __future__ import annotations

import math

LOW_C, HIGH_C = -45.0, 60.0
"""Air in °C for which the formula holds, over water."""
MARGIN_K = 3.0
"""Closer than this above the dew point a surface counts as wet.

Source: ISO 8502-4 asks for it before painting (from memory); IEEE 43-2013 asks only for a winding
above the dew point. A hygrometer that is 5 % off moves the dew point by about 1 K.
"""

_SLOPE, _C = 17.62, 243.12


def dew_point_c(air_c: float, *, humidity_percent: float) -> float:
    """Return the dew point in °C of air at `air_c`.

    Parameters
    ----------
    air_c : float
        °C, from LOW_C to HIGH_C.
    humidity_percent : float
        Relative humidity, above 0 to 100.

    Raises
    ------
    ValueError
        If either is outside.

    Notes
    -----
    Magnus: e = 6.112 hPa exp(17.62 t/(243.12 + t)), solved for the t at which e is the vapour
    pressure that there is.

    Source: WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B, after Sonntag
    (1990); from memory.
    """
    if not LOW_C <= air_c <= HIGH_C or not 0 < humidity_percent <= 100:
        raise ValueError("no dew point of such air")
    exponent = math.log(humidity_percent / 100) + _SLOPE * air_c / (_C + air_c)
    return _C * exponent / (_SLOPE - exponent)


def surface_state(surface_c: float, *, dew_c: float) -> str:
    """Return "wet" not above the dew point, "near" within MARGIN_K above it, else "dry"."""
    if surface_c <= dew_c:
        return "wet"
    return "near" if surface_c < dew_c + MARGIN_K else "dry"
