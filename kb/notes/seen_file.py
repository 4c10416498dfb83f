"""Tell by what the disk says of a file whether its bytes are those that were read before.

A disk notes the moment of each change, and nobody can set that back: not `touch`, not a copy that
keeps times, not a new file in the place of the old. What is too fresh is not believed, since two
changes may share one tick of a clock.
"""

from __future__ import annotations

import errno
import hashlib
import os

FRESH_NS = 3_000_000_000
"""The longest tick of a disk in use is two seconds (FAT); with one to spare, from memory."""
_SECOND_NS = 1_000_000_000


class ChangedMeanwhile(OSError):
    """A file was read, and is another now: what was said of it does not hold."""

    def __init__(self, file: str) -> None:
        super().__init__(errno.EAGAIN, "it was changed while it was read; ask again", file)


def sign_of(file: os.stat_result, *, now_ns: int) -> str:
    """Return what is another after every change of a file; nothing where that cannot be told.

    Parameters
    ----------
    file : os.stat_result
        What the disk said before the file was read.
    now_ns : int
        The clock before that, in nanoseconds. A file from later, as after a clock that was set
        back, is not believed either.
    """
    newest = max(file.st_mtime_ns, file.st_ctime_ns)
    # A disk that counts whole seconds, or keeps no moment of change, is not believed.
    if newest > now_ns - FRESH_NS or file.st_ctime_ns % _SECOND_NS == 0:
        return ""
    return f"{file.st_dev} {file.st_ino} {file.st_size} {file.st_mtime_ns} {file.st_ctime_ns}"


def checksum_of(raw: bytes) -> str:
    """Return the SHA-256 of a file's bytes."""
    return hashlib.sha256(raw).hexdigest()


def bytes_of(path: str, *, checksum: str) -> bytes:
    """Return a file's bytes, which are known by their checksum.

    Raises
    ------
    ChangedMeanwhile
        When it holds others by now.
    OSError
    """
    with open(path, "rb", buffering=0) as file:
        raw = file.read()
    if checksum_of(raw) != checksum:
        raise ChangedMeanwhile(path)
    return raw
