"""What `ohmfolio case add` was given: a case as text, alone or in a zip with its photos."""

from __future__ import annotations

import re
import stat
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from kb.case_zip import YAML_BYTES, ZIP_BYTES, ZipRefused, read_zip
from kb.model import Case
from kb.model.words import ID_PATTERN
from kb.notes.foreign_file import ZIP, foreign
from kb.photos import PhotoRefused, tidy_photo

from .options import NotUnderstood

_PHOTOS = re.compile(rb"^photos:.*\n(?:[ \t-].*\n?)*", re.MULTILINE)
"""The list of photos as it stands in a case, up to the next field."""


@dataclass(frozen=True)
class ArrivedCase:
    """A case that is not in the notes yet."""

    case_id: str
    file: str
    """What it is called in messages."""
    yaml: bytes
    photos: Mapping[str, bytes] = field(default_factory=dict)
    """File name → a JPEG that is fit for the notes; none came with a plain file."""

    def without_photos(self) -> ArrivedCase:
        """Return the case as if none had been taken."""
        return replace(self, yaml=_PHOTOS.sub(b"", self.yaml), photos={})

    def refuse_unnamed(self, case: Case) -> None:
        """Refuse photos that the case does not name: nobody would ever see them."""
        unnamed = sorted(self.photos.keys() - {photo.file for photo in case.photos})
        if unnamed:
            raise NotUnderstood(
                f"{self.file} holds photos that its case does not name, the first as {unnamed[0]}; "
                "nothing was written"
            )


def read_arrived(file: Path, *, case_id: str | None) -> ArrivedCase:
    """Return the case in a file, in a zip, or in what is piped in.

    Raises
    ------
    NotUnderstood
        When it cannot be read, has no id, or is a zip that is no case.
    """
    if str(file) == "-":
        if case_id is None:
            raise NotUnderstood("what is piped in has no name; give it one with --id")
        raw = sys.stdin.buffer.read(ZIP_BYTES + 1)
    else:
        try:
            raw = _read(file)
        except OSError as error:
            raise NotUnderstood(
                f"{file} cannot be read: {error.strerror}; name the file that holds the case"
            ) from None
    if len(raw) > ZIP_BYTES:
        raise NotUnderstood(
            f"{file} is larger than any case: {ZIP_BYTES // 1_000_000} MB at most are read"
        )
    name = case_id or file.stem
    if not re.fullmatch(ID_PATTERN, name):
        raise NotUnderstood(
            f"'{name}' cannot be an id; use small letters, digits and single hyphens, with --id"
        )
    shown = f"{name}.yaml" if str(file) == "-" else file.name
    what = foreign(raw)
    if what and what != ZIP:
        raise NotUnderstood(
            f"{shown} is {what}, and no case; take the .yaml or .zip file that the phone saved"
        )
    if not raw.startswith(b"PK"):
        if len(raw) > YAML_BYTES:
            raise NotUnderstood(
                f"{shown} is longer than any case: {YAML_BYTES // 1000} kB at most are read"
            )
        return ArrivedCase(case_id=name, file=shown, yaml=raw)
    return _unzipped(raw, case_id=name, shown=shown)


def _read(file: Path) -> bytes:
    """Return what a file holds, or as much of it as shows that it is too long.

    Raises
    ------
    NotUnderstood
        When it is a pipe or a device: either may never end, or never begin.
    OSError
    """
    # Before it is opened: that would wait until somebody writes into a pipe.
    if not stat.S_ISREG(file.stat().st_mode):
        raise NotUnderstood(
            f"{file} is a pipe or a device, and no file; name the file that holds the case, or "
            "pipe it in: - and a name with --id"
        )
    with open(file, "rb") as opened:
        return opened.read(ZIP_BYTES + 1)


def _unzipped(raw: bytes, *, case_id: str, shown: str) -> ArrivedCase:
    """Return the case of a zip; its photos are drawn anew, and named after the case."""
    try:
        pack = read_zip(raw)
    except ZipRefused as error:
        raise NotUnderstood(f"{shown}: {error}; nothing was written") from None
    names = {name: f"{case_id}-{i + 1}.jpg" for i, name in enumerate(sorted(pack.photos))}
    photos = {}
    for name, photo in pack.photos.items():
        try:
            photos[names[name]] = tidy_photo(photo)
        except PhotoRefused as error:
            raise NotUnderstood(f"{shown}: {name} {error}; nothing was written") from None
    yaml = _PHOTOS.sub(lambda block: _renamed(block[0], names=names), pack.yaml)
    return ArrivedCase(case_id=case_id, file=shown, yaml=yaml, photos=photos)


def _renamed(block: bytes, *, names: Mapping[str, str]) -> bytes:
    """Return a case's list of photos with other names; a name that did not come stays."""

    def other(found: re.Match[bytes]) -> bytes:
        name = found[2].decode("ascii")
        return found[1] + names.get(name, name).encode("ascii")

    return re.sub(rb"""(\bfile: *['"]?)([a-z0-9-]+\.(?:jpe?g|png))""", other, block)
