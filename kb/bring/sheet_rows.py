"""From a sheet to drafts: which column is what, which row is which entry, and every wrong cell."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from kb.columns.cell import TAKE_OUT, CellFault, same, value_of
from kb.columns.column import Column, find_column, sheet_columns
from kb.columns.values import (
    Meant,
    Value,
    at,
    id_for,
    in_cells,
    in_file,
    name_for,
    with_value,
    without_gaps,
)
from kb.notes.load import Notes

from .draft import Draft, Fault, Place, Way
from .headings import Heading, Read, cell_place, columns_known, headings_of
from .standing_entries import StandingEntries
from .table_file import Cell, Table


def read_rows(
    table: Table, *, kind: str, notes: Notes, every: Mapping[str, str], coming: Mapping[str, str]
) -> Read:
    """Read every row of a sheet.

    Parameters
    ----------
    table : Table
    kind : str
        One of BROUGHT.
    notes : Notes
    every : mapping
        Column → what stands in it in every row that leaves it empty.
    coming : mapping
        What else is brought: label or id → the sensor's or part's kind and id, as `sensors/id`.
    """
    read = Read(remarks=list(table.remarks))
    columns = sheet_columns(kind)
    _, head = columns_known(table, columns=columns)
    if not table.rows:
        return read
    headings = headings_of(table, at=head, columns=columns, kind=kind, read=read)
    # Asked once: a sheet has thousands of rows, and the notes thousands of entries.
    there = StandingEntries(notes, kind=kind)
    for number, cells in table.rows[head + 1 :]:
        row = _Row(table=table, number=number, cells=cells, kind=kind, notes=notes, there=there)
        row.take(headings, read=read)
        row.fill(every, columns=columns)
        draft = row.draft(coming=coming, read=read)
        if draft is not None:
            read.drafts.append(draft)
    _refuse_twice(read)
    return read


DAYS = ("checked.on", "on", "measured.when")
"""Fields that hold a day, so that a spreadsheet's date is one."""


