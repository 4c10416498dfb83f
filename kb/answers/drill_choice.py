"""Drills with one right choice: a lamp's code, a place, a plug, what would kill a new part."""

from __future__ import annotations

from kb.numbers.seeded import Seeded

from .drill import Drill, bare, choices_of, different_words, unstopped
from .drill_notes import DrillCode, DrillNotes, DrillPart, DrillSensor
from .statement import Statement


def on_lamps(notes: DrillNotes) -> list[DrillCode]:
    """Return the codes that a lamp shows, where other codes of the family are a choice."""
    return [code for code in notes.codes if code.lamps and _other_codes(code, notes=notes)]


def code_of_blinks(code: DrillCode, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: which code is this lamp?"""
    lamp = draw.chosen(code.lamps)
    choices, right = choices_of(code.name, others=_other_codes(code, notes=notes), draw=draw)
    return Drill(
        kind="blinks",
        form="choice",
        family=code.family,
        about=f"codes/{code.id}",
        ask=Statement(id="drill.ask-blinks", figures={"lamp": lamp.lamp}),
        choices=choices,
        right=right,
        bars=lamp.bars,
        figures={"long": float(lamp.long), "short": float(lamp.short)},
        because=(
            Statement(
                id="drill.because-blinks",
                figures={"long": lamp.long, "short": lamp.short, "code": code.name},
            ),
        ),
    )


def on_drawings(notes: DrillNotes) -> list[DrillSensor]:
    """Return the sensors whose place can be tapped."""
    return [
        sensor
        for sensor in notes.sensors
        if _taps(sensor.drawing, pin=sensor.pin, notes=notes) and _places(sensor, notes=notes)
    ]


def place_of_sensor(sensor: DrillSensor, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: where is it? Tapped, or chosen in words."""
    where = notes.pins[sensor.drawing][sensor.pin]
    choices, right = choices_of(where, others=_places(sensor, notes=notes), draw=draw)
    return Drill(
        kind="place",
        form="tap",
        family=sensor.family,
        about=f"sensors/{sensor.id}",
        ask=Statement(id="drill.ask-place", figures={"sensor": sensor.name}),
        choices=choices,
        right=right,
        drawing=sensor.drawing,
        pin=sensor.pin,
        because=(
            Statement(
                id="drill.because-place", figures={"sensor": sensor.name, "where": unstopped(where)}
            ),
        ),
    )


def with_plugs(notes: DrillNotes) -> list[DrillSensor]:
    """Return the sensors whose plug can be asked for: its mark is not given away by their name."""
    return [
        sensor
        for sensor in notes.sensors
        if sensor.plug
        and bare(sensor.plug) not in bare(sensor.name)
        and different_words(sensor.plug, others=_plugs(sensor, notes=notes))
    ]


def plug_of_sensor(sensor: DrillSensor, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: which plug is its own? Tapped where a drawing shows it, else chosen by its mark."""
    choices, right = choices_of(sensor.plug, others=_plugs(sensor, notes=notes), draw=draw)
    tapped = _taps(sensor.plug_drawing, pin=sensor.plug, notes=notes)
    return Drill(
        kind="plug",
        form="tap" if tapped else "choice",
        family=sensor.family,
        about=f"sensors/{sensor.id}",
        ask=Statement(id="drill.ask-plug", figures={"sensor": sensor.name}),
        choices=choices,
        right=right,
        drawing=sensor.plug_drawing if tapped else "",
        pin=sensor.plug if tapped else "",
        because=(
            Statement(
                id="drill.because-plug", figures={"sensor": sensor.name, "plug": sensor.plug}
            ),
        ),
    )


def that_are_killed(notes: DrillNotes) -> list[DrillPart]:
    """Return the parts of which the notes say what would kill a new one, and what comes after."""
    return [part for part in notes.parts if part.kills and _afterwards(part, notes=notes)]


def what_would_kill(part: DrillPart, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: what is ruled out before a new one goes in?

    What is only read when it runs again kills nothing: that is what is wrong about the others.
    """
    kills = draw.chosen(part.kills)
    choices, right = choices_of(kills, others=_afterwards(part, notes=notes), draw=draw)
    return Drill(
        kind="kills",
        form="choice",
        family=part.families[0],
        about=f"parts/{part.id}",
        ask=Statement(id="drill.ask-kills", figures={"part": part.name}),
        choices=choices,
        right=right,
        because=(
            Statement(
                id="drill.because-kills", figures={"part": part.name, "kills": unstopped(kills)}
            ),
        ),
    )


def _other_codes(code: DrillCode, *, notes: DrillNotes) -> list[str]:
    """Return the names of the family's other codes that no lamp shows by one of its patterns."""
    own = {(lamp.long, lamp.short) for lamp in code.lamps}
    return [
        other.name
        for other in notes.codes_of(code.family)
        if other.id != code.id
        and not own & {(lamp.long, lamp.short) for lamp in other.lamps}
        and bare(other.name) != bare(code.name)
    ]


def _taps(drawing: str, *, pin: str, notes: DrillNotes) -> bool:
    return pin in notes.pins.get(drawing, {})


def _places(sensor: DrillSensor, *, notes: DrillNotes) -> list[str]:
    """Return where the drawing's other pins are; none where the words name the sensor itself."""
    pins = notes.pins[sensor.drawing]
    where = bare(pins[sensor.pin])
    if bare(sensor.label) in where:
        return []
    return [words for words in pins.values() if bare(words) != where]


def _plugs(sensor: DrillSensor, *, notes: DrillNotes) -> list[str]:
    return [
        other.plug
        for other in notes.sensors_of(sensor.family)
        if other.plug and bare(other.plug) != bare(sensor.plug)
    ]


def _afterwards(part: DrillPart, *, notes: DrillNotes) -> list[str]:
    """Return what is only looked at afterwards: its own, then that of its families' other parts.

    What would kill it is left out, wherever it stands as well.
    """
    kills = {bare(words) for words in part.kills}
    others = notes.parts_of(part.families)
    lines = [*part.afterwards, *(words for other in others for words in other.afterwards)]
    return [words for words in dict.fromkeys(lines) if bare(words) not in kills]
