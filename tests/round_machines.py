"""Machines at rest with known faults: the demo's families as layouts, drawn with a seed.

A sensor reads as a part somewhere in its own tolerance, at a spot somewhere in its place, by a meter
whose gain is off by the same in one range and whose last digits are off by chance. What the round
says of it is then held against what was put in.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache

import numpy as np

from kb.answers.instruments import Kit, NamedMeter, Tools
from kb.answers.round import RoundAnswer, RoundQuestion, answer_round
from kb.answers.round_places import PlaceTemperature, RestingSensor, place_key
from kb.answers.round_rows import RoundReading
from kb.catalog import Catalog
from kb.facts import kit_of, resting_sensors
from kb.model import Family
from kb.notes.folder import carried
from kb.notes.load import load_notes

SPOT_HALF_K = 1.0
"""How far the spots of a place differ: as the round takes it."""
SHOWS_K = 5.0
"""An exchange shows where one of the two reads as that far from its place: where the places are
alike, two curves that run close together hide it."""
APART_K = 8.0
"""What exchanged plugs of two places on one curve need to show: the places differ by this."""


@dataclass(frozen=True, kw_only=True)
class Faults:
    """What is put in: how many K each drifted sensor is off, open sensors, exchanged pairs."""

    drifts_k: tuple[float, ...] = ()
    opens: int = 0
    exchanged: bool = False
    thermometer: bool = False


@dataclass(kw_only=True)
class Machine:
    """One machine with what is wrong with it, and what the round answered."""

    sensors: list[RestingSensor]
    answer: RoundAnswer
    drifted: set[str] = field(default_factory=set)
    opens: set[str] = field(default_factory=set)
    pair: tuple[str, str] | None = None
    pair_shows: bool = False
    measured: bool = False

    @property
    def faulty(self) -> set[str]:
        """All that something is wrong with."""
        return self.drifted | self.opens | set(self.pair or ())

    @property
    def named(self) -> set[str]:
        """All that stand out or are suspicious."""
        named = ("stands-out", "suspicious")
        return {row.sensor for row in self.answer.rows if row.state in named}

    def allows_k(self, sensor: str) -> float:
        """What the machine tolerates of it."""
        return next(own.allow_k for own in self.sensors if own.id == sensor)

    def majority(self, sensor: str) -> bool:
        """Whether more sound than faulty ones rest there, or a thermometer stands there."""
        place = next(place_key(own) for own in self.sensors if own.id == sensor)
        there = {own.id for own in self.sensors if place_key(own) == place} - self.opens
        return self.measured or len(there - self.faulty) > max(1, len(there & self.faulty))


@cache
def demo_machines() -> tuple[dict[str, list[RestingSensor]], Kit]:
    """Return family → its sensors, and the demo's instruments."""
    catalog = Catalog(load_notes(carried("docs_data").parent))
    return {
        family.id: resting_sensors(catalog, family, name=lambda sensor: sensor.label)
        for family in catalog.notes.of(Family).values()
    }, kit_of(catalog)


def machines(faults: Faults, *, count: int, meter: str, seed: int) -> Iterator[Machine]:
    """Yield so many machines with these faults, the families in turn."""
    layouts, kit = demo_machines()
    named = next(tool for tool in kit.meters if tool.id == meter)
    tools = Tools(meter=named, thermometer=kit.thermometers[0], placement="strapped")
    rng = np.random.default_rng(seed)
    families = list(layouts.values())
    for number in range(count):
        yield _machine(rng, families[number % len(families)], faults=faults, tools=tools)


