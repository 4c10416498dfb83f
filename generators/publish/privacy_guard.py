"""Find what must not be published: addresses and numbers, keys, where a photo was taken."""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from pathlib import Path

from kb.check.people import personal
from kb.model import Drawing
from kb.notes.folder import CONTENT, DATA
from kb.notes.load import RELEASE_FILE, TEAM_FILE, Notes

_KEY = re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY-----")
_TIFF = re.compile(rb"(?:Exif\0\0|eXIf|EXIF.{4})(II\*\0|MM\0\*)", re.DOTALL)
_GPS = 0x8825
"""The tag that leads to the place in a photo's data (Exif 2.32, CIPA DC-008, 4.6.3)."""


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
            if shown == RELEASE_FILE and any(one in line for one in allowed):
                continue
            for one in allowed:
                line = line.replace(one, "")
            for what, found in _private(line):
                yield (
                    f"{shown}:{number}: '{found}' looks like {what}; take it out, or add it to "
                    f"may_be_published in {RELEASE_FILE}"
                )


def _private(line: str) -> Iterator[tuple[str, str]]:
    for found in _KEY.finditer(line):
        yield "a private key", found[0]
    for what, found in personal(line):
        if what in ("an e-mail address", "a telephone number"):
            yield what, found


def _photos(notes: Notes) -> Iterator[str]:
    for drawing in notes.of(Drawing).values():
        if not drawing.photo:
            continue
        path = (notes.folder / notes.texts[("drawings", drawing.id)].file).with_name(drawing.photo)
        if path.is_file() and says_where(path.read_bytes()):
            shown = _below(path, notes.folder)
            yield f"{shown}: the photo says where it was taken; save it without its place"


def _below(path: Path, folder: Path) -> str:
    return path.relative_to(folder).as_posix() if path.is_relative_to(folder) else f"{DATA}/{path}"


def says_where(photo: bytes) -> bool:
    """True when a photo's own data hold a place."""
    for found in _TIFF.finditer(photo):
        order = "<" if found[1].startswith(b"II") else ">"
        at = found.start(1)
        try:
            (first,) = struct.unpack_from(f"{order}I", photo, at + 4)
            (count,) = struct.unpack_from(f"{order}H", photo, at + first)
            for i in range(count):
                (tag,) = struct.unpack_from(f"{order}H", photo, at + first + 2 + 12 * i)
                if tag == _GPS:
                    return True
        except struct.error:
            continue
    return False
