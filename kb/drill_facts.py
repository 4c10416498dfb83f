"""From entries to what drills are made from."""

from __future__ import annotations

from typing import TypeVar

from kb.answers.drill_lamp import Pace, lamp_bars
from kb.answers.drill_notes import (
    DrillCode,
    DrillFamily,
    DrillNotes,
    DrillPart,
    DrillSensor,
    DrillSuspect,
    Lamp,
)
from kb.catalog import Catalog, plain_name, reading_order, shown_name, spoken
from kb.facts import kit_of, team_short_ohm
from kb.model import Code, Drawing, Entry, Family, Instrument, Part, Sensor
from kb.model.code import Blinks, Suspect
from kb.suspects import rank_suspects

E = TypeVar("E", bound=Entry)


def drill_notes(catalog: Catalog) -> DrillNotes:
    """Return what drills are made from; drafts are left out: nobody has looked at them yet."""
    kit = kit_of(catalog)
    sensors = tuple(_sensor(catalog, entry=sensor) for sensor in _checked(catalog, model=Sensor))
    return DrillNotes(
        families=tuple(map(_family, _checked(catalog, model=Family))),
        sensors=sensors,
        codes=tuple(_code(catalog, code=code) for code in _checked(catalog, model=Code)),
        parts=tuple(_part(part) for part in _checked(catalog, model=Part)),
        meters=tuple(kit.meters),
        thermometers=tuple(kit.thermometers),
        curves={
            curve_id: curve
            for curve_id, curve in catalog.computing_curves.items()
            if any(sensor.curve_id == curve_id for sensor in sensors)
        },
        pins={
            drawing.id: {name: pin.where for name, pin in drawing.pins.items()}
            for drawing in catalog.all(Drawing).values()
            if any(drawing.id in (sensor.drawing, sensor.plug_drawing) for sensor in sensors)
        },
        over_shows={
            tool.id: tool.over_shows
            for tool in catalog.all(Instrument).values()
            if tool.over_shows is not None
        },
        short_ohm=team_short_ohm(catalog),
    )


def _checked(catalog: Catalog, *, model: type[E]) -> list[E]:
    entries = (entry for entry in catalog.all(model).values() if entry.checked is not None)
    return sorted(entries, key=reading_order)


def _family(family: Family) -> DrillFamily:
    return DrillFamily(
        id=family.id,
        name=family.name,
        isolate_at=family.supply.isolate_at,
        drain_min=family.drain_min,
        drained_below_v=family.drained_below_v,
        drain_at=family.drain_at,
        no_charge=family.no_charge or "",
    )


def _sensor(catalog: Catalog, *, entry: Sensor) -> DrillSensor:
    plug = entry.plug.mark if entry.plug else ""
    computes = entry.testable and entry.curve in catalog.computing_curves
    return DrillSensor(
        id=entry.id,
        family=entry.family,
        name=shown_name(entry),
        label=entry.label,
        curve_id=entry.curve or "" if computes else "",
        meets_c=entry.meets_c,
        allow_k=entry.allow_k or 0.0,
        drawing=entry.pinned.drawing if entry.pinned else "",
        pin=entry.pinned.pin if entry.pinned else "",
        plug=plug,
        plug_drawing=_drawing_with(catalog, pin=plug, family_id=entry.family),
    )


def _drawing_with(catalog: Catalog, *, pin: str, family_id: str) -> str:
    """Return the family's first drawing with a pin of that name; "" for none."""
    drawings = catalog.of_family(Drawing, family_id)
    return next((drawing.id for drawing in drawings if pin and pin in drawing.pins), "")


def _code(catalog: Catalog, *, code: Code) -> DrillCode:
    ranking = rank_suspects(code, cases=catalog.cases_of(code))
    return DrillCode(
        id=code.id,
        family=code.family,
        name=_without_blinks(code),
        lamps=tuple(
            _lamp(catalog, code=code, blinks=way.blinks) for way in code.shown if way.blinks
        ),
        suspects=tuple(
            DrillSuspect(
                name=_suspect_name(catalog, suspect=row.suspect),
                share=row.share,
                minutes=float(row.suspect.minutes),
            )
            for row in ranking.suspects
        ),
    )


def _without_blinks(code: Code) -> str:
    """Return a code's name with what a display shows: its blinks would give a drill away."""
    texts = [way.text or way.asked for way in code.shown if way.blinks is None]
    name = plain_name(code)
    for way in code.shown:
        name = name.removeprefix(spoken(way)).lstrip(" :,") or name
    return f"{texts[0]}: {name}" if texts else name


def _lamp(catalog: Catalog, *, code: Code, blinks: Blinks) -> Lamp:
    pace = _pace(catalog.get(Family, code.family), lamp=blinks.lamp)
    return Lamp(
        lamp=blinks.lamp,
        long=blinks.long,
        short=blinks.short,
        bars=lamp_bars(blinks.long, short=blinks.short, pace=pace),
    )


def _pace(family: Family, *, lamp: str) -> Pace:
    """Return the pace of the controller that names the lamp, else of the first that has one."""
    paces = [controller for controller in family.controllers if controller.pace is not None]
    words = lamp.casefold()
    named = [controller for controller in paces if words in controller.name.casefold()]
    for controller in (*named, *paces):
        if controller.pace is not None:
            return Pace(**controller.pace.model_dump())
    return Pace()


def _suspect_name(catalog: Catalog, *, suspect: Suspect) -> str:
    if suspect.sensor is not None:
        return shown_name(catalog.get(Sensor, suspect.sensor))
    return catalog.get(Part, suspect.part).name if suspect.part else suspect.what or ""


def _part(part: Part) -> DrillPart:
    return DrillPart(
        id=part.id,
        families=tuple(part.families),
        name=part.name,
        kills=tuple(part.rule_out),
        afterwards=tuple(f"{proof.what}: {proof.must}" for proof in part.prove),
    )
