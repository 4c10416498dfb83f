"""Draw only the photos that changed: each is kept under a name made of all that went into it."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from kb import photos
from kb.photos import PhotoRefused, tidy_photo
from kb.writer import write_folder

Progress = Callable[[int, int], None]


class PhotoNotDrawn(Exception):
    """A photo that `check` could read cannot be drawn: it was changed meanwhile."""


def photo_name(raw: bytes) -> str:
    """Return a drawn photo's file name: a hash of the photo, of the drawing code, of libraries."""
    code = Path(photos.__file__).read_bytes()
    libraries = "\0".join(_version(library) for library in ("pillow", "pillow-heif"))
    mixed = hashlib.sha256()
    for part in (raw, code, libraries.encode()):
        mixed.update(hashlib.sha256(part).digest())
    return mixed.hexdigest()[:24] + ".jpg"


def photos_for(
    wanted: Mapping[str, Path], *, folder: Path, progress: Progress = lambda done, of: None
) -> dict[str, bytes]:
    """Return every wanted photo, fit to be shown, by its path in the site.

    Parameters
    ----------
    wanted : mapping of path in the site → file in the notes
    folder : Path
        Where drawn photos are kept between builds; those that no entry names any more go.
    progress : callable
        Told how many are done, of how many.

    Raises
    ------
    PhotoNotDrawn
    """
    progress(0, len(wanted))
    drawn: dict[str, bytes] = {}
    kept: dict[str, bytes] = {}
    for path, file in wanted.items():
        raw = file.read_bytes()
        name = photo_name(raw)
        if name not in kept:
            kept[name] = _kept(folder / name) or _drawn(raw, file=file)
        drawn[path] = kept[name]
        progress(len(drawn), len(wanted))
    if kept or folder.is_dir():
        write_folder(folder, kept)
    return drawn


def _kept(file: Path) -> bytes | None:
    return file.read_bytes() if file.is_file() else None


def _drawn(raw: bytes, *, file: Path) -> bytes:
    try:
        return tidy_photo(raw)
    except PhotoRefused as refused:
        raise PhotoNotDrawn(f"{file} {refused}; {refused.hint}") from None


def _version(library: str) -> str:
    try:
        return version(library)
    except PackageNotFoundError:
        return "none"
