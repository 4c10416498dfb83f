"""Drills out of seeds, on notes that lack now this and now that, each answered once: alike here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from kb.answers.drill import KINDS, Drill
from kb.answers.drill_lamp import Pace, lamp_bars
from kb.answers.drill_marked import (
    Mark,
    mark_choice,
    mark_display,
    mark_order,
    mark_resistance,
    mark_tap,
    mark_temperature,
)
from kb.answers.drill_notes import (
    DrillCode,
    DrillFamily,
    DrillNotes,
    DrillPart,
    DrillSensor,
    DrillSuspect,
    Lamp,
)
from kb.answers.drill_set import DrillPool
from kb.answers.statement import Refusal
from kb.numbers.grid import Grid

from .page_names import page_names
from .vector_readings import one_of
from .vector_sensors import ALL_METERS, ALL_PROBES, named_for_page

FAMILIES = tuple(
    DrillFamily(
        id=name,
        name=f"Family {name}",
        isolate_at=where,
        drain_min=wait_min,
        drained_below_v=50.0,
        drain_at="Studs P and N",
        no_charge=no_charge,
    )
    for name, where, wait_min, no_charge in (
        ("a", "Red switch", 5.0, ""),
        ("b", "Isolator on the wall", 7.5, ""),
        ("c", "Red  switch.", 0.0, "No capacitor at all."),
    )
)


def _lamp(long: int, short: int) -> Lamp:
    return Lamp(lamp="H1", long=long, short=short, bars=lamp_bars(long, short=short, pace=Pace()))


CODES = tuple(
    DrillCode(
        id=f"code-{i}",
        family="abab"[i % 4],
        name=f"K{i // 2}: what it is",
        lamps=tuple(_lamp(1 + (i + j) % 3, j + i % 2) for j in range(i % 3)),
        suspects=tuple(
            DrillSuspect(name=f"suspect {j}", share=(1 + (i * j) % 4) / 10, minutes=2.0 + 2 * j)
            for j in range(i % 8)
        ),
    )
    for i in range(14)
)
PARTS = tuple(
    DrillPart(
        id=f"part-{i}",
        families=(("a",), ("b",), ("a", "b"))[i % 3],
        name=f"Part {i}",
        kills=tuple(f"kills {j}" for j in range(i % 3)),
        afterwards=tuple(f"{'kills' if j == 1 else 'Look at'} {j + i % 2}" for j in range(i % 4)),
    )
    for i in range(8)
)
PINS = {"front": {f"R{i}": f"At the {'R3 ' if i == 3 else ''}corner {i % 5}" for i in range(7)}}
PINS["front"] |= {"X1": "Upper socket", "X2": "Lower socket"}


def _sensors(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[DrillSensor, ...]:
    return tuple(
        DrillSensor(
            id=f"sensor-{i}",
            family=one_of(rng, "ab"),
            name=f"R{i} place {i}",
            label=f"R{i}",
            curve_id=one_of(rng, (*grids, "")),
            meets_c=one_of(rng, (None, (-30.0, 60.0), (-12.5, 31.5), (20.0, 22.0))),
            allow_k=one_of(rng, (0.0, 2.0)),
            drawing=one_of(rng, ("front", "")),
            pin=f"R{i}",
            plug=one_of(rng, ("", "X1", "x 1", "X2", f"R{i}")),
            plug_drawing=one_of(rng, ("", "front")),
        )
        for i in range(9)
    )


def _answers(drill: Drill, rng: np.random.Generator) -> list[object]:
    """Return what somebody answers: right, a little off, far off, or unreadable."""
    if drill.form in ("choice", "tap"):
        pin = one_of(rng, (drill.pin, "R1"))
        return [pin if drill.form == "tap" else int(rng.integers(max(len(drill.choices), 1)))]
    if drill.form == "order":
        order = list(drill.right) if rng.random() < 0.5 else list(range(len(drill.choices)))
        if rng.random() < 0.4:
            order[0], order[1] = order[1], order[0]
        return [order if rng.random() < 0.95 else order[1:]]
    if rng.random() < 0.05:
        return [one_of(rng, ("", "abc", "OL", "0", "1.2.3")), one_of(rng, ("", "1k", "x"))]
    if drill.form == "temperature":
        off_k = drill.figures["limit_k"] * float(rng.uniform(-2, 2))
        return [f"{drill.figures['t_c'] + off_k:.3f}"]
    if drill.form == "ohm":
        shown = drill.because[0].figures["r_ohm"]
        return [f"{float(shown) * (1 + rng.normal(0, 0.03)):.5g}".replace("e+0", "e")]
    half_ohm = drill.figures["half_ohm"] * float(rng.uniform(0.8, 1.2))
    times = one_of(rng, (1, 1, 1, 1, 10))
    return [f"{drill.figures['shown_ohm'] * times:.9g}".replace("inf", "OL"), f"{half_ohm:.5g}"]


def _mark(drill: Drill, *, answers: list, notes: DrillNotes, unit: str) -> Mark:
    match drill.form:
        case "ohm":
            return mark_resistance(answers[0], drill=drill, curve=notes.curves[drill.curve_id])
        case "temperature":
            return mark_temperature(answers[0], drill=drill, unit=unit)
        case "choice":
            return mark_choice(answers[0], drill=drill)
        case "tap":
            return mark_tap(answers[0], drill=drill)
        case "order":
            return mark_order(answers[0], drill=drill)
    return mark_display(answers[0], half=answers[1], drill=drill)


def _marked(drill: Drill, *, answers: list, notes: DrillNotes, unit: str) -> object:
    try:
        return _mark(drill, answers=answers, notes=notes, unit=unit)
    except Refusal as refusal:
        return {"refused": refusal.statement.id}


def drills_asked(
    rng: np.random.Generator, grids: dict[str, Grid]
) -> tuple[object, Callable[[], object]]:
    """A set of a seed, each of its drills answered once."""

    def some(items: tuple) -> tuple:
        return tuple(item for item in items if rng.random() < 0.8)

    sensors = _sensors(rng, grids)
    notes = DrillNotes(
        families=some(FAMILIES),
        sensors=sensors,
        codes=some(CODES),
        parts=some(PARTS),
        meters=some(tuple(ALL_METERS)) if rng.random() < 0.9 else (),
        thermometers=some(tuple(ALL_PROBES)),
        curves={s.curve_id: grids[s.curve_id] for s in sensors if s.curve_id},
        pins=PINS,
        over_shows={ALL_METERS[0].id: "1"},
        short_ohm=one_of(rng, (None, 5.0)),
    )
    asked = {
        "seed": int(rng.integers(100_000)),
        "kind": one_of(rng, ("", "", *KINDS)),
        "family": one_of(rng, ("", "a", "b", "c")),
    }
    drills = DrillPool(notes).drills(**asked)
    answers = [_answers(drill, rng) for drill in drills]
    unit = one_of(rng, "CF")
    page = {
        **asked,
        "unit": unit,
        "answers": answers,
        "notes": {
            **page_names(replace(notes, curves={}, meters=(), thermometers=())),
            "curves": list(notes.curves),
            "meters": [named_for_page(tool) for tool in notes.meters],
            "thermometers": [named_for_page(tool) for tool in notes.thermometers],
        },
    }

    def answer() -> dict[str, object]:
        given = zip(drills, answers, strict=True)
        return {
            "drills": list(drills),
            "marks": [_marked(d, answers=a, notes=notes, unit=unit) for d, a in given],
        }

    return page, answer
