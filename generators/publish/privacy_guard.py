"""Find what must not be published: addresses and numbers, keys, where a photo was taken."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator
from pathlib import Path

from kb.check.people import personal
from kb.made_pages import photos_of
from kb.notes.folder import CONTENT, DATA
from kb.notes.load import RELEASE_FILE, TEAM_FILE, Notes

_KEY = re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY-----")
_XMP_PLACE = b"GPSLatitude"
"""Stands as plain text in a photo's XMP packet (ISO 16684-1), beside or instead of Exif."""


class UnreadablePhoto(ValueError):
    """A file that should be a photo and is none that can be read."""


def private_findings(notes: Notes) -> list[str]:
    """Return what the notes hold that should not leave the house, each with its place and cure.

    The keeper allows exact texts by `may_be_published` in `docs_data/release.yaml`. What a case
    says about somebody is a fault of the notes and is found by `check` already.
    """
    allowed = notes.release.may_be_published if notes.release else []
    return [*_texts(notes, allowed), *_photos(notes)]


def _texts(notes: Notes, allowed: list[str]) -> Iterator[str]:
    files = [notes.folder / TEAM_FILE, notes.folder / RELEASE_FILE]
    files += sorted((notes.folder / CONTENT).rglob("*.md"))
    files += [notes.folder / notes.texts[key].file for key in sorted(notes.texts)]
    for path in files:
        if not path.is_file():
            continue
        shown = path.relative_to(notes.folder).as_posix()
        for number, line in enumerate(path.read_text(encoding="utf-8-sig").splitlines(), start=1):
            if shown == RELEASE_FILE and any(words in line for words in allowed):
                continue
            for words in allowed:
                line = line.replace(words, "")
            for what, words in _private(line):
                yield (
                    f"{shown}:{number}: '{words}' looks like {what}; take it out, or add it to "
                    f"may_be_published in {RELEASE_FILE}"
                )


def _private(line: str) -> Iterator[tuple[str, str]]:
    for key in _KEY.finditer(line):
        yield "a private key", key[0]
    for what, words in personal(line):
        if what in ("an e-mail address", "a telephone number"):
            yield what, words


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
