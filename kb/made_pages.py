"""Pages and photos that are made from the notes: no hand-written page may take their names."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from kb.model import KINDS, Case, Drawing, Entry, Family
from kb.notes.folder import CONTENT, page_files, readable_name
from kb.notes.load import NO_ID, Notes

FIELDS = "fields"
GUIDE = "keeping"
STOP = "stop"
STYLE = "style"
SECOND_READER = "second-reader"
DUE = "due"
DRILLS = "drills"
PRACTICE = "practice"
AT_ROOT = (
    *("changes", DRILLS, DUE, FIELDS, "index", GUIDE, "numbers", PRACTICE),
    *(SECOND_READER, STOP, STYLE, "which"),
)
"""Made pages at the site's root, without their ending."""
LIST = NO_ID
"""The name of the list of a kind, in the kind's folder: no entry can have it as its id."""
JOBS = "jobs"
"""Folder of the pages that gather a family's jobs, by the family's id."""

SHEETS = "sheets"
"""Folder of the pages for paper that gather a family, by its id."""
REFITS = "refits"
"""Folder of the pages for paper that list what goes back on a part, by its id."""


def made_pages(notes: Notes) -> set[str]:
    """Return the name of every page that is made, from the site's root and without its ending.

    Entries that cannot be read count: their pages will be there once they are mended.
    """
    was = {(kind, entry.id): entry.was for kind in KINDS for entry in notes.of_kind(kind).values()}
    return made_names([*was, *notes.broken], was=was)


def made_names(
    ids: Iterable[tuple[str, str]], *, was: Mapping[tuple[str, str], Iterable[str]]
) -> set[str]:
    """Return the name of every page that is made of entries, each given by kind and id.

    Parameters
    ----------
    ids : iterable of (kind, id)
    was : mapping of (kind, id) to ids
        The ids that an entry had: each still leads to it.
    """
    had = [(kind, former_id) for (kind, _), former in was.items() for former_id in former]
    names = [*ids, *had]
    return {
        *AT_ROOT,
        *(f"{kind}/{LIST}" for kind in KINDS),
        *(f"{kind}/{entry_id}" for kind, entry_id in names),
        *(f"{JOBS}/{family_id}" for kind, family_id in names if kind == "families"),
        *(f"{SHEETS}/{family_id}" for kind, family_id in ids if kind == "families"),
        *(f"{REFITS}/{part_id}" for kind, part_id in ids if kind == "parts"),
    }


def former_pages(notes: Notes) -> dict[str, Entry]:
    """Return the entry that each former address leads to, by the page's name without its ending."""
    return {
        f"{kind}/{former_id}": entry
        for kind in KINDS
        for entry in notes.of_kind(kind).values()
        for former_id in entry.was
    } | {
        f"{JOBS}/{former_id}": family
        for family in notes.of(Family).values()
        for former_id in family.was
    }


def written_pages(notes: Notes) -> dict[str, Path]:
    """Return the file of each hand-written page by its name, in order of name."""
    folder = notes.folder / CONTENT
    return {
        path.relative_to(folder).with_suffix("").as_posix(): path
        for path in page_files(notes.folder)
        if readable_name(path.relative_to(folder).as_posix())
    }


def photos_of(notes: Notes) -> dict[str, Path]:
    """Return the file of each photo, from the folder of the notes, by its path in the site."""
    photos = {}
    for drawing in notes.of(Drawing).values():
        if drawing.photo:
            file = _beside(notes, drawing.kind, drawing.id) / drawing.photo
            photos[drawing_photo_path(drawing)] = file
    for case in notes.of(Case).values():
        for i, photo in enumerate(case.photos):
            path = case_photo_path(case, number=i + 1)
            photos[path] = _beside(notes, case.kind, case.id) / photo.file
    return photos


def drawing_photo_path(drawing: Drawing) -> str:
    """Return where a drawing's photo lies in the site: whatever it came as, it becomes a JPEG."""
    return f"{drawing.kind}/{drawing.id}.jpg"


def case_photo_path(case: Case, *, number: int) -> str:
    """Return where a case's photo lies in the site; its photos are counted from 1."""
    return f"{case.kind}/{case.id}-{number}.jpg"


def _beside(notes: Notes, kind: str, entry_id: str) -> Path:
    return Path(notes.texts[(kind, entry_id)].file).parent
