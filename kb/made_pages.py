"""Pages that are made from the notes: no hand-written page may take their names."""

from __future__ import annotations

from pathlib import Path

from kb.model import KINDS
from kb.notes.folder import CONTENT
from kb.notes.load import NO_ID, Notes

AT_ROOT = ("changes", "index", "numbers", "which")
"""Made pages at the site's root, without their ending."""
LIST = NO_ID
"""The name of the list of a kind, in the kind's folder: no entry can have it as its id."""
JOBS = "jobs"
"""Folder of the pages that gather a family's jobs, by the family's id."""


def made_pages(notes: Notes) -> set[str]:
    """Return the name of every page that is made, from the site's root and without its ending.

    Entries that cannot be read count: their pages will be there once they are mended.
    """
    ids = [(kind, entry_id) for kind in KINDS for entry_id in notes.of_kind(kind)]
    ids += list(notes.broken)
    return {
        *AT_ROOT,
        *(f"{kind}/{LIST}" for kind in KINDS),
        *(f"{kind}/{entry_id}" for kind, entry_id in ids),
        *(f"{JOBS}/{family_id}" for kind, family_id in ids if kind == "families"),
    }


def written_pages(notes: Notes) -> dict[str, Path]:
    """Return the file of each hand-written page by its name, in order of name."""
    folder = notes.folder / CONTENT
    return {
        path.relative_to(folder).with_suffix("").as_posix(): path
        for path in sorted(folder.rglob("*.md"))
        if path.is_file()
    }
