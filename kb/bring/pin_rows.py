"""A drawing's pins as a sheet: one row a pin, out of the notes and back into them."""

from __future__ import annotations

import copy
import functools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from kb.columns.column import plain_header
from kb.model.words import tidy_id
from kb.notes.load import Notes
from kb.notes.problem import nearest

from .draft import Draft, Fault, Place, Way
from .headings import HEAD_WITHIN, Read, cell_place
from .table_file import Table

PIN_ROWS = (
    ("drawing", "The drawing's id.", "drawing, sketch, picture, id"),
    ("pin", "What the drawing calls it: T1, CN3.", "pin name, mark"),
    ("from left %", "In percent of the width.", "x, left"),
    ("from top %", "In percent of the height.", "y, top"),
    ("where", "The place in words, for whoever cannot see it.", "place, what is there"),
    ("several", "Yes where more than one thing sits behind this pin.", "more than one"),
)
"""Column, what it is, what else it may be called."""
_KEYS = ("drawing", "pin", "x", "y", "where", "several")
DRAWINGS = "drawings"


def pin_rows_of(notes: Notes, *, family: str = "") -> tuple[list[str], list[list[str]]]:
    """Return the sheet of every drawing's pins: its head, and a row for each."""
    rows = []
    for drawing_id, drawing in notes.of_kind(DRAWINGS).items():
        value = notes.texts[(DRAWINGS, drawing_id)].value
        pins = value.get("pins") if isinstance(value, dict) else None
        if not isinstance(pins, dict) or (family and family not in drawing.family_ids):
            continue
        for name, pin in pins.items():
            rows.append([drawing_id, name, *(str(pin.get(key, "")) for key in _KEYS[2:])])
    return [name for name, _, _ in PIN_ROWS], rows


def head_of_pins(table: Table) -> int | None:
    """Return the row that names a pin and both its places; None in a sheet of entries."""
    for at, (_, cells) in enumerate(table.rows[:HEAD_WITHIN]):
        if {"pin", "x", "y"} <= {pin_key(cell.text) for cell in cells}:
            return at
    return None


def read_pins(table: Table, *, notes: Notes, every: Mapping[str, str]) -> Read:
    """Read a sheet of pins; a pin without a row stays as it is.

    Parameters
    ----------
    table : Table
    notes : Notes
    every : mapping
        Column → what stands in it in every row that leaves it empty.
    """
    read = Read(remarks=list(table.remarks))
    head = head_of_pins(table)
    assert head is not None
    headers = {
        pin_key(cell.text): (index, cell.text) for index, cell in enumerate(table.rows[head][1])
    }
    read.remarks += [
        f"Left out: the column '{cell.text}', which is nothing of a pin."
        for cell in table.rows[head][1]
        if cell.text and not pin_key(cell.text)
    ]
    always = {pin_key(header): text for header, text in every.items()}
    changed: dict[str, _Changed] = {}
    for number, cells in table.rows[head + 1 :]:
        texts = [cell.text for cell in cells]
        given = {key: texts[i] for key, (i, _) in headers.items() if i < len(texts) and texts[i]}
        row = _Row(table=table, number=number, headers=headers, given={**always, **given})
        row.into(changed, notes=notes, read=read)
    read.drafts += [
        Draft(
            kind=DRAWINGS,
            entry_id=drawing_id,
            value=found.value,
            whole=found.whole,
            places=found.places,
        )
        for drawing_id, found in changed.items()
    ]
    return read


@dataclass(kw_only=True)
class _Changed:
    """A drawing on its way back."""

    value: dict[str, object]
    whole: Place
    places: dict[Way, Place] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class _Row:
    table: Table
    number: int
    headers: Mapping[str, tuple[int, str]]
    given: Mapping[str, str]

    def into(self, changed: dict[str, _Changed], *, notes: Notes, read: Read) -> None:
        """Put the row's pin into its drawing."""
        whole = Place(
            words=f"{self.table.label}, row {self.number}", table=self.table.label, row=self.number
        )
        drawing_id, pin = tidy_id(self.given.get("drawing", "")), self.given.get("pin", "")
        text = notes.texts.get((DRAWINGS, drawing_id))
        if not drawing_id or not pin:
            read.faults.append(
                Fault(
                    place=whole,
                    rule="row",
                    message="nothing says which pin of which drawing this row is",
                    hint="fill 'drawing' and 'pin'; --every drawing=ID says it for all rows",
                )
            )
            return
        if text is None or not isinstance(text.value, dict):
            known = nearest(drawing_id, notes.of_kind(DRAWINGS))
            read.faults.append(
                Fault(
                    place=self._place("drawing"),
                    rule="unknown-id",
                    message=f"there is no drawing '{drawing_id}'",
                    hint=f"{known or 'there is none yet'}; a photo begins one: "
                    "ohmfolio add drawing",
                )
            )
            return
        found = changed.setdefault(
            drawing_id, _Changed(value=copy.deepcopy(text.value), whole=whole)
        )
        pins = found.value.setdefault("pins", {})
        assert isinstance(pins, dict)
        block = pins.setdefault(pin, {})
        for key in _KEYS[2:]:
            if key in self.given and isinstance(block, dict):
                block[key] = _text(self.given[key], key=key)
                found.places[("pins", pin, key)] = self._place(key)

    def _place(self, key: str) -> Place:
        if key not in self.headers:
            return Place(words="--every", text=self.given.get(key, ""))
        index, header = self.headers[key]
        return cell_place(
            self.table, row=self.number, index=index, header=header, text=self.given.get(key, "")
        )


def _text(text: str, *, key: str) -> str:
    return text.replace(",", ".") if key in ("x", "y") else " ".join(text.split())


def pin_key(header: str) -> str:
    """Return which part of a pin a column holds; empty for none."""
    return _pin_keys().get(plain_header(header), "")


@functools.cache
def _pin_keys() -> Mapping[str, str]:
    """Whatever a column of pins may be called, as it is compared."""
    found: dict[str, str] = {}
    for (name, _, also), key in zip(PIN_ROWS, _KEYS, strict=True):
        for known in filter(None, map(plain_header, [name, key, *_split(also)])):
            found.setdefault(known, key)
    return found


def _split(also: str) -> Sequence[str]:
    return also.split(", ")
