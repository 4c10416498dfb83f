"""No insulation tester near a sensor or a board: its volts destroy what they should prove."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import Code, Entry, Method, Part, Sensor
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.rated_voltage import rated_test
from kb.numbers.rounding import format_ohm, format_plain

WOUND = ("motor", "compressor", "fan")
"""Parts with a motor winding."""


def no_tester_on_electronics(entry: Sensor | Part, *, notes: Notes) -> Iterator[Problem]:
    """Yield each insulation test that is meant for a sensor or a board."""
    what = "a sensor"
    if isinstance(entry, Part):
        if entry.is_a != "board":
            return
        what = "a board"
        if entry.insulation is not None:
            yield _never(notes, entry, ("insulation",), what)
    for i, method_id in enumerate(entry.methods):
        if _insulation(notes, method_id):
            yield _never(notes, entry, ("methods", i), what)


def no_tester_for_suspects(code: Code, *, notes: Notes) -> Iterator[Problem]:
    """Yield each suspect of a code that is electronics, and is to be tested with a tester."""
    for i, suspect in enumerate(code.suspects):
        accused = notes.of(Part).get(suspect.part or "")
        board = accused is not None and accused.is_a == "board"
        if (suspect.sensor or board) and _insulation(notes, suspect.method or ""):
            what = "a board" if board else "a sensor"
            yield _never(notes, code, ("suspects", i, "method"), what)


def limits_suit_the_rating(part: Part, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a test voltage or a limit that its rated voltage speaks against."""
    limit = part.insulation
    if limit is None or limit.rated_v is None:
        return
    asked = rated_test(limit.rated_v, wound=part.is_a in WOUND)
    rated = f"a part rated {format_plain(limit.rated_v)} V"
    if limit.test_v > asked.most_v:
        yield notes.problem(
            part,
            ("insulation", "test_v"),
            "insulation-test",
            f"{format_plain(limit.test_v)} V is more than the {format_plain(asked.most_v)} V "
            f"for {rated} ({asked.volts_source})",
            hint="the maker's sheet decides: look there again, or at 'rated_v'",
            warning=True,
        )
    if limit.min_ohm < asked.least_ohm:
        yield notes.problem(
            part,
            ("insulation", "min_ohm"),
            "insulation-test",
            f"{format_ohm(limit.min_ohm)} is less than the {format_ohm(asked.least_ohm)} that "
            f"any circuit of {rated} must have ({asked.ohm_source})",
            hint="the maker's sheet decides: look there again, or at 'rated_v'",
            warning=True,
        )


def hermetic_is_a_motor(part: Part, *, notes: Notes) -> Iterator[Problem]:
    """Yield each part without a motor winding that is said to stand in refrigerant."""
    if part.insulation is not None and part.insulation.hermetic and part.is_a not in WOUND:
        yield notes.problem(
            part,
            ("insulation", "hermetic"),
            "insulation-test",
            f"a {part.is_a} has no motor winding that stands in refrigerant",
            hint="leave 'hermetic' out; it is for a compressor or a canned motor",
        )


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
