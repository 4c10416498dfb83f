"""Entries that are to be written: their text, where each word came from, and what check says."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from kb.check import problems_of
from kb.check.references import id_hint
from kb.editor import keeps_schemas, with_modeline
from kb.entry_file.edited import CannotEdit, Order, edited
from kb.entry_file.entry_text import entry_text, in_order, model_of
from kb.model import KINDS
from kb.model.shape import block_at
from kb.notes.folder import DATA
from kb.notes.load import Notes, load_entry
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

Way = tuple[str | int, ...]
BOTH = "give both, the lowest and the highest"
OF_A_FAMILY = ("sensors", "codes", "parts", "drawings", "cases")
"""Kinds that stand in a folder for each family."""


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where a value was given: a cell, or a question.

    Parameters
    ----------
    words : str
        Such as `sensors.csv, row 4, column F 'curve'`, or `--curve`.
    text : str
        What was given there.
    table, header : str
        The sheet, and the column by its name; empty for a question.
    row, column : int
        From 1; 0 where there is none.
    """

    words: str
    text: str = ""
    table: str = ""
    header: str = ""
    row: int = 0
    column: int = 0


@dataclass(frozen=True, kw_only=True)
class Draft:
    """An entry as it is to be.

    Parameters
    ----------
    value : mapping
        The whole of it, as its file is to hold it.
    places : mapping
        From the way to a field to where it was given.
    refs : tuple
        Ids that it names: the way, the kind, the id.
    whole : Place
        What to name when a fault has no field of its own: the row.
    """

    kind: str
    entry_id: str
    value: Mapping[str, object]
    whole: Place
    places: Mapping[Way, Place] = field(default_factory=dict)
    refs: tuple[tuple[Way, str, str], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Fault:
    """What is wrong with a draft, and where it was given."""

    place: Place
    rule: str
    message: str
    hint: str = ""
    warning: bool = False

    def picture(self) -> str:
        """Return place, what is wrong, what stands there, and what would work."""
        mark = "warning: " if self.warning else ""
        rows = [f"{self.place.words}: {mark}{self.rule}: {self.message}"]
        if self.place.text and self.place.text not in self.message:
            rows.append(f"    {self.place.text}")
        if self.hint:
            rows.append(f"    hint: {self.hint}")
        return "\n".join(rows)

    def as_json(self) -> dict[str, object]:
        """Return the fields that `--json` promises."""
        place = self.place
        return {
            "place": place.words,
            "table": place.table,
            "row": place.row or None,
            "column": place.column or None,
            "header": place.header,
            "rule": self.rule,
            "message": self.message,
            "hint": self.hint,
        }


@dataclass(frozen=True, kw_only=True)
class Written:
    """A file as it stands and as it would be."""

    path: str
    kind: str
    entry_id: str
    stood: bytes | None
    """What stands there; None where nothing does."""
    after: str

    @property
    def before(self) -> str | None:
        """The text that stands there."""
        return None if self.stood is None else self.stood.decode("utf-8-sig", errors="replace")

    def diff(self) -> str:
        """Return the lines that differ."""
        if self.before is None:
            return "".join(f"+ {line}\n" for line in self.after.splitlines())
        lines = difflib.unified_diff(
            self.before.splitlines(), self.after.splitlines(), lineterm="", n=1
        )
        return "".join(f"{line[:1]} {line[1:]}\n" for line in list(lines)[2:] if line[:2] != "@@")


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What would be written, and what is wrong with it; nothing counts when there is a fault."""

    files: tuple[Written, ...]
    faults: tuple[Fault, ...]
    warnings: tuple[Fault, ...]


def tried(drafts: Sequence[Draft], *, notes: Notes) -> Outcome:
    """Put drafts into loaded notes (not on the disk), and return what check then says of them.

    Parameters
    ----------
    drafts : sequence of Draft
    notes : Notes
        Loaded; they hold the drafts afterwards.
    """
    before = set(problems_of(notes))
    files: list[Written] = []
    faults: list[Fault] = []
    by_file: dict[str, Draft] = {}
    seen: set[tuple[str, str]] = set()
    for draft in drafts:
        if (draft.kind, draft.entry_id) in seen:
            continue  # whoever read the drafts says that two are one
        seen.add((draft.kind, draft.entry_id))
        try:
            written = _written(draft, notes=notes)
        except CannotEdit as error:
            path = notes.texts[(draft.kind, draft.entry_id)].file
            hint = f"see 'ohmfolio check', mend {path}, and bring the sheet again"
            faults.append(
                Fault(place=draft.whole, rule="cannot-edit", message=str(error), hint=hint)
            )
            continue
        by_file[written.path] = draft
        if written.before != written.after:
            files.append(written)
            _load(written, notes=notes)
    for problem in problems_of(notes):
        if problem not in before:
            faults.append(_placed(problem, by_file=by_file, notes=notes))
    faults += _unknown_ids(drafts, notes=notes)
    faults.sort(key=lambda fault: (fault.place.table, fault.place.row, fault.place.column))
    return Outcome(
        files=tuple(files),
        faults=tuple(fault for fault in faults if not fault.warning),
        warnings=tuple(fault for fault in faults if fault.warning),
    )


def _unknown_ids(drafts: Sequence[Draft], *, notes: Notes) -> Iterator[Fault]:
    """Yield each id that is not there, of entries that other faults keep check from reading."""
    hints: dict[tuple[str, str], str] = {}
    for draft in drafts:
        if (draft.kind, draft.entry_id) not in notes.broken:
            continue
        for way, kind, entry_id in draft.refs:
            if not notes.knows(kind, entry_id):
                if (kind, entry_id) not in hints:
                    hints[kind, entry_id] = id_hint(notes, kind=kind, entry_id=entry_id)
                yield Fault(
                    place=draft.places.get(way, draft.whole),
                    rule="unknown-id",
                    message=f"there is no {KINDS[kind].noun} '{entry_id}'",
                    hint=hints[kind, entry_id],
                )


def _written(draft: Draft, *, notes: Notes) -> Written:
    read = notes.texts.get((draft.kind, draft.entry_id))
    # What was begun on the way to this one is in the notes already, and not on the disk.
    if read is None or not (notes.folder / read.file).is_file():
        path, stood = path_for(draft.kind, entry_id=draft.entry_id, value=draft.value), None
        after = entry_text(draft.kind, value=draft.value)
        if keeps_schemas(notes.folder):
            after = with_modeline(after, file=path)
    else:
        path = read.file
        stood = (notes.folder / path).read_bytes()
        before = stood.decode("utf-8-sig", errors="replace")
        after = edited(before, value=draft.value, order=order_of(draft))
    return Written(path=path, kind=draft.kind, entry_id=draft.entry_id, stood=stood, after=after)


def order_of(draft: Draft) -> Order:
    """Return where a new field of an entry goes."""
    model = model_of(draft.kind, value=draft.value)
    fields = dict.fromkeys(model.model_fields)

    def order(way: tuple[str, ...]) -> Sequence[str]:
        return (
            list(block_at(model, (*way, "")).model_fields) if way else in_order(model, value=fields)
        )

    return order


def path_for(kind: str, *, entry_id: str, value: Mapping[str, object]) -> str:
    """Return the file of a new entry, from the folder of the notes."""
    families = value.get("families")
    first = families[0] if isinstance(families, list) and families else value.get("family")
    folder = f"{kind}/{first}" if kind in OF_A_FAMILY and first else kind
    return f"{DATA}/{folder}/{entry_id}.yaml"


def _load(written: Written, *, notes: Notes) -> None:
    key = (written.kind, written.entry_id)
    # What is new was accused of nothing yet; of thousands, each would look through all the others'.
    if written.stood is not None:
        notes.problems = [problem for problem in notes.problems if problem.file != written.path]
    notes.broken.discard(key)
    notes.entries[written.kind].pop(written.entry_id, None)
    load_entry(
        written.after.encode(),
        kind=written.kind,
        entry_id=written.entry_id,
        file=written.path,
        notes=notes,
    )


def _placed(problem: Problem, *, by_file: Mapping[str, Draft], notes: Notes) -> Fault:
    """Return a problem of a file that is not written yet, placed where its words were given."""
    draft = by_file.get(problem.file)
    if draft is None:
        place = Place(words=f"{problem.file}:{problem.line}:{problem.column}", text=problem.text)
    else:
        place = _place(problem, draft=draft, read=notes.texts[(draft.kind, draft.entry_id)])
    return Fault(
        place=place,
        rule=problem.rule,
        message=problem.message,
        hint=BOTH if "should be a pair" in problem.message else problem.hint,
        warning=problem.warning,
    )


def _place(problem: Problem, *, draft: Draft, read: YamlText) -> Place:
    missing = re.match(r"'(\w+)' is missing", problem.message)
    ways: Iterable[Way] = [
        way
        for marks in (read.marks, read.key_marks)
        for way, mark in marks.items()
        if (mark.line, mark.column) == (problem.line, problem.column)
    ]
    if problem.rule == "missing-key" and missing:
        ways = [(*way, missing[1]) for way in ways]
    for way in sorted(ways, key=len, reverse=True):
        for length in range(len(way), 0, -1):
            found = draft.places.get(way[:length])
            if found is not None:
                return found
    # A list that is split over columns: the first of them stands for it.
    for way in ways:
        for given, found in draft.places.items():
            if way and given[: len(way)] == way:
                return found
    return draft.whole
