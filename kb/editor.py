"""What an editor of YAML gets of the notes: schemas, the settings that name them, a file's line."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from kb.model import KINDS
from kb.notes.folder import DATA
from kb.schema import NAMES, SINGLE, ids_in, schema_of
from kb.site_folder import WORK

FOLDER = f"{WORK}/schema"
"""Where the schemas stand, in the notes: made anew each time, so not kept with them."""
SETTINGS = ".vscode/settings.json"
"""Where an editor looks for the settings of a folder that is opened in it."""
MODELINE = "# yaml-language-server: $schema="
"""What a YAML editor looks for among a file's comments: an open convention, the path relative."""


def schema_files(notes: Path) -> dict[str, str]:
    """Return every schema as text by its file name, with the ids that the notes hold."""
    ids = ids_in(notes)
    return {
        f"{name}.json": json.dumps(schema_of(name, ids=ids), indent=1, ensure_ascii=False) + "\n"
        for name in NAMES
    }


def schema_name(file: str) -> str | None:
    """Return which of NAMES a file of the notes follows; None for one that has no schema."""
    parts = PurePosixPath(file).parts
    if len(parts) > 2 and parts[0] == DATA and parts[1] in NAMES:
        return parts[1]
    return next((name for name, (_, place) in SINGLE.items() if place == file), None)


def with_modeline(text: str, *, file: str) -> str:
    """Return the text of a file with the line before it that leads an editor to its schema.

    Parameters
    ----------
    text : str
    file : str
        Where it stands, from the folder of the notes.
    """
    name = schema_name(file)
    if name is None:
        return text
    up = "../" * (len(PurePosixPath(file).parts) - 1)
    return f"{MODELINE}{up}{FOLDER}/{name}.json\n{text}"


def keeps_schemas(notes: Path) -> bool:
    """Return whether the schemas stand in these notes, or their settings ask for them.

    Settings are kept with the notes and schemas are not: a fresh clone has only the first.
    """
    if (notes / FOLDER).is_dir():
        return True
    settings = notes / SETTINGS
    return settings.is_file() and f'"{FOLDER}/'.encode() in settings.read_bytes()


def settings_pairs() -> Mapping[str, list[str]]:
    """Return for each schema the files that follow it, both from the folder of the notes."""
    pairs = {
        f"{FOLDER}/{kind}.json": [f"{DATA}/{kind}/**/*.yaml", f"{DATA}/{kind}/**/*.yml"]
        for kind in KINDS
    }
    return pairs | {f"{FOLDER}/{name}.json": [place] for name, (_, place) in SINGLE.items()}


def settings_text() -> str:
    """Return a settings file that says nothing but which schema is whose."""
    return json.dumps({"yaml.schemas": settings_pairs()}, indent=2) + "\n"


def settings_line() -> str:
    """Return the one line that stands for all of it in settings that are the keeper's own."""
    return f'"yaml.schemas": {json.dumps(settings_pairs())}'


def names_every_schema(settings: bytes) -> bool:
    """Return whether settings name each schema; they may hold comments, so they are not parsed."""
    return all(f'"{schema}"'.encode() in settings for schema in settings_pairs())
