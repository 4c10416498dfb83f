"""Seeded faults of the demo's sensors: what a true part reads, what went wrong, what was typed."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import TypeVar

import numpy as np

from kb.answers.instruments import Tools
from kb.answers.reading import ReadingAnswer, ReadingQuestion, answer_reading
from kb.answers.reading_earlier import EarlierReading
from kb.answers.sensor_facts import Curve, SensorFacts
from kb.answers.statement import Refusal
from kb.catalog import Catalog
from kb.facts import kit_of, sensor_facts
from kb.model import Sensor
from kb.notes.load import load_notes
from kb.numbers.placement import PLACEMENTS

T = TypeVar("T")
HOURS_C = (-8.0, 38.0)
"""The first reading is taken at any of these temperatures, inside the curve and what it meets."""
APART_K = (15.0, 25.0)
"""And the second so far from it."""
TELLABLE = (
    "unit-slip",
    "factor-ten",
    "fahrenheit",
    "family-curve",
    "plugged-in",
    "board-alone",
    "open",
    "short",
)
"""What one reading can tell: each of these moves it to where nothing with a size of its own is
likely, or where the notes name the very figure (another curve of the family, the pull-up)."""
WIDER = (
    *TELLABLE[:5],
    "other-curve",
    "series-resistance",
    "leak",
    "drift",
    "exchanged",
    "warmer",
    "plugged-unknown",
)
"""What a second reading can tell: the same, and what has a size of its own."""


@dataclass(frozen=True, kw_only=True)
class Taken:
    """What the meter shows and what the thermometer shows."""

    shown_ohm: float
    t_c: float
    unit: str = "C"


@dataclass(frozen=True, kw_only=True)
class Case:
    """One fault: the sensor, its question, and which curve it really is, where that is the fault."""

    fault: str
    question: ReadingQuestion
    curve_id: str = ""

    @property
    def answer(self) -> ReadingAnswer | None:
        """The answer; None where a field is refused."""
        try:
            return answer_reading(self.question)
        except Refusal:
            return None


@cache
def _catalog() -> Catalog:
    return Catalog(load_notes(Path(__file__).resolve().parents[2]))


@cache
def demo_sensors() -> tuple[SensorFacts, ...]:
    """Return what decides on each sensor of the demo that a meter can judge."""
    catalog = _catalog()
    return tuple(
        sensor_facts(
            catalog,
            curve=catalog.computing_curves[sensor.curve],
            curve_id=sensor.curve,
            sensor=sensor,
        )
        for sensor in catalog.all(Sensor).values()
        if sensor.testable and sensor.curve in catalog.computing_curves
    )


@dataclass(kw_only=True)
class Visit:
    """One sensor in one visit: the same part, the same instruments, each reading its own noise."""

    rng: np.random.Generator
    sensor: SensorFacts
    tools: Tools
    t_c: float
    part: float
    """How far the part is off, in parts of its tolerance."""
    gain: float
    """How far the meter is off, in parts of its own error."""
    probe: float

    def true_ohm(self, t_c: float, *, curve: Curve | None = None) -> float:
        """Return what the part reads, its own error in it."""
        curve = curve or self.sensor.curve
        return float(curve.beyond_ohm(t_c + self.part * float(curve.tol_k(t_c))))

    def taken(self, r_ohm: float, *, t_c: float) -> Taken:
        """Return what the instruments show of it."""
        meter = self.tools.meter.meter
        shown = r_ohm + meter.leads_ohm
        if shown <= meter.span_ohm:
            shown += self.gain * float(meter.half_width_ohm(shown))
        place = PLACEMENTS[self.tools.placement]
        off_k = float(self.rng.uniform(-1, 1)) * place.half_width_k
        off_k += self.probe * float(self.tools.thermometer.thermometer.half_width_k(t_c))
        return Taken(shown_ohm=max(shown, 0.0), t_c=t_c + off_k)


def visit(rng: np.random.Generator, *, sensor: SensorFacts) -> Visit:
    """Return a visit at some temperature that the curve holds, with some of the demo's tools."""
    kit = kit_of(_catalog())
    low_c = max(HOURS_C[0], sensor.curve.low_c + 2)
    high_c = min(HOURS_C[1], sensor.curve.high_c - 2)
    return Visit(
        rng=rng,
        sensor=sensor,
        tools=Tools(
            meter=_one_of(rng, kit.meters),
            thermometer=_one_of(rng, kit.thermometers),
            placement=_one_of(rng, ("strapped", "strapped", "held-on", "air")),
        ),
        t_c=float(rng.uniform(low_c, high_c)),
        part=float(rng.uniform(-1, 1)),
        gain=float(rng.uniform(-1, 1)),
        probe=float(rng.uniform(-1, 1)),
    )


