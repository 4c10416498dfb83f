"""Find photos that say where they were taken."""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from pathlib import Path

from kb.made_pages import photos_of
from kb.notes.folder import DATA
from kb.notes.load import Notes

_XMP_PLACE = b"GPSLatitude"
"""Stands as plain text in a photo's XMP packet (ISO 16684-1), beside or instead of Exif."""


class UnreadablePhoto(ValueError):
    """A file that should be a photo and is none that can be read."""


def private_photos(notes: Notes) -> list[str]:
    """Return the photos that should not leave the house, each with its place and cure."""
    return list(_photos(notes))


def _photos(notes: Notes) -> Iterator[str]:
    for file in photos_of(notes).values():
        path = notes.folder / file
        if not path.is_file():
            continue
        try:
            if says_where(path.read_bytes()):
                yield (
                    f"{_below(path, notes.folder)}: the photo says where it was taken; save it "
                    "without its place"
                )
        except UnreadablePhoto:
            yield (
                f"{_below(path, notes.folder)}: no picture can be read from this file, so nobody "
                "knows whether it says where it was taken; save the photo again as JPEG or PNG"
            )


def _below(path: Path, folder: Path) -> str:
    return path.relative_to(folder).as_posix() if path.is_relative_to(folder) else f"{DATA}/{path}"


def says_where(photo: bytes) -> bool:
    """Return whether a photo's own data hold a place.

    Raises
    ------
    UnreadablePhoto
    """
    # Imported here: most notes hold no photo.
    from PIL import ExifTags, Image, ImageSequence

    try:
        with warnings.catch_warnings(), Image.open(io.BytesIO(photo)) as image:
            # Of a picture in many pixels nothing is unpacked here.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            frames = ImageSequence.Iterator(image)
            in_exif = any(ExifTags.IFD.GPSInfo in frame.getexif() for frame in frames)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        raise UnreadablePhoto from None
    return in_exif or _XMP_PLACE in photo
