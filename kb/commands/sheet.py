"""`ohmfolio sheet`: what stands, as a sheet to edit and bring back."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import click

from kb.bring.headings import BROUGHT, NO_SHEET
from kb.bring.pin_rows import DRAWINGS, pin_rows_of
from kb.bring.standing_rows import rows_of
from kb.bring.table_file import CannotRead
from kb.bring.workbook import workbook_bytes
from kb.columns.column import find_column, sheet_columns
from kb.model import KINDS, Family
from kb.notes.load import load_notes
from kb.notes.problem import nearest
from kb.words.phrase import counted
from kb.writer import sweep, write_if_changed

from .brought_points import POINTS, point_rows_of
from .options import NoAnswer, NotUnderstood, json_option, notes_option, say_json


@click.command()
@click.argument("kind", metavar="KIND", type=click.Choice((*BROUGHT, DRAWINGS, POINTS, *NO_SHEET)))
@click.argument(
    "file", metavar="[FILE]", required=False, type=click.Path(path_type=Path, dir_okay=False)
)
@click.option("--family", metavar="ID", default="", help="Only what is on this family.")
@click.option(
    "--semicolon", is_flag=True, help="CSV with semicolons, for a spreadsheet with decimal commas."
)
@notes_option
@json_option
def sheet(
    kind: str, file: Path | None, family: str, semicolon: bool, notes: Path, as_json: bool
) -> None:
    """Give the sheet of what stands of a kind, to edit and bring back.

    KIND is a kind of entry, such as sensors, codes, parts, curves (a row has its law's parameters)
    or cases (a row is a job); drawings gives a row for each pin, points one for each point of a
    table. Written to FILE, .csv or .xlsx (which keeps 012 and 1E3 as typed), or printed as CSV.
    'ohmfolio bring FILE' takes it back: only what you changed is changed, and comments stay.

    Example: ohmfolio sheet sensors sensors.csv
    """
    if kind in NO_SHEET:
        raise NoAnswer(
            f"there is no sheet of {kind}: {NO_SHEET[kind]}. Edit docs_data/{kind}/ID.yaml; "
            f"ohmfolio fields {kind} says what may stand there"
        )
    loaded = load_notes(notes)
    if family and not loaded.knows("families", family):
        known = list(loaded.of_kind("families"))
        raise NotUnderstood(f"there is no family '{family}'; {nearest(family, known)}")
    if kind == DRAWINGS:
        head, rows = pin_rows_of(loaded, family=family)
    elif kind == POINTS:
        head, rows = point_rows_of(loaded, family=family)
    else:
        head, rows = rows_of(kind, notes=loaded, family=family)
    if as_json:
        say_json([dict(zip(head, row, strict=True)) for row in rows])
        return
    if file is None:
        click.echo(_csv(head, rows, semicolon=semicolon), nl=False)
        return
    if file.exists():
        raise NotUnderstood(f"{file} is there already, and nothing is written over; name another")
    if file.suffix.lower() == ".xlsx":
        try:
            raw = workbook_bytes(head, rows=rows, name=kind, choices=_choices(kind, head))
        except CannotRead as error:
            raise NotUnderstood(str(error)) from None
    else:
        # The mark at its start tells a spreadsheet that this is UTF-8.
        raw = _csv(head, rows, semicolon=semicolon).encode("utf-8-sig")
    sweep(file.parent)
    write_if_changed(file, raw)
    noun = {DRAWINGS: "pin", POINTS: "point"}.get(kind) or KINDS[kind].noun
    count = counted(len(rows), noun=noun, nouns="families" if kind == Family.kind else f"{noun}s")
    click.echo(f"{count.capitalize()} in {file}.\nEdit it, then: ohmfolio bring {file}")


def _choices(kind: str, head: list[str]) -> dict[int, tuple[str, ...]]:
    """Return the words that a column chooses among, by its place."""
    found: dict[int, tuple[str, ...]] = {}
    if kind in (DRAWINGS, POINTS):
        return found
    for at, header in enumerate(head):
        meant = find_column(sheet_columns(kind), header=header)
        if meant is not None and meant[0].choices:
            found[at] = meant[0].choices
    return found


def _csv(head: list[str], rows: list[list[str]], *, semicolon: bool) -> str:
    text = io.StringIO()
    writer = csv.writer(text, delimiter=";" if semicolon else ",", lineterminator="\n")
    writer.writerow(head)
    writer.writerows(rows)
    return text.getvalue()
