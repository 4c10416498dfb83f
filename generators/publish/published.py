"""Read a published copy wherever it is: a folder, a zip file, or a web host."""

from __future__ import annotations

import errno
import urllib.error
import urllib.request
import zipfile
from http.client import HTTPException
from pathlib import Path
from typing import Protocol
from urllib.parse import quote

from kb.notes.folder import leads_out

TIMEOUT_S = 20.0
MOST_BYTES = 1 << 29
"""Of one file no more is read, 512 MB: a pack of ten thousand pages is a tenth of it, and a host
that never ends would fill the memory."""
_GONE = {403, 404, 410}


class NoCopyThere(Exception):
    """What was named holds no published copy, or cannot be reached."""


class Copy(Protocol):
    """A published copy."""

    where: str

    def read(self, path: str) -> bytes | None:
        """Return a file's bytes, or None when it is not there."""

    def paths(self) -> set[str] | None:
        """Return every file there is, or None where that cannot be asked."""


class FolderCopy:
    """A copy in a folder."""

    def __init__(self, folder: Path) -> None:
        self.where = str(folder)
        self._folder = folder

    def read(self, path: str) -> bytes | None:
        """Return a file's bytes, or None when it is not there."""
        file = self._folder / path
        try:
            if leads_out(file, inside=self._folder) or not file.is_file():
                return None
            with file.open("rb") as opened:
                return opened.read(MOST_BYTES)
        except OSError as error:
            if error.errno == errno.ENAMETOOLONG:
                return None
            raise NoCopyThere(f"{file} cannot be read: {error.strerror}") from None

    def paths(self) -> set[str] | None:
        """Return every file there is."""
        return {
            path.relative_to(self._folder).as_posix()
            for path in self._folder.rglob("*")
            if path.is_file()
        }


class ZipCopy:
    """A copy in a zip file."""

    def __init__(self, file: Path) -> None:
        self.where = str(file)
        try:
            self._zip = zipfile.ZipFile(file)
        # It is somebody else's, and its reader raises whatever it trips over.
        except Exception:
            raise NoCopyThere(f"{file} is no zip file, or it is cut short") from None

    def read(self, path: str) -> bytes | None:
        """Return a file's bytes, or None when it is not there or damaged in the zip."""
        try:
            with self._zip.open(name=path, mode="r") as opened:
                return opened.read(MOST_BYTES)
        except KeyError:
            return None
        except Exception:
            return b""

    def paths(self) -> set[str] | None:
        """Return every file there is."""
        return {path for path in self._zip.namelist() if not path.endswith("/")}


class HostCopy:
    """A copy on a web host."""

    def __init__(self, url: str) -> None:
        self.where = url.rstrip("/") + "/"

    def read(self, path: str) -> bytes | None:
        """Return a file's bytes as the host gives them now, past every cache on the way."""
        request = urllib.request.Request(
            self.where + quote(path), headers={"Cache-Control": "no-cache"}
        )
        try:
            with urllib.request.urlopen(request, timeout=TIMEOUT_S) as answer:
                content: bytes = answer.read(MOST_BYTES)
                return content
        except urllib.error.HTTPError as refused:
            refused.close()
            if refused.code in _GONE:
                return None
            raise NoCopyThere(f"{self.where}{path}: the host answers {refused.code}") from None
        except (urllib.error.URLError, OSError, ValueError, HTTPException) as failed:
            reason = getattr(failed, "reason", failed)
            raise NoCopyThere(f"{self.where} cannot be reached: {reason}") from None

    def paths(self) -> set[str] | None:
        """Return None: a host does not say what it has."""
        return None


def open_copy(where: str) -> Copy:
    """Return the copy in a folder or zip file, or on a host.

    Raises
    ------
    NoCopyThere
        When there is nothing of that name.
    """
    if where.startswith(("http://", "https://")):
        return HostCopy(where)
    path = Path(where)
    if path.is_dir():
        return FolderCopy(path)
    if path.is_file():
        return ZipCopy(path)
    raise NoCopyThere(f"there is no folder, zip file or address '{where}'")
