"""No insulation tester near a sensor or a board: its volts destroy what they should prove."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import Code, Entry, Method, Part, Sensor
from kb.notes.load import Notes
from kb.notes.problem import Problem


def no_tester_on_electronics(notes: Notes) -> Iterator[Problem]:
    """Yield each insulation test that is meant for a sensor or a board."""
    for sensor in notes.of(Sensor).values():
        for i, method_id in enumerate(sensor.methods):
            if _insulation(notes, method_id):
                yield _never(notes, sensor, ("methods", i), "a sensor")
    for part in notes.of(Part).values():
        if part.is_a != "board":
            continue
        if part.insulation is not None:
            yield _never(notes, part, ("insulation",), "a board")
        for i, method_id in enumerate(part.methods):
            if _insulation(notes, method_id):
                yield _never(notes, part, ("methods", i), "a board")
    for code in notes.of(Code).values():
        for i, suspect in enumerate(code.suspects):
            accused = notes.of(Part).get(suspect.part or "")
            board = accused is not None and accused.is_a == "board"
            if (suspect.sensor or board) and _insulation(notes, suspect.method or ""):
                what = "a board" if board else "a sensor"
                yield _never(notes, code, ("suspects", i, "method"), what)


def _insulation(notes: Notes, method_id: str) -> bool:
    method = notes.of(Method).get(method_id)
    return method is not None and method.judges == "insulation"


def _never(notes: Notes, entry: Entry, path: tuple[str | int, ...], what: str) -> Problem:
    return notes.problem(
        entry,
        path,
        "insulation-test",
        f"an insulation test on {what} destroys it",
        hint="insulation tests only on what is disconnected from electronics",
    )
