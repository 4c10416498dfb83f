"""Which column of a sheet is what: found by the trade's words, wherever its head stands."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from kb.columns.column import MOST_ITEMS, Column, find_column, plain_header, sheet_columns
from kb.model import KINDS

from .draft import Draft, Fault, Place
from .table_file import Table, column_letter

BROUGHT = (
    *("sensors", "codes", "parts", "sources", "families", "curves", "instruments", "cases"),
    "terms",
)
"""Kinds that a sheet can hold, a row for each entry."""
MOSTLY_BROUGHT = BROUGHT[:3]
"""Meant where the columns of a sheet would suit another kind just as well."""
NO_SHEET = {
    "methods": "a method is cautions and steps to be read whole and in order, and no row of cells",
    "lessons": "a lesson is pages to be read in order, and no row of cells",
}
"""Kinds that have no sheet, and why."""
ID_NAMES = ("id", "file", "file name", "entry")
ALIKE = 0.82
"""A column's name this near to a known one is a slip of the pen and no column of somebody's own.
Common practice, no source."""
HEAD_WITHIN = 12
"""Rows in which the names of the columns are looked for: titles may stand above them."""


@dataclass(frozen=True, kw_only=True)
class Heading:
    """What a column of a sheet is."""

    index: int
    header: str
    column: Column | None
    number: int = 1
    """Of which item, from 1."""


@dataclass
class Read:
    """What a sheet holds."""

    drafts: list[Draft] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def kind_of_table(table: Table, *, kinds: Sequence[str] = BROUGHT) -> str:
    """Return the kind that a sheet holds, by its name or its columns; empty if neither says."""
    for kind in kinds:
        if re.search(rf"\b({kind}|{KINDS[kind].noun})\b", table.name.replace("_", " "), re.I):
            return kind
    counts = {kind: columns_known(table, columns=sheet_columns(kind))[0] for kind in kinds}
    best = max(counts, key=lambda kind: counts[kind])
    alike = [kind for kind in counts if counts[kind] == counts[best]]
    if len(alike) > 1:
        alike = [kind for kind in alike if kind in MOSTLY_BROUGHT] or alike
        best = alike[0]
    return best if counts[best] >= 2 and len(alike) == 1 else ""


def columns_known(table: Table, *, columns: Sequence[Column]) -> tuple[int, int]:
    """Return the most columns that a row of the head names, and at which row."""
    # A letter alone names nothing.
    counts = [
        (sum(len(h) > 1 and find_column(columns, header=h) is not None for h in headers), at)
        for at, headers in (
            (at, [cell.text for cell in cells])
            for at, (_, cells) in enumerate(table.rows[:HEAD_WITHIN])
        )
    ]
    return max(counts, key=lambda count: (count[0], -count[1]), default=(0, 0))


def headings_of(
    table: Table, *, at: int, columns: Sequence[Column], kind: str, read: Read
) -> list[Heading]:
    number, cells = table.rows[at]
    found: list[Heading] = []
    known = [name for column in columns for name in column.names]
    for index, cell in enumerate(cells):
        if not cell.text:
            continue
        place = cell_place(table, row=number, index=index, header=cell.text)
        if plain_header(cell.text) in ID_NAMES:
            found.append(Heading(index=index, header=cell.text, column=None))
            continue
        meant = find_column(columns, header=cell.text)
        if meant is None and _too_far(columns, header=cell.text):
            message = f"'{cell.text}' is beyond the {MOST_ITEMS} items that may have columns"
            hint = "number them 1, 2, 3"
            read.faults.append(Fault(place=place, rule="column", message=message, hint=hint))
            continue
        if meant is None:
            near = difflib.get_close_matches(plain_header(cell.text), known, n=1, cutoff=ALIKE)
            if near:
                message = f"there is no column '{cell.text}'"
                hint = f"did you mean '{near[0]}'? See ohmfolio bring --columns {kind}"
                read.faults.append(Fault(place=place, rule="column", message=message, hint=hint))
            else:
                read.remarks.append(
                    f"Left out: {place.words}, which is no field of a {KINDS[kind].noun}."
                )
            continue
        twice = [head for head in found if head.column is meant[0] and head.number == meant[1]]
        if twice:
            message = f"'{twice[0].header}' and '{cell.text}' are the same column"
            read.faults.append(
                Fault(place=place, rule="column", message=message, hint="keep one of the two")
            )
            continue
        found.append(Heading(index=index, header=cell.text, column=meant[0], number=meant[1]))
    return found


def _too_far(columns: Sequence[Column], *, header: str) -> bool:
    """Return whether a heading means an item of a list that no list has."""
    numbered = re.fullmatch(r"(.*?) ?\d+", plain_header(header))
    meant = find_column(columns, header=numbered[1]) if numbered else None
    return meant is not None and meant[0].repeats


def cell_place(table: Table, *, row: int, index: int, header: str, text: str = "") -> Place:
    words = f"{table.label}, row {row}, column {column_letter(index)} '{header}'"
    return Place(
        words=words, text=text, table=table.label, header=header, row=row, column=index + 1
    )
