"""A photo stands beside the entry that names it, and a browser can show it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from kb.model import Case, Drawing, Entry
from kb.notes.folder import PHOTO_SUFFIXES
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest


def photos_are_there(notes: Notes) -> Iterator[Problem]:
    """Yield each photo that is not there, and each that nothing can show."""
    for drawing in notes.of(Drawing).values():
        if drawing.photo is not None:
            yield from _faults(notes, drawing, path=("photo",), photo=drawing.photo)
    for case in notes.of(Case).values():
        for i, photo in enumerate(case.photos):
            yield from _faults(notes, case, path=("photos", i, "file"), photo=photo.file)


def _faults(
    notes: Notes, entry: Entry, *, path: tuple[str | int, ...], photo: str
) -> Iterator[Problem]:
    beside = (notes.folder / notes.texts[(entry.kind, entry.id)].file).parent
    if Path(photo).suffix.lower() not in PHOTO_SUFFIXES:
        yield notes.problem(
            entry,
            path,
            "photo",
            f"'{photo}' is no photo that a browser shows",
            hint="save it as JPEG, PNG or WebP",
        )
    elif "/" in photo or "\\" in photo:
        yield notes.problem(
            entry,
            path,
            "photo",
            f"'{photo}' is not beside the entry",
            hint="put the photo in the entry's own folder and write its file name only",
        )
    elif not (beside / photo).is_file():
        there = [file.name for file in beside.iterdir() if file.suffix.lower() in PHOTO_SUFFIXES]
        yield notes.problem(
            entry,
            path,
            "photo",
            f"there is no file '{photo}' beside the entry",
            hint=nearest(photo, there) or "put the photo in the entry's own folder",
        )
