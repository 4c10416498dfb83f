"""Write what an editor gets of the notes, and keep its ids fresh after whatever changed them."""

from __future__ import annotations

import contextlib
from pathlib import Path

from kb.editor import (
    FOLDER,
    SETTINGS,
    keeps_schemas,
    names_every_schema,
    schema_files,
    settings_line,
    settings_text,
)
from kb.writer import write_folder, write_if_changed

OWN_SETTINGS = f"{SETTINGS} is yours and was left as it is. Add this line to it:"


def write_editor_files(notes: Path) -> list[str]:
    """Write the schemas, and the settings where there are none; return what the keeper adds.

    Settings that stand are never written over: when they lack a schema, the lines say what to add.

    Raises
    ------
    OSError
        When the disk refuses.
    """
    write_folder(notes / FOLDER, schema_files(notes))
    settings = notes / SETTINGS
    if not settings.exists():
        write_if_changed(settings, settings_text())
    elif not names_every_schema(settings.read_bytes()):
        return [OWN_SETTINGS, settings_line()]
    return []


def refresh_schemas(notes: Path) -> None:
    """Bring the schemas' ids up to the notes, where the keeper uses schemas at all.

    It helps whoever types and nobody else: a disk that refuses must not fail what was asked.
    """
    with contextlib.suppress(OSError):
        if keeps_schemas(notes):
            write_folder(notes / FOLDER, schema_files(notes))
