"""A drawing's photo stands beside its entry, and a browser can show it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from kb.model import Drawing
from kb.notes.folder import PHOTO_SUFFIXES
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest


def photos_are_there(notes: Notes) -> Iterator[Problem]:
    """Yield each photo that is not there, and each that nothing can show."""
    for drawing in notes.of(Drawing).values():
        if drawing.photo is None:
            continue
        beside = (notes.folder / notes.texts[("drawings", drawing.id)].file).parent
        if Path(drawing.photo).suffix.lower() not in PHOTO_SUFFIXES:
            yield notes.problem(
                drawing,
                ("photo",),
                "photo",
                f"'{drawing.photo}' is no photo that a browser shows",
                hint="save it as JPEG, PNG or WebP",
            )
        elif "/" in drawing.photo or "\\" in drawing.photo:
            yield notes.problem(
                drawing,
                ("photo",),
                "photo",
                f"'{drawing.photo}' is not beside the entry",
                hint="put the photo in the entry's own folder and write its file name only",
            )
        elif not (beside / drawing.photo).is_file():
            there = [
                file.name for file in beside.iterdir() if file.suffix.lower() in PHOTO_SUFFIXES
            ]
            yield notes.problem(
                drawing,
                ("photo",),
                "photo",
                f"there is no file '{drawing.photo}' beside the entry",
                hint=nearest(drawing.photo, there) or "put the photo in the entry's own folder",
            )
