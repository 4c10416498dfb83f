"""A photo stands beside the entry that names it, whole, and of a size that can be read."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from kb.model import Case, Drawing, Entry
from kb.notes.folder import PHOTO_SUFFIXES
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest
from kb.photos import PhotoRefused, upright_size


def photos_are_there(entry: Drawing | Case, *, notes: Notes) -> Iterator[Problem]:
    """Yield each photo that is not there, is none, is not whole, or is larger than is read."""
    if isinstance(entry, Case):
        for i, photo in enumerate(entry.photos):
            yield from _faults(notes, entry, path=("photos", i, "file"), photo=photo.file)
    elif entry.photo is not None:
        yield from _faults(notes, entry, path=("photo",), photo=entry.photo)


def photos_have_their_own_proportions(drawing: Drawing, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a width or height beside a photo: nothing is drawn by it."""
    for name in ("wide", "high"):
        if drawing.photo is not None and name in drawing.model_fields_set:
            yield notes.problem(
                drawing,
                (name,),
                "photo",
                f"'{name}' is a sketch's: a photo is drawn by its own proportions",
                hint=f"take '{name}' out",
                key=True,
                warning=True,
            )


def _faults(
    notes: Notes, entry: Entry, *, path: tuple[str | int, ...], photo: str
) -> Iterator[Problem]:
    fault = _fault(photo, file=notes.beside(entry, name=photo), notes=notes)
    if fault is not None:
        message, hint = fault
        yield notes.problem(entry, path, "photo", message, hint=hint)


def _fault(photo: str, *, file: Path, notes: Notes) -> tuple[str, str] | None:
    """Return what is wrong with a photo and what would work; None when nothing is."""
    if Path(photo).suffix.lower() not in PHOTO_SUFFIXES:
        return f"'{photo}' is no photo that is read here", "save it as JPEG, PNG or WebP"
    if "/" in photo or "\\" in photo:
        return (
            f"'{photo}' is not beside the entry",
            "put the photo in the entry's own folder and write its file name only",
        )
    there = _is_there(file)
    if there and notes.leads_out(file):
        return (
            f"'{photo}' is a link that leads out of the notes, and would be published",
            "put the photo itself beside the entry",
        )
    if not there:
        # `add` asks before the entry's folder is there.
        files = file.parent.iterdir() if file.parent.is_dir() else ()
        photos = [other.name for other in files if other.suffix.lower() in PHOTO_SUFFIXES]
        return (
            f"there is no file '{photo}' beside the entry",
            nearest(photo, photos) or "put the photo in the entry's own folder",
        )
    try:
        upright_size(file)
    except PhotoRefused as refused:
        return f"'{photo}' {refused}", refused.hint
    except OSError as error:
        return f"'{photo}' cannot be read: {error.strerror}", "let its file be read"
    return None


def _is_there(file: Path) -> bool:
    try:
        return file.is_file()
    except (OSError, ValueError):
        return False  # What stands in the field is no name that a file can have.
