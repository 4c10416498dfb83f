"""All that an answer depends on beside the notes: this program, what it carries, libraries."""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

from kb.notes.folder import CONTENT, DATA, DRESS, carried

_ROOMS = tuple(Path(__file__).resolve().parents[1] / name for name in ("kb", "generators"))
_LEFT_OUT = {"__pycache__", "carried"}


class FolderLinked(ValueError):
    """A folder is a link: what is below it cannot be told from here."""


def program_key() -> str:
    """Return a checksum of all code, of what it carries, and of the libraries' versions."""
    return _program_key()


@cache
def _program_key() -> str:
    # A running program stays what it was when it began, whatever happens to its files.
    mixed = hashlib.sha256(sys.version.encode())
    mixed.update("\0".join(_installed()).encode("utf-8", "surrogateescape"))
    for folder in (*_ROOMS, carried(DATA), carried(CONTENT), carried(DRESS)):
        mixed.update(folder_key([folder]).encode())
    return mixed.hexdigest()


def folder_key(folders: Iterable[Path]) -> str:
    """Return a checksum of every file below some folders: its path there and its bytes."""
    mixed = hashlib.sha256()
    for folder in folders:
        for name, path in files_below(folder):
            mixed.update(f"\0{name}\0".encode("utf-8", "surrogateescape"))
            mixed.update(file_sum(path).encode())
        mixed.update(b"\0\0")
    return mixed.hexdigest()


def files_below(folder: Path) -> Iterator[tuple[str, str]]:
    """Yield (path in the folder, whole path) of every file, in order; caches of Python's aside.

    Raises
    ------
    FolderLinked
    """
    root = str(folder)
    for above, folders, names in os.walk(root):
        if any(os.path.islink(os.path.join(above, name)) for name in folders):
            raise FolderLinked(above)
        folders[:] = sorted(name for name in folders if name not in _LEFT_OUT)
        for name in sorted(names):
            whole = os.path.join(above, name)
            yield os.path.relpath(whole, root) if above != root else name, whole


def file_sum(path: str | Path) -> str:
    """Return the SHA-256 of a file's bytes."""
    with open(path, "rb", buffering=0) as file:
        return hashlib.sha256(file.read()).hexdigest()


def _installed() -> list[str]:
    """Return every library that is installed, with its version, as its folder's name says."""
    found: set[str] = set()
    for folder in sys.path:
        if os.path.isdir(folder):
            found.update(name for name in os.listdir(folder) if name.endswith(".dist-info"))
    return sorted(found)