def _one_of(rng: np.random.Generator, choices: Sequence[T]) -> T:
    return choices[int(rng.integers(len(choices)))]


def case(rng: np.random.Generator, *, fault: str, second: bool) -> Case | None:
    """Return one seeded fault, with another reading beside it or not; None where it cannot be."""
    sensors = demo_sensors()
    there = visit(rng, sensor=_one_of(rng, sensors))
    span_k = float(rng.uniform(*APART_K)) * float(rng.choice([-1, 1]))
    other_c = there.t_c + span_k
    if not there.sensor.curve.low_c + 2 < other_c < there.sensor.curve.high_c - 2:
        other_c = there.t_c - span_k
    made = FAULTS[fault](there, (there.t_c, other_c))
    if made is None:
        return None
    sensor = there.sensor
    if fault == "plugged-unknown":
        sensor = replace(sensor, pull_up_ohm=None)
    first, beside = made.readings
    earlier = EarlierReading(reading=_ohm(beside), at=_at(beside), tools=there.tools)
    question = ReadingQuestion(
        sensor=sensor,
        reading=_ohm(first),
        at=_at(first),
        unit=first.unit,
        tools=there.tools,
        earlier=(earlier,) if second else (),
    )
    return Case(fault=fault, question=question, curve_id=made.curve_id)


def _ohm(taken: Taken) -> str:
    return "OL" if math.isinf(taken.shown_ohm) else f"{taken.shown_ohm:.4g}"


def _at(taken: Taken) -> str:
    return f"{taken.t_c:.1f}"


@dataclass(frozen=True, kw_only=True)
class Made:
    """Two readings with one fault, and the curve that the part really has."""

    readings: tuple[Taken, Taken]
    curve_id: str = ""


Temperatures = tuple[float, float]


def _both(there: Visit, at: Temperatures, change: Callable[[float, int], float]) -> Made:
    first, second = (
        there.taken(change(there.true_ohm(t_c), i), t_c=t_c) for i, t_c in enumerate(at)
    )
    return Made(readings=(first, second))


def _slipped(*factors: float) -> Callable[[Visit, Temperatures], Made]:
    def made(there: Visit, at: Temperatures) -> Made:
        times, again = _one_of(there.rng, factors), there.rng.random() < 0.5
        first, second = _both(there, at, lambda r_ohm, _: r_ohm).readings
        typed = replace(first, shown_ohm=first.shown_ohm * times)
        if again:
            second = replace(second, shown_ohm=second.shown_ohm * times)
        return Made(readings=(typed, second))

    return made


def _fahrenheit(there: Visit, at: Temperatures) -> Made | None:
    first, second = _both(there, at, lambda r_ohm, _: r_ohm).readings
    typed = replace(first, t_c=1.8 * first.t_c + 32)
    if there.rng.random() < 0.5:
        second = replace(second, t_c=1.8 * second.t_c + 32)
    high_c = there.sensor.curve.high_c
    return Made(readings=(typed, second)) if max(typed.t_c, second.t_c) < high_c else None


def _of_curve(family: bool) -> Callable[[Visit, Temperatures], Made | None]:
    def made(there: Visit, at: Temperatures) -> Made | None:
        sensor = there.sensor
        curves = sensor.family_curves if family else sensor.other_curves
        if not curves:
            return None
        name = _one_of(there.rng, sorted(curves))
        low_c, high_c = curves[name].low_c, curves[name].high_c
        if not all(low_c < t_c < high_c for t_c in at):
            return None
        readings = [there.taken(there.true_ohm(t_c, curve=curves[name]), t_c=t_c) for t_c in at]
        return Made(readings=(readings[0], readings[1]), curve_id=name)

    return made


def _beside(r_ohm: float, other_ohm: float) -> float:
    return 1 / (1 / r_ohm + 1 / other_ohm)