def _machine(
    rng: np.random.Generator, sensors: list[RestingSensor], *, faults: Faults, tools: Tools
) -> Machine:
    names = [str(name) for name in rng.permutation([sensor.id for sensor in sensors])]
    places_c = _places_c(rng, sensors)
    pair = _pair(rng, sensors, places_c=places_c) if faults.exchanged else None
    free = [name for name in names if name not in (pair or ())]
    drifts_k = {
        name: drift_k * rng.choice((-1, 1))
        for name, drift_k in zip(free, faults.drifts_k, strict=False)
    }
    opens = set(free[len(drifts_k) : len(drifts_k) + faults.opens])
    shown = _shown(rng, sensors, places_c=places_c, drifts_k=drifts_k, meter=tools.meter)
    shown |= dict.fromkeys(opens, "OL")
    if pair:
        shown[pair[0]], shown[pair[1]] = shown[pair[1]], shown[pair[0]]
    question = RoundQuestion(
        sensors=sensors,
        readings=[RoundReading(sensor=name, reading=text) for name, text in shown.items()],
        tools=tools,
        temperatures=_taken(rng, places_c, tools=tools) if faults.thermometer else (),
    )
    return Machine(
        sensors=sensors,
        answer=answer_round(question),
        drifted=set(drifts_k),
        opens=opens,
        pair=pair,
        pair_shows=bool(pair) and _shows(sensors, pair=pair, shown=shown, places_c=places_c),
        measured=faults.thermometer,
    )


def _places_c(rng: np.random.Generator, sensors: list[RestingSensor]) -> dict[str, float]:
    outdoors_c = rng.uniform(0, 35)
    places_c = {}
    for place in dict.fromkeys(place_key(sensor) for sensor in sensors):
        if place.startswith("outdoor air"):
            places_c[place] = outdoors_c + (rng.uniform(3, 12) if "warmed" in place else 0)
        else:
            places_c[place] = rng.uniform(12, 27)
    return places_c


def _pair(
    rng: np.random.Generator, sensors: list[RestingSensor], *, places_c: Mapping[str, float]
) -> tuple[str, str]:
    """Return two whose exchange shows: unlike curves, or places that differ enough."""
    while True:
        first, second = (sensors[int(i)] for i in rng.choice(len(sensors), size=2, replace=False))
        apart_k = abs(places_c[place_key(first)] - places_c[place_key(second)])
        if first.curve_id != second.curve_id or apart_k > APART_K:
            return first.id, second.id


def _shown(
    rng: np.random.Generator,
    sensors: list[RestingSensor],
    *,
    places_c: Mapping[str, float],
    drifts_k: Mapping[str, float],
    meter: NamedMeter | None,
) -> dict[str, str]:
    """Return sensor → what somebody writes down."""
    assert meter is not None
    gains = rng.uniform(-1, 1, size=len(meter.meter.ranges))
    shown = {}
    for sensor in sensors:
        spot_k = rng.uniform(-SPOT_HALF_K, SPOT_HALF_K) if sensor.place else 0.0
        t_c = places_c[place_key(sensor)] + spot_k
        off_k = rng.uniform(-1, 1) * float(sensor.curve.tol_k(t_c)) + drifts_k.get(sensor.id, 0.0)
        r_ohm = float(sensor.curve.beyond_ohm(t_c + off_k)) + meter.meter.leads_ohm
        used = meter.meter.range_for(r_ohm)
        gain = gains[meter.meter.ranges.index(used)] * used.percent / 100
        digits = rng.uniform(-1, 1) * used.digits
        places = round((r_ohm * (1 + gain)) / used.resolution_ohm + digits)
        shown[sensor.id] = f"{places * used.resolution_ohm:.6g}"
    return shown


def _shows(
    sensors: list[RestingSensor],
    *,
    pair: tuple[str, str],
    shown: Mapping[str, str],
    places_c: Mapping[str, float],
) -> bool:
    """Whether either of an exchanged pair reads as somewhere else than its place is."""
    return any(
        abs(float(own.curve.beyond_c(float(shown[own.id]))) - places_c[place_key(own)]) > SHOWS_K
        for own in sensors
        if own.id in pair
    )


def _taken(
    rng: np.random.Generator, places_c: Mapping[str, float], *, tools: Tools
) -> list[PlaceTemperature]:
    taken = tools.take(0.0, t_c=15.0)
    half_k = np.array([taken.thermometer_half_k, taken.placement_half_k])
    return [
        PlaceTemperature(
            place=place, at=f"{t_c + rng.uniform(-1, 1, 2) @ half_k:.1f}", placement="strapped"
        )
        for place, t_c in places_c.items()
    ]