@dataclass
class _Row:
    """One row on its way to an entry."""

    table: Table
    number: int
    cells: tuple[Cell, ...]
    kind: str
    notes: Notes
    there: StandingEntries
    given: dict[tuple[str, int], object] = field(default_factory=dict)
    """What each cell says, by field and item; None for one that takes a field out."""
    columns: dict[tuple[str, int], Column] = field(default_factory=dict)
    places: dict[tuple[str, int], Place] = field(default_factory=dict)
    entry_id: str = ""
    faulty: bool = False

    @property
    def whole(self) -> Place:
        return Place(
            words=f"{self.table.label}, row {self.number}", table=self.table.label, row=self.number
        )

    def take(self, headings: Sequence[Heading], *, read: Read) -> None:
        """Read each cell by its column."""
        for heading in headings:
            cell = self.cells[heading.index] if heading.index < len(self.cells) else Cell(text="")
            if not cell.text:
                continue
            place = cell_place(
                self.table,
                row=self.number,
                index=heading.index,
                header=heading.header,
                text=cell.text,
            )
            if heading.column is None:
                self.entry_id = cell.text
                continue
            key = (heading.column.field, heading.number)
            self.places[key], self.columns[key] = place, heading.column
            if cell.what == "number" and heading.column.field == "shown.#.text":
                remark = "Codes stand there as numbers: one such as 012 or 1E3 is then another."
                # Once is enough: it is said of the whole column.
                read.remarks += [] if remark in read.remarks else [remark]
            try:
                _refuse_changed(cell, column=heading.column)
                self.given[key] = (
                    None if cell.text == TAKE_OUT else value_of(cell.text, column=heading.column)
                )
            except CellFault as fault:
                self.faulty = True
                read.faults.append(
                    Fault(place=place, rule="cell", message=str(fault), hint=fault.hint)
                )

    def fill(self, every: Mapping[str, str], *, columns: Sequence[Column]) -> None:
        """Take what stands in every row, where this one says nothing."""
        items = {
            field.partition(".#")[0]: number for field, number in sorted(self.given) if "#" in field
        }
        for header, text in every.items():
            meant = find_column(columns, header=header)
            if meant is None:
                continue
            column, first = meant
            last = items.get(column.field.partition(".#")[0], 0) if column.repeats else 1
            for number in range(first, last + 1):
                key = (column.field, number)
                if key not in self.given:
                    self.given[key], self.columns[key] = value_of(text, column=column), column
                    self.places[key] = Place(words=f"--every {header}", text=text)

    def draft(self, *, coming: Mapping[str, str], read: Read) -> Draft | None:
        """Return the entry that the row says; None when a cell of it could not be read."""
        if self.faulty:
            return None
        fresh = self._with_cells({})
        for key, value in self.there.only.items():
            if key not in fresh:
                fresh = with_value(fresh, way=(key,), new=value)
        self.entry_id = self.entry_id or self.there.meant(fresh) or id_for(self.kind, value=fresh)
        if not self.entry_id:
            message, hint = (
                "nothing says which entry this row is",
                "fill 'id', or its label or mark",
            )
            read.faults.append(Fault(place=self.whole, rule="row", message=message, hint=hint))
            return None
        text = self.notes.texts.get((self.kind, self.entry_id))
        stands = text.value if text is not None and isinstance(text.value, dict) else None
        value = self._completed(fresh) if stands is None else self._with_cells(in_cells(stands))
        made = in_file(value, meant=self._meant(value, coming=coming))
        cleaned = without_gaps(made)
        assert isinstance(cleaned, dict)
        return Draft(
            kind=self.kind,
            entry_id=self.entry_id,
            value=cleaned,
            whole=self.whole,
            places=self._ways(cleaned),
            refs=self._refs(cleaned),
        )

    def _with_cells(self, value: Value) -> Value:
        for key, new in self.given.items():
            column = self.columns[key]
            way = column.way(self._item(key, value=value))
            if not same(at(value, way=way), other=new, column=column):
                value = with_value(value, way=way, new=new)
        return value

    def _item(self, key: tuple[str, int], *, value: Value) -> int:
        """Return which item a cell is of: blinks beside a text are the way that blinks already."""
        field, number = key
        found = re.match(r"shown\.#\.(blinks|asked)", field)
        shown = value.get("shown")
        if found is None or ("shown.#.text", number) not in self.given:
            return number
        alike = [
            at_item
            for at_item, way in enumerate(shown if isinstance(shown, list) else [], start=1)
            if at(way, way=(found[1],)) is not None
        ]
        return alike[0] if alike else number

    def _completed(self, value: Value) -> Value:
        """Return a new entry with its name, and shares alike where nobody gave any."""
        if "name" not in value:
            value = {"name": name_for(self.kind, value=value), **value}
        suspects = value.get("suspects")
        if isinstance(suspects, list) and not any(
            isinstance(item, dict) and "share" in item for item in suspects
        ):
            value = {
                **value,
                "suspects": [
                    {**item, "share": "1"} if isinstance(item, dict) else item for item in suspects
                ],
            }
        return value

    def _meant(self, value: Value, *, coming: Mapping[str, str]) -> Meant:
        """Return what finds a suspect by its id, or by its label on the same family."""
        family = str(value.get("family") or "")

        def meant(thing: str) -> tuple[str, str]:
            for kind, word in (("sensors", "sensor"), ("parts", "part")):
                if self.notes.knows(kind, thing):
                    return word, thing
            sensor_id = self.there.sensor(family, label=thing)
            if sensor_id:
                return "sensor", sensor_id
            brought = coming.get(f"{family}/{thing}") or coming.get(thing)
            if brought:
                kind, _, entry_id = brought.partition("/")
                return ("sensor" if kind == "sensors" else "part"), entry_id
            return "what", thing

        return meant

    def _refs(self, value: Value) -> tuple[tuple[Way, str, str], ...]:
        """Return each id that a cell gives: its way, its kind, itself."""
        found: list[tuple[Way, str, str]] = []
        for (_, number), column in self.columns.items():
            way = column.way(number)
            given = at(value, way=way)
            if column.holds == "id" and isinstance(given, str):
                found.append((way, column.ref, given))
            elif column.holds == "ids" and isinstance(given, list):
                found += [(way, column.ref, str(each)) for each in given if column.ref]
        return tuple(found)

    def _ways(self, value: Value) -> dict[Way, Place]:
        """Return where each field of the finished value was given."""
        ways: dict[Way, Place] = {}
        for (name, number), place in self.places.items():
            way = self.columns[(name, number)].way(number)
            if way[-1] == "thing":
                for word in ("sensor", "part", "what"):
                    ways[(*way[:-1], word)] = place
            else:
                ways[way] = place
        return ways


def _refuse_changed(cell: Cell, *, column: Column) -> None:
    """Refuse what a spreadsheet has made of what was typed."""
    if cell.what == "error":
        raise CellFault(f"the sheet computes nothing here: {cell.text}", hint="type the value")
    if cell.what == "date" and column.field not in DAYS:
        raise CellFault(
            f"the spreadsheet has made a date of what was typed: {cell.text}",
            hint="give the column the format 'text' and type it again",
        )


def _refuse_twice(read: Read) -> None:
    first: dict[str, Draft] = {}
    for draft in read.drafts:
        before = first.setdefault(draft.entry_id, draft)
        if before is not draft:
            read.faults.append(
                Fault(
                    place=draft.whole,
                    rule="same-id",
                    message=f"this row is '{draft.entry_id}', and so is row {before.whole.row}",
                    hint="keep one of the two, or give one an id of its own",
                )
            )


def coming_things(drafts: Sequence[Draft]) -> dict[str, str]:
    """Return what sensors and parts of a sheet may be called by: id, and family and label."""
    found: dict[str, str] = {}
    for draft in drafts:
        if draft.kind in ("sensors", "parts"):
            found[draft.entry_id] = f"{draft.kind}/{draft.entry_id}"
            label, family = draft.value.get("label"), draft.value.get("family")
            if label and family:
                found[f"{family}/{label}"] = f"{draft.kind}/{draft.entry_id}"
    return found
