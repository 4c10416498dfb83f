"""`ohmfolio schema`: let an editor complete and check the notes while they are typed."""

from __future__ import annotations

import json
from pathlib import Path

import click

from kb.notes.load import load_notes
from kb.schema import NAMES, editor_setting, schema_of
from kb.writer import write_folder

from .options import notes_option, say_json

FOLDER = ".build/schema"


@click.command()
@click.option(
    "--print",
    "wanted",
    metavar="KIND",
    type=click.Choice(NAMES),
    help=f"Print one and write nothing: {', '.join(NAMES)}.",
)
@notes_option
def schema(wanted: str | None, notes: Path) -> None:
    """Write a JSON Schema of every kind, and say the line that makes an editor use them.

    They hold the ids of your entries: run it again when entries have come or gone.

    Example: ohmfolio schema --print sensors
    """
    loaded = load_notes(notes)
    if wanted is not None:
        say_json(schema_of(wanted, notes=loaded))
        return
    made = {
        f"{name}.json": json.dumps(schema_of(name, notes=loaded), indent=1, ensure_ascii=False)
        + "\n"
        for name in NAMES
    }
    write_folder(notes / FOLDER, made)
    click.echo(f"{len(made)} schemas in {notes / FOLDER}/. One line for your editor's settings:")
    click.echo(editor_setting(FOLDER))
