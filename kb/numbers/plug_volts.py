"""Volts at a sensor's plug, plugged in and powered: which resistance do they stand for?"""

from __future__ import annotations

import math
from dataclasses import dataclass

VOLTMETER_SHARE = 0.005
"""± of a reading of volts: a plain meter's direct range. Common practice, no source."""
VOLTMETER_DIGITS = 2
"""And so many digits of the last place that was typed. Common practice, no source."""
VOLTMETER_OHM = 10e6
"""What a meter draws while it reads volts. Common practice, no source."""
PULL_UP_SHARE = 0.01
"""± of a board's pull-up: a resistor of the E96 series. Common practice, no source."""
SUPPLY_SHARE = 0.02
"""± of what a board feeds, where nobody measured it. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class PlugReading:
    """The sensor that volts at its plug stand for.

    Parameters
    ----------
    r_ohm : float
        In Ω; infinity where the volts cannot be told from the supply, 0 where they cannot be told
        from nothing.
    half_ohm : float
        Half-width in Ω; 0 at either end.
    reach_ohm : float
        The highest resistance in Ω that could still be told from an open circuit.
    """

    r_ohm: float
    half_ohm: float
    reach_ohm: float


def voltmeter_half_v(volts: float, *, digit_v: float) -> float:
    """Return the half-width in V of a reading of volts whose last place is worth `digit_v`."""
    return abs(volts) * VOLTMETER_SHARE + VOLTMETER_DIGITS * digit_v


def sensor_at_plug(
    volts: float, *, half_v: float, supply_v: float, supply_half_v: float, pull_up_ohm: float
) -> PlugReading:
    """Return the resistance that volts across it stand for.

    Parameters
    ----------
    volts, half_v : float
        As read, and how far that may be off, in V.
    supply_v, supply_half_v : float
        What the board feeds through its pull-up, in V.
    pull_up_ohm : float

    Raises
    ------
    ValueError
        If the volts are above what the board feeds.

    Notes
    -----
    U = U0 R/(R + Rp), R here with the voltmeter beside it; so R = Rp U/(U0 − U). The half-width
    adds what volts, supply (dR/dU0 = −Rp U/(U0 − U)²) and pull-up leave open, as roots of squares.

    Source: Ohm's law, the divider.
    """
    if volts > supply_v + supply_half_v + half_v:
        raise ValueError(f"{volts} V is above the {supply_v} V that the board feeds")
    top_v = supply_v - supply_half_v - half_v
    reach_ohm = _alone_ohm(_seen_ohm(top_v, supply_v=supply_v, pull_up_ohm=pull_up_ohm))
    if volts <= half_v:
        return PlugReading(r_ohm=0.0, half_ohm=0.0, reach_ohm=reach_ohm)
    seen_ohm = _seen_ohm(volts, supply_v=supply_v, pull_up_ohm=pull_up_ohm)
    r_ohm = _alone_ohm(seen_ohm)
    if volts >= top_v or math.isinf(r_ohm):
        return PlugReading(r_ohm=math.inf, half_ohm=0.0, reach_ohm=reach_ohm)
    left_v = supply_v - volts
    terms = (
        half_v * pull_up_ohm * supply_v / left_v**2,
        supply_half_v * pull_up_ohm * volts / left_v**2,
        PULL_UP_SHARE * seen_ohm,
    )
    half_ohm = math.sqrt(sum(term**2 for term in terms)) * (r_ohm / seen_ohm) ** 2
    return PlugReading(r_ohm=r_ohm, half_ohm=half_ohm, reach_ohm=reach_ohm)


def _seen_ohm(volts: float, *, supply_v: float, pull_up_ohm: float) -> float:
    return pull_up_ohm * volts / (supply_v - volts) if volts < supply_v else math.inf


def _alone_ohm(seen_ohm: float) -> float:
    """Take the voltmeter off again: what is seen is the sensor with the meter beside it."""
    if seen_ohm >= VOLTMETER_OHM:
        return math.inf
    return seen_ohm * VOLTMETER_OHM / (VOLTMETER_OHM - seen_ohm)
