"""What a family's entries name belongs to that family: sensors, parts, plugs, pins, drawings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kb.model import Case, Code, Drawing, Entry, Part, Sensor
from kb.model.shape import references
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest

from .missing_files import MOST_NAMED, is_slip

_BELONG = ("sensors", "codes", "parts", "drawings")
"""Kinds whose entries belong to a family."""


def one_family_throughout(entry: Entry, *, notes: Notes) -> Iterator[Problem]:
    """Yield each sensor, code, part or drawing named by an entry of another family."""
    mine = entry.family_ids
    for path, other_kind, other_id in references(entry) if mine else ():
        other = notes.of_kind(other_kind).get(other_id) if other_kind in _BELONG else None
        if other is None or set(mine) & set(other.family_ids):
            continue
        if not all(notes.knows("families", id_) for id_ in (*mine, *other.family_ids)):
            continue  # the family that is not there is told once, where it is named
        yield notes.problem(
            entry,
            path,
            "other-family",
            f"the {other.noun} '{other_id}' belongs to "
            f"'{', '.join(other.family_ids)}', not to '{', '.join(mine)}'",
            hint=_meant(notes, other, ids=_ids(notes, other_kind, mine)),
        )


def _meant(notes: Notes, other: Entry, *, ids: list[str]) -> str:
    """Offer the family's own entry where it is a slip away; else say where the two disagree."""
    slips = [own_id for own_id in ids if is_slip(other.id, of=own_id)]
    if slips:
        return f"did you mean '{slips[0]}'?"
    file = notes.texts[(other.kind, other.id)].file
    own = f"there is: {', '.join(ids[:MOST_NAMED])}; " if ids else ""
    return f"{own}or mend the family in {file}"


def _ids(notes: Notes, kind: str, families: tuple[str, ...]) -> list[str]:
    entries = notes.of_kind(kind).values()
    return [entry.id for entry in entries if set(entry.family_ids) & set(families)]


def label_of(sensor: Sensor) -> Iterator[str]:
    """Yield what a sensor must not have in common with another: its family and its label."""
    yield f"{sensor.family}\n{sensor.label.casefold()}"


def labels_stand_once(sensors: Sequence[Sensor], *, notes: Notes) -> Iterator[Problem]:
    """Yield each sensor with the label of another one on the same family."""
    seen: dict[tuple[str, str], str] = {}
    for sensor in sensors:
        first = seen.setdefault((sensor.family, sensor.label.casefold()), sensor.id)
        if first != sensor.id:
            yield notes.problem(
                sensor,
                ("label",),
                "same-label",
                f"the sensor '{first}' of this family has the label '{sensor.label}' too",
                hint="who reads a label off the diagram must find one sensor: look which is which",
            )


def plugs_are_on_boards(sensor: Sensor, *, notes: Notes) -> Iterator[Problem]:
    """Yield each plug that is said to sit on a part which is no board."""
    if sensor.plug is None:
        return
    part = notes.of(Part).get(sensor.plug.board)
    if part is not None and part.is_a != "board":
        boards = [
            part_id
            for part_id in _ids(notes, "parts", (sensor.family,))
            if notes.of(Part)[part_id].is_a == "board"
        ]
        yield notes.problem(
            sensor,
            ("plug", "board"),
            "no-board",
            f"the part '{part.id}' is a {part.is_a}, not a board",
            hint=nearest(part.id, boards),
        )


def pins_are_on_their_drawing(entry: Sensor | Part, *, notes: Notes) -> Iterator[Problem]:
    """Yield a pin that its drawing does not have."""
    pinned = entry.pinned
    drawing = notes.of(Drawing).get(pinned.drawing) if pinned is not None else None
    if pinned is None or drawing is None or pinned.pin in drawing.pins:
        return
    yield notes.problem(
        entry,
        ("pinned", "pin"),
        "unknown-pin",
        f"the drawing '{drawing.id}' has no pin '{pinned.pin}'",
        hint=nearest(pinned.pin, drawing.pins),
    )


def causes_are_known(case: Case, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a case whose cause its code does not list: the counts on the code's page miss it."""
    code = notes.of(Code).get(case.code or "")
    if code is None or case.cause.key in {suspect.key for suspect in code.suspects}:
        return
    name = next(n for n in ("sensor", "part", "what") if getattr(case.cause, n) is not None)
    words = [suspect.what for suspect in code.suspects if suspect.what]
    yield notes.problem(
        case,
        ("cause", name),
        "unlisted-cause",
        f"the code '{code.id}' does not list this cause among its suspects",
        hint=nearest(case.cause.what or "", words)
        if name == "what" and words
        else "add it there, so that this case counts in the order of checks",
        warning=True,
    )
