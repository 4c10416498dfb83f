"""One place holds one thing: a pair of pins one sensor, a pin of a drawing one sensor or part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kb.model import Drawing, Part, Sensor
from kb.notes.load import Notes
from kb.notes.problem import Problem


def plug_of(sensor: Sensor) -> Iterator[str]:
    """Yield what a sensor must not have in common with another: board, plug and pins."""
    if sensor.plug is not None:
        pins = sorted({pin.casefold() for pin in sensor.plug.pins})
        yield "\n".join((sensor.plug.board, _mark(sensor.plug.mark), *pins))


def plugs_hold_one_sensor(sensors: Sequence[Sensor], *, notes: Notes) -> Iterator[Problem]:
    """Warn of each sensor on the very pins of another, unless one of them says it is meant.

    A pin that two share, a common ground, is no fault: only the same set of pins is.
    """
    seen: dict[tuple[str, str], list[Sensor]] = {}
    for sensor in sensors:
        if sensor.plug is None:
            continue
        there = seen.setdefault((sensor.plug.board, _mark(sensor.plug.mark)), [])
        other = next((other for other in there if _same_pins(sensor, other)), None)
        there.append(sensor)
        if other is None:
            continue
        pins = f" pins {' and '.join(sensor.plug.pins)}" if sensor.plug.pins else ""
        message = f"the sensor '{other.id}' is on {sensor.plug.mark}{pins} of this board too"
        hint = f"one of the two is a slip; if both are wired so, add 'shared_with: [{other.id}]'"
        if not pins:
            hint = "say the pins of each, as in 'pins: [1, 2]'"
        yield notes.problem(
            sensor,
            ("plug", "pins" if pins else "mark"),
            "same-plug",
            message,
            hint=hint,
            warning=True,
        )


def _mark(mark: str) -> str:
    return "".join(mark.casefold().split())


def _same_pins(sensor: Sensor, other: Sensor) -> bool:
    """Return whether two sensors of one plug are on the same pins, and neither says it is meant."""
    ours, theirs = sensor.plug, other.plug
    if ours is None or theirs is None:
        return False
    if other.id in ours.shared_with or sensor.id in theirs.shared_with:
        return False
    return {pin.casefold() for pin in ours.pins} == {pin.casefold() for pin in theirs.pins}


def pin_of(entry: Sensor | Part) -> Iterator[str]:
    """Yield what an entry must not have in common with another: its pin of a drawing."""
    if entry.pinned is not None:
        yield f"{entry.pinned.drawing}\n{entry.pinned.pin}"


def pins_show_one_thing(entries: Sequence[Sensor | Part], *, notes: Notes) -> Iterator[Problem]:
    """Warn of each sensor or part on a drawing's pin that another one has."""
    seen: dict[tuple[str, str], Sensor | Part] = {}
    for entry in entries:
        if entry.pinned is None:
            continue
        drawing = notes.of(Drawing).get(entry.pinned.drawing)
        pin = drawing.pins.get(entry.pinned.pin) if drawing is not None else None
        if drawing is None or pin is None or pin.several:
            continue
        first = seen.setdefault((drawing.id, entry.pinned.pin), entry)
        if first is not entry:
            yield notes.problem(
                entry,
                ("pinned", "pin"),
                "same-pin",
                f"the {first.noun} '{first.id}' has this pin of the drawing too",
                hint="one of the two is a slip; if both sit there, add 'several: yes' to the pin "
                f"in {notes.texts[('drawings', drawing.id)].file}",
                warning=True,
            )
