"""`ohmfolio bring`: sensors, codes, parts and table points from sheets, all of them or nothing."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import click

from kb.bring.draft import Draft, Fault, Outcome, tried
from kb.bring.headings import BROUGHT, NO_SHEET, Read, kind_of_table
from kb.bring.pin_rows import DRAWINGS, head_of_pins, pin_key, read_pins
from kb.bring.sheet_rows import coming_things, read_rows
from kb.bring.table_file import CannotRead, Table, read_tables
from kb.changing import stamp_of
from kb.columns.cell import CellFault, value_of
from kb.columns.column import columns_of, find_column, sheet_columns
from kb.notes.load import Notes, load_notes
from kb.notes.problem import nearest
from kb.words.phrase import counted

from .asking import agreed, at_terminal
from .bring_words import columns_words, outcome_words
from .brought_points import POINTS, head_of_points, read_point_table
from .fit import SIGN_OF
from .options import NotUnderstood, json_option, notes_folder, say_json
from .sheet_bytes import sheet_bytes
from .write_drafts import write_drafts

KINDS_BROUGHT = (*BROUGHT, DRAWINGS, POINTS)


@dataclass(kw_only=True)
class Brought:
    """What the files hold, and what is wrong with it."""

    drafts: list[Draft] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    def take(self, read: Read) -> None:
        """Add what a sheet holds."""
        self.drafts += read.drafts
        self.faults += read.faults
        self.remarks += read.remarks


@click.command()
@click.argument(
    "files", metavar="FILE...", nargs=-1, type=click.Path(path_type=Path, dir_okay=False)
)
@click.option(
    "--columns",
    "columns_kind",
    type=click.Choice((*KINDS_BROUGHT, *NO_SHEET)),
    help="Show the columns that a sheet of this kind may have, and write nothing.",
)
@click.option(
    "--kind",
    type=click.Choice(KINDS_BROUGHT),
    help="What the sheet holds; by default its name and columns say.",
)
@click.option(
    "--every",
    metavar="COLUMN=VALUE",
    multiple=True,
    help="What stands in every row that leaves this column empty. Repeats.",
)
@click.option("--curve", metavar="ID", default="", help="Of a sheet of points: the curve's id.")
@click.option(
    "--decimal",
    type=click.Choice(["point", "comma"]),
    help="Of a sheet of points: what stands before decimals; by default the column decides.",
)
@click.option(
    "--encoding", metavar="NAME", default="", help="Of a CSV file; by default its bytes say."
)
@click.option("--full", is_flag=True, help="Show every line that would be written.")
@click.option("--yes", is_flag=True, help="Write without asking.")
@click.option(
    "--notes",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="The notes; by default the nearest folder upward that holds docs_data/.",
)
@json_option
def bring(
    files: tuple[Path, ...],
    columns_kind: str | None,
    kind: str | None,
    every: tuple[str, ...],
    curve: str,
    decimal: str | None,
    encoding: str,
    full: bool,
    yes: bool,
    notes: Path | None,
    as_json: bool,
) -> None:
    """Take sensors, codes, parts, curves, pins, table points and more from sheets into the notes.

    FILE is CSV (comma, semicolon or tab; UTF-8, UTF-16 or Windows) or .xlsx, with the columns in
    its first row and an entry in each row below. You see what would be written and are asked; then
    all of it is written, or nothing. A row whose entry is there changes it line by line, and its
    comments stay. An empty cell changes nothing; a cell with - takes the field out.

    Example: ohmfolio bring sensors.csv codes.csv --yes
    """
    if columns_kind:
        columns_words(columns_kind, as_json=as_json)
        return
    if not files:
        raise NotUnderstood(f"name a file, or ask --columns of {', '.join(KINDS_BROUGHT)}")
    folder = notes_folder(notes)
    stamp, loaded = stamp_of(folder), load_notes(folder)
    brought = _gathered(
        [table for file in files for table in _tables(file, encoding=encoding)],
        kind=kind,
        every=_pairs(every),
        curve=curve,
        decimal=SIGN_OF.get(decimal or "", ""),
        notes=loaded,
    )
    outcome = _with_all_faults(brought, notes=loaded)
    written = bool(outcome.files) and not outcome.faults
    if not as_json:
        _show(outcome, remarks=brought.remarks, full=full)
    if written and (written := yes or (not as_json and _agreed_to(outcome))):
        late = write_drafts(outcome, drafts=brought.drafts, notes=folder, stamp=stamp)
        outcome, written = replace(outcome, faults=late), not late
        if not as_json:
            click.echo(_written_words(outcome), err=bool(late))
    if as_json:
        say_json(_as_dict(outcome, remarks=brought.remarks, written=written))
    if outcome.faults:
        sys.exit(1)


def _with_all_faults(brought: Brought, *, notes: Notes) -> Outcome:
    """Return what the drafts would write, with every fault of cells and entries by its place."""
    # A column that nobody understands would be missed again in every row.
    unread = any(fault.rule == "column" for fault in brought.faults)
    outcome = tried([] if unread else brought.drafts, notes=notes)
    faults = sorted(
        [*brought.faults, *outcome.faults],
        key=lambda fault: (fault.place.table, fault.place.row, fault.place.column),
    )
    return replace(outcome, faults=tuple(faults))


def _show(outcome: Outcome, *, remarks: Sequence[str], full: bool) -> None:
    click.echo(outcome_words(outcome, remarks=remarks, full=full), err=bool(outcome.faults))


def _agreed_to(outcome: Outcome) -> bool:
    """Ask whether to write; end where nobody is there to answer, or the answer is no."""
    if not at_terminal():
        click.echo("Nothing is written yet: say --yes.", err=True)
        sys.exit(1)
    if not agreed(f"Write {counted(len(outcome.files), noun='file')}?"):
        click.echo("Nothing was written.")
        sys.exit(1)
    return True


def _written_words(outcome: Outcome) -> str:
    if outcome.faults:
        return "The notes were changed meanwhile.\n\n" + outcome_words(
            outcome, remarks=(), full=False
        )
    count = counted(len(outcome.files), noun="file").capitalize()
    return f"{count} written. Next: ohmfolio check"


def _tables(file: Path, *, encoding: str) -> list[Table]:
    raw = sheet_bytes(file, holds="the sheet")
    try:
        return read_tables(raw, file=file.name, encoding=encoding)
    except CannotRead as error:
        raise NotUnderstood(str(error)) from None


def _pairs(every: Sequence[str]) -> dict[str, str]:
    pairs = {}
    for text in every:
        name, sign, value = (part.strip() for part in text.partition("="))
        if not (name and sign and value):
            raise NotUnderstood(f"'{text}' is no COLUMN=VALUE; write --every family=our-unit")
        pairs[name] = value
    return pairs


def _gathered(
    tables: Sequence[Table],
    *,
    kind: str | None,
    every: Mapping[str, str],
    curve: str,
    decimal: str,
    notes: Notes,
) -> Brought:
    """Read every sheet; codes last, so that they may accuse what comes with them."""
    brought = Brought()
    kinds = [(table, kind or _kind(table)) for table in tables]
    _refuse_unknown(every, kinds={name for _, name in kinds})
    for table, name in sorted(
        kinds, key=lambda pair: KINDS_BROUGHT.index(pair[1]) * (pair[1] == "codes")
    ):
        if name == POINTS:
            if head_of_points(table) is None:
                raise NotUnderstood(
                    f"{table.label} names no temperature and resistance with their units; "
                    "see ohmfolio bring --columns points"
                )
            read = read_point_table(table, curve=curve, notes=notes, every=every, decimal=decimal)
        elif name == DRAWINGS:
            if head_of_pins(table) is None:
                raise NotUnderstood(
                    f"{table.label} names no pin with its place; see ohmfolio bring --columns "
                    "drawings"
                )
            read = read_pins(table, notes=notes, every=every)
        else:
            coming = coming_things(brought.drafts)
            read = read_rows(table, kind=name, notes=notes, every=every, coming=coming)
        brought.take(read)
    return brought


def _kind(table: Table) -> str:
    if head_of_points(table) is not None:
        return POINTS
    if head_of_pins(table) is not None:
        return DRAWINGS
    kind = kind_of_table(table)
    if not kind:
        raise NotUnderstood(
            f"{table.label}: nothing says what its rows are; add --kind, such as --kind "
            "sensors, and see ohmfolio bring --columns sensors"
        )
    return kind


def _refuse_unknown(every: Mapping[str, str], *, kinds: set[str]) -> None:
    of_kinds = [
        columns_of("curves", law="table") if kind == POINTS else sheet_columns(kind)
        for kind in kinds - {DRAWINGS}
    ]
    for header, text in every.items():
        if DRAWINGS in kinds and pin_key(header):
            continue
        found = [
            meant[0]
            for columns in of_kinds
            if (meant := find_column(columns, header=header)) is not None
        ]
        if not found:
            names = [name for columns in of_kinds for column in columns for name in column.names]
            raise NotUnderstood(f"there is no column '{header}'; {nearest(header, names)}")
        try:
            value_of(text, column=found[0])
        except CellFault as fault:
            raise NotUnderstood(f"--every {header}: {fault}; {fault.hint}") from None


def _as_dict(outcome: Outcome, *, remarks: Sequence[str], written: bool) -> dict[str, object]:
    return {
        "written": written,
        "files": [
            {"file": file.path, "new": file.before is None, "diff": file.diff()}
            for file in outcome.files
        ],
        "problems": [fault.as_json() for fault in outcome.faults],
        "warnings": [fault.as_json() for fault in outcome.warnings],
        "remarks": list(remarks),
    }
