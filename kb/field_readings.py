"""Good readings from past jobs: what a sound sensor read in the field, against its curve."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from kb.model import Case, Sensor
from kb.model.case import Reading
from kb.numbers.characteristic import Characteristic


@dataclass(frozen=True, kw_only=True)
class FieldReading:
    """One reading of a sensor that the job found sound."""

    case: Case
    reading: Reading
    error_k: float
    """Implied less measured temperature, in kelvin."""


def good_readings(
    sensor: Sensor, *, curve: Characteristic, cases: Iterable[Case]
) -> list[FieldReading]:
    """Return the sound readings of a sensor, oldest first.

    Notes
    -----
    Sound are readings after the repair, and readings before it where the cause was another sensor
    or part. A cause in words (a wet plug, a chafed cable) may have been in the circuit, so what
    was read before that repair is left out; so is what was read without a temperature or off the
    curve.
    """
    readings = []
    for case in sorted(cases, key=lambda past: (past.on, past.id)):
        for reading in case.readings:
            if reading.sensor != sensor.id or not _sound(reading, case=case, sensor=sensor):
                continue
            error_k = _error_k(reading, curve=curve)
            if error_k is not None:
                readings.append(FieldReading(case=case, reading=reading, error_k=error_k))
    return readings


def _sound(reading: Reading, *, case: Case, sensor: Sensor) -> bool:
    if reading.after == "after":
        return True
    return case.cause.what is None and case.cause.sensor != sensor.id


def _error_k(reading: Reading, *, curve: Characteristic) -> float | None:
    low_ohm, high_ohm = curve.range_ohm
    if reading.t_c is None or math.isinf(reading.r) or not low_ohm <= reading.r <= high_ohm:
        return None
    return float(curve.t_c(reading.r)) - reading.t_c
