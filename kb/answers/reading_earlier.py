"""Other readings of the same sensor in the same visit: which of them count beside this one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from kb.numbers.held import held
from kb.numbers.measured import Measured
from kb.numbers.verdict import short_below_ohm

from .instruments import Tools
from .judged import Judged, temperature_in_range
from .sensor_facts import SensorFacts
from .statement import Refusal, Statement
from .typed import SISTER, typed_reading_ohm

MOST = 2
"""So many count beside the one that is judged, the first named first."""
APART_K = 5.0
"""A reading nearer than so, that stands for the same error, says nothing new: the same part, meter
and thermometer lie under both. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class EarlierReading:
    """Another reading of the same sensor, not after a repair.

    Parameters
    ----------
    reading, at : str
        As typed; one that cannot be read, or without a temperature of its own, does not count.
    unit : str
        What a bare temperature is in.
    tools : Tools
    when : str
        When it was taken, as a clock shows it; "" where nobody says.
    """

    reading: str
    at: str
    unit: str = "C"
    tools: Tools
    when: str = ""


@dataclass(frozen=True, kw_only=True)
class Counted:
    """A reading that counts, and how to say so."""

    measured: Measured
    statement: Statement


def counted(
    sensor: SensorFacts, *, earlier: Sequence[EarlierReading], judged: Judged
) -> tuple[Counted, ...]:
    """Return which of them count: MOST of those that say something of their own."""
    if judged.at is None:
        return ()
    taken = (_taken(sensor, reading=reading) for reading in earlier)
    return tuple(
        found
        for found in taken
        if found is not None and _is_news(sensor, other=found.measured, judged=judged)
    )[:MOST]


def _taken(sensor: SensorFacts, *, reading: EarlierReading) -> Counted | None:
    """Return one with its own temperature, as sure of it as this one; None where it is neither."""
    tools = reading.tools
    if tools.placement == SISTER:
        # Its temperature is another sensor's word: it says nothing of its own.
        return None
    try:
        shown_ohm = typed_reading_ohm(reading.reading, field="reading")
        at = temperature_in_range(sensor, text=reading.at, unit=reading.unit, tools=tools)
        measured = tools.take(shown_ohm, t_c=at.t_c)
    except Refusal:
        return None
    figures = {"shown_ohm": shown_ohm, "t_c": at.t_c, "when": reading.when}
    way = "clock" if reading.when else "bare"
    return Counted(
        measured=measured, statement=Statement(id=f"earlier-counted.{way}", figures=figures)
    )


def _is_news(sensor: SensorFacts, *, other: Measured, judged: Judged) -> bool:
    if not short_below_ohm(sensor.curve) <= other.r_ohm < math.inf:
        return False
    first = judged.measured
    if abs(other.t_c - first.t_c) >= APART_K:
        return True
    own, beside = (
        held(sensor.curve, measured=measured, allow_k=sensor.allow_k) for measured in (first, other)
    )
    if own is None or beside is None:
        return own is not beside
    return abs(own.error_k - beside.error_k) > own.spread_k