def _plugged(there: Visit, at: Temperatures) -> Made | None:
    pull_up_ohm = there.sensor.pull_up_ohm
    if pull_up_ohm is None:
        return None
    return _plugged_at(there, at, pull_up_ohm * (1 + 0.01 * float(there.rng.uniform(-1, 1))))


def _plugged_at(there: Visit, at: Temperatures, pull_up_ohm: float) -> Made:
    if there.rng.random() < 0.5:
        # Unplugged, at the same place and time.
        at = (at[0], at[0])
        return _both(there, at, lambda r_ohm, i: r_ohm if i else _beside(r_ohm, pull_up_ohm))
    return _both(there, at, lambda r_ohm, _: _beside(r_ohm, pull_up_ohm))


def _board(there: Visit, at: Temperatures) -> Made | None:
    pull_up_ohm = there.sensor.pull_up_ohm
    if pull_up_ohm is None:
        return None
    true_ohm = pull_up_ohm * (1 + 0.01 * float(there.rng.uniform(-1, 1)))
    return _both(there, at, lambda _, __: true_ohm)


def _log(rng: np.random.Generator, low: float, high: float) -> float:
    return math.exp(float(rng.uniform(math.log(low), math.log(high))))


def _series(there: Visit, at: Temperatures) -> Made | None:
    r_ohm = there.true_ohm(there.t_c)
    more_ohm = _log(there.rng, 3.0, 30e3)
    if more_ohm > 2 * r_ohm:
        return None
    cured = there.rng.random() < 0.3
    return _both(there, at, lambda r_ohm, i: r_ohm if i and cured else r_ohm + more_ohm)


def _leak(there: Visit, at: Temperatures) -> Made:
    leak_ohm, cured = _log(there.rng, 1e3, 300e3), there.rng.random() < 0.3
    return _both(there, at, lambda r_ohm, i: r_ohm if i and cured else _beside(r_ohm, leak_ohm))


def _drift(there: Visit, at: Temperatures) -> Made:
    off_k = float(there.rng.uniform(3, 20)) * float(there.rng.choice([-1, 1]))
    times = there.true_ohm(there.t_c + off_k) / there.true_ohm(there.t_c)
    return _both(there, at, lambda r_ohm, _: r_ohm * times)


def _exchanged(there: Visit, at: Temperatures) -> Made | None:
    curve = there.sensor.curve
    elsewhere_c = float(there.rng.uniform(max(curve.low_c, -5), min(curve.high_c, 60)))
    if not there.sensor.twins or abs(elsewhere_c - there.t_c) < 5:
        return None
    moved_c = elsewhere_c + float(there.rng.normal(0, 1.5))
    readings = [
        there.taken(there.true_ohm(place_c), t_c=t_c)
        for place_c, t_c in zip((elsewhere_c, moved_c), at, strict=True)
    ]
    return Made(readings=(readings[0], readings[1]))


def _warmer(there: Visit, at: Temperatures) -> Made:
    warm_k = float(there.rng.uniform(3, 14))
    still_k = float(there.rng.choice([0.0, 0.0, 1.0])) * warm_k
    readings = [
        there.taken(there.true_ohm(t_c + more_k), t_c=t_c)
        for more_k, t_c in zip((warm_k, still_k), at, strict=True)
    ]
    return Made(readings=(readings[0], readings[1]))


FAULTS: Mapping[str, Callable[[Visit, Temperatures], Made | None]] = {
    "unit-slip": _slipped(1e3, 1e-3),
    "factor-ten": _slipped(10, 0.1),
    "fahrenheit": _fahrenheit,
    "family-curve": _of_curve(family=True),
    "other-curve": _of_curve(family=False),
    "plugged-in": _plugged,
    "plugged-unknown": lambda there, at: _plugged_at(there, at, _log(there.rng, 2e3, 50e3)),
    "board-alone": _board,
    "open": lambda there, at: _both(there, at, lambda _, __: math.inf),
    "short": lambda there, at: _both(there, at, lambda _, __: float(there.rng.uniform(0, 2))),
    "series-resistance": _series,
    "leak": _leak,
    "drift": _drift,
    "exchanged": _exchanged,
    "warmer": _warmer,
}
"""What can be wrong, and how it shows in two readings."""
