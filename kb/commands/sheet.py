"""`ohmfolio sheet`: what stands, as a sheet to edit and bring back."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import click

from kb.bring.headings import BROUGHT
from kb.bring.standing_rows import rows_of
from kb.bring.table_file import CannotRead
from kb.bring.workbook import workbook_bytes
from kb.columns.column import columns_of, find_column
from kb.notes.load import load_notes
from kb.notes.problem import nearest
from kb.words.phrase import counted
from kb.writer import write_if_changed

from .options import NotUnderstood, json_option, notes_option, say_json


@click.command()
@click.argument("kind", metavar="KIND", type=click.Choice(BROUGHT))
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
    """Give the sheet of all sensors, codes or parts, to edit and bring back.

    Written to FILE, .csv or .xlsx (which keeps 012 and 1E3 as typed), or printed as CSV. 'ohmfolio
    bring FILE' takes it back: only what you changed is changed, and comments stay.

    Example: ohmfolio sheet sensors sensors.csv
    """
    loaded = load_notes(notes)
    if family and not loaded.knows("families", family):
        known = list(loaded.of_kind("families"))
        raise NotUnderstood(f"there is no family '{family}'; {nearest(family, known)}")
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
    write_if_changed(file, raw)
    noun = {"sensors": "sensor", "codes": "code", "parts": "part"}[kind]
    click.echo(
        f"{counted(len(rows), noun=noun).capitalize()} in {file}.\n"
        f"Edit it, then: ohmfolio bring {file}"
    )


def _choices(kind: str, head: list[str]) -> dict[int, tuple[str, ...]]:
    """Return the words that a column chooses among, by its place."""
    found = {}
    for at, header in enumerate(head):
        meant = find_column(columns_of(kind), header=header)
        if meant is not None and meant[0].choices:
            found[at] = meant[0].choices
    return found


def _csv(head: list[str], rows: list[list[str]], *, semicolon: bool) -> str:
    text = io.StringIO()
    writer = csv.writer(text, delimiter=";" if semicolon else ",", lineterminator="\n")
    writer.writerow(head)
    writer.writerows(rows)
    return text.getvalue()
