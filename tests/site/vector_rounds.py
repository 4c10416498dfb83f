"""Rounds of readings and sensors without a mark, from the typed text to the answer's words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from kb.answers.instruments import Tools
from kb.answers.round import RoundQuestion, answer_round
from kb.answers.round_places import PlaceTemperature, RestingSensor, place_key
from kb.answers.round_rows import RoundReading
from kb.answers.which import WhichQuestion, answer_which
from kb.numbers.grid import Grid
from kb.numbers.placement import PLACEMENTS

from .page_names import page_names
from .said import said
from .vector_readings import one_of, reading_ohm
from .vector_sensors import (
    ALL_METERS,
    ALL_PROBES,
    INSTRUCTIONS,
    UNREADABLE,
    named_for_page,
    tools_asked,
    typed_ohm,
    typed_t,
)

PLACES = ("outdoor air", "room", "water")


def page_tools(tools: Tools) -> dict[str, object]:
    """Return tools as the page is told of them."""
    return {
        "meter": named_for_page(tools.meter),
        "thermometer": named_for_page(tools.thermometer),
        "placement": tools.placement,
    }


def _as_asked(question: RoundQuestion, sensors: list[dict[str, object]]) -> tuple[object, Callable]:
    def answer() -> dict[str, object]:
        found = answer_round(question)
        return {"answer": found, "said": said(found, unit=found.unit)}

    page = {
        "sensors": sensors,
        "readings": [page_names(reading) for reading in question.readings],
        "tools": page_tools(question.tools),
        "temperatures": [page_names(typed) for typed in question.temperatures],
        "unit": question.unit,
        "shortOhm": question.short_ohm,
    }
    return page, answer


def _resting(name: str, curve_id: str, grid: Grid, **facts: object) -> tuple[dict, RestingSensor]:
    sensor = RestingSensor(id=f"sensor-{name}", name=name, curve=grid, curve_id=curve_id, **facts)
    page = {key: value for key, value in page_names(sensor).items() if key not in ("curve", "name")}
    return {**page, "name": name}, sensor


def round_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """A machine at rest: sound, drifted, exchanged, broken, in several places, with ice water."""
    few_curves = [str(name) for name in rng.choice(list(grids), size=3, replace=False)]
    page_sensors, sensors, readings = [], [], []
    centres_c = {place: float(rng.uniform(5, 40)) for place in ("", *PLACES)}
    spread = one_of(rng, (0.1, 0.5, 4.0))
    halves_k = one_of(rng, (0.0, 0.0, 0.0, 9.0))
    many_places = one_of(rng, (("",), ("",), PLACES[:1], ("", *PLACES[:1]), ("", *PLACES), PLACES))
    for i in range(int(rng.integers(1, 8))):
        curve_id = one_of(rng, few_curves)
        grid, place = grids[curve_id], one_of(rng, many_places)
        page, sensor = _resting(
            "ABCDEFGH"[i],
            curve_id,
            grid,
            allow_k=one_of(rng, (4.0,) if i == 0 else (0.0, 1.0, 2.0, 2.0)),
            place=place,
            instructions=tuple(name for name in INSTRUCTIONS if rng.random() < 0.5),
        )
        page_sensors.append(page)
        sensors.append(sensor)
        if rng.random() < 0.12:
            continue
        t_c = centres_c[place] + float(rng.normal(0, spread)) + halves_k * (i % 2)
        # The first may have drifted just beyond what its machine tolerates.
        t_c += one_of(rng, (0.0, 0.0, -5.5, 5.5)) if i == 0 else 0.0
        readings.append(_round_reading(rng, sensor, t_c=t_c))
    if len(readings) > 1 and rng.random() < 0.3:
        first, second = rng.choice(len(readings), size=2, replace=False)
        pair = (readings[first].reading, readings[second].reading)
        readings[first] = replace(readings[first], reading=pair[1])
        readings[second] = replace(readings[second], reading=pair[0])
    _, tools = tools_asked(rng)
    temperatures, unit = _temperatures(rng, sensors, centres_c=centres_c)
    question = RoundQuestion(
        sensors=sensors,
        readings=readings,
        temperatures=temperatures,
        tools=tools,
        unit=unit,
        short_ohm=one_of(rng, (None, 5.0, 40.0)),
    )
    return _as_asked(question, page_sensors)


def _temperatures(
    rng: np.random.Generator, sensors: list[RestingSensor], *, centres_c: dict[str, float]
) -> tuple[list[PlaceTemperature], str]:
    """Return what was typed for some of the places: right, of another place, or unreadable."""
    given, unit = [], one_of(rng, ("C", "F"))
    if rng.random() < 0.4:
        return given, unit
    for place, noted in {place_key(sensor): sensor.place for sensor in sensors}.items():
        if rng.random() < 0.3:
            continue
        t_c = one_of(rng, [centres_c[noted]] * 3 + list(centres_c.values()))
        at, unit = typed_t(rng, t_c if rng.random() < 0.9 else t_c + 400)
        if rng.random() < 0.1:
            at = one_of(rng, UNREADABLE)
        placement = one_of(rng, (*PLACEMENTS, *PLACEMENTS, ""))
        given.append(PlaceTemperature(place=place, at=at, placement=placement))
    return given, unit


def _round_reading(rng: np.random.Generator, sensor: RestingSensor, *, t_c: float) -> RoundReading:
    grid = sensor.curve
    inside_c = min(max(t_c, grid.low_c), grid.high_c)
    shown_ohm = float(grid.beyond_ohm(inside_c))
    if rng.random() < 0.15:
        shown_ohm = reading_ohm(rng, grid, t_c=t_c)
    reading = typed_ohm(rng, shown_ohm)
    if rng.random() < 0.05:
        reading = one_of(rng, UNREADABLE)
    return RoundReading(sensor=sensor.id, reading=reading)


def directed_rounds(grids: dict[str, Grid]) -> Iterator[tuple[object, Callable]]:
    """Yield rounds on every border: one, two, three alike; over range; the ends of a curve."""
    for curve_id, grid in list(grids.items())[::3]:
        meter = ALL_METERS[0]
        low_ohm, high_ohm = grid.range_ohm
        middle_ohm = math.sqrt(low_ohm * high_ohm)
        spans = [row.span_ohm for row in meter.meter.ranges]
        ends = (low_ohm * 0.999, low_ohm * 1.001, high_ohm * 0.999, high_ohm * 1.001)
        for texts in (
            ["1k"],
            ["1k", "1k"],
            ["1k", "1k", "1k"],
            [f"{middle_ohm:.5g}"] * 2 + [f"{middle_ohm * 1.3:.5g}"] * 2,
            [f"{middle_ohm:.5g}"] * 2 + [f"{middle_ohm * 1.3:.5g}"] * 3,
            [f"{middle_ohm * factor:.5g}" for factor in (0.7, 1, 1.3)],
            ["OL", f"{middle_ohm:.5g}"],
            ["OL", "OL", "0"],
            [f"{end:.6g}" for end in ends],
            [f"{span:.0f}" for span in spans],
            [f"{span * 1.001:.1f}" for span in spans],
        ):
            for places in (("",), ("room",), ("room", "water"), ("", "room")):
                for at in ("", "68F", "20 ℃", "20 °F", "-200"):
                    yield _directed(grid, curve_id, texts=texts, places=places, at=at)


def _directed(
    grid: Grid, curve_id: str, *, texts: list[str], places: tuple[str, ...], at: str
) -> tuple[object, Callable]:
    made = [
        _resting("ABCDEFGH"[i], curve_id, grid, place=places[i % len(places)])
        for i in range(len(texts))
    ]
    question = RoundQuestion(
        sensors=[sensor for _, sensor in made],
        readings=[
            RoundReading(sensor=sensor.id, reading=text)
            for (_, sensor), text in zip(made, texts, strict=True)
        ],
        temperatures=[
            PlaceTemperature(place=place, at=at, placement="held-on")
            for place in sorted({place_key(sensor) for _, sensor in made})
        ],
        tools=Tools(meter=ALL_METERS[0], thermometer=ALL_PROBES[0], placement="held-on"),
        unit="C",
    )
    return _as_asked(question, [page for page, _ in made])


def which_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """An unmarked sensor: from no to five pairs, some half typed, unreadable or over range."""
    names = [str(name) for name in rng.choice(list(grids), size=8, replace=False)]
    if rng.random() < 0.4:
        names = ["beta-middle", "beta-twin", *(n for n in names if not n.startswith("beta"))]
    true = grids[names[0]]
    _, tools = tools_asked(rng)
    unit, pairs = "C", []
    for _ in range(int(rng.integers(0, 6))):
        t_c = float(rng.uniform(max(true.low_c, -10), min(true.high_c, 70)))
        if rng.random() < 0.05:
            t_c = one_of(rng, (-190.0, 390.0, 900.0, true.low_c, true.high_c))
        at, unit = typed_t(rng, t_c)
        reading = typed_ohm(rng, float(true.beyond_ohm(t_c + rng.normal(0, 0.3))))
        wrong = rng.random()
        if wrong < 0.06:
            reading = one_of(rng, UNREADABLE)
        elif wrong < 0.1:
            at = one_of(rng, UNREADABLE)
        elif wrong < 0.14:
            reading = one_of(rng, ("OL", "0", "1", "50M", "500M"))
        pairs.append((at, reading))
    return which_of(grids, names, pairs=pairs, unit=unit, tools=tools)


def which_of(
    grids: dict[str, Grid],
    names: list[str],
    *,
    pairs: list[tuple[str, str]],
    unit: str,
    tools: Tools,
) -> tuple[dict[str, object], Callable]:
    """Return the question which of these curves some pairs belong to."""
    called = {name: name.upper() for name in names}
    question = WhichQuestion(
        curves={name: grids[name] for name in names},
        names=called,
        pairs=pairs,
        unit=unit,
        tools=tools,
    )

    def answer() -> dict[str, object]:
        found = answer_which(question)
        return {"answer": found, "said": said(found, unit=found.unit)}

    page = {"curves": names, "names": called, "pairs": pairs, "unit": unit}
    return {**page, "tools": page_tools(tools)}, answer
