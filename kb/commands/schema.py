"""`ohmfolio schema`: let an editor complete and check the notes while they are typed."""

from __future__ import annotations

from pathlib import Path

import click

from kb.editor import FOLDER, SETTINGS
from kb.schema import NAMES, ids_in, schema_of

from .disk_words import disk_refused
from .editor_files import write_editor_files
from .options import json_option, notes_option, say_json


@click.command()
@click.option(
    "--print",
    "wanted",
    metavar="KIND",
    type=click.Choice(NAMES),
    help=f"Print one and write nothing: {', '.join(NAMES)}.",
)
@notes_option
@json_option
def schema(wanted: str | None, notes: Path, as_json: bool) -> None:
    """Write a JSON Schema of every kind, and the settings that make an editor use them.

    'ohmfolio start' has done so already; this is for notes that are older. From then on whatever
    changes your entries, check and serve keep the ids in them up to date.
    Settings of your own are left as they are: you are told the line to add.

    Example: ohmfolio schema --print sensors
    """
    if wanted is not None:
        say_json(schema_of(wanted, ids=ids_in(notes)))
        return
    try:
        own = write_editor_files(notes)
    except OSError as error:
        raise disk_refused(
            error, at=notes / FOLDER, stands="nothing of yours was changed"
        ) from None
    if as_json:
        folder = (notes / FOLDER).as_posix()
        say_json({"folder": folder, "schemas": len(NAMES), "settings": SETTINGS, "to_add": own})
        return
    click.echo(f"{len(NAMES)} schemas in {notes / FOLDER}/.")
    click.echo("\n".join(own) if own else f"{SETTINGS} leads your editor to them.")
