"""Where a build remembers what belongs to one site, and how it tells that nobody changed it.

Little is imported here: a build with nothing to do reads such a file and ends.
"""

from __future__ import annotations

import hashlib
from pathlib import Path


def kept_place(work: Path, *, out: Path, begins: str = "", ends: str = "") -> Path:
    """Return where something of a site is remembered; another place has a file of its own."""
    return work / "kept" / f"{begins}{_sum(str(out).encode('utf-8', 'surrogateescape'))[:16]}{ends}"


def with_sum(content: bytes) -> bytes:
    """Return a content below a line with its checksum."""
    return f"{_sum(content)}\n".encode("ascii") + content


def without_sum(raw: bytes) -> bytes:
    """Return the content below its checksum.

    Raises
    ------
    ValueError
        When it is not as it was written.
    """
    checksum, _, content = raw.partition(b"\n")
    if _sum(content).encode("ascii") != checksum:
        raise ValueError("not as it was written")
    return content


def _sum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
