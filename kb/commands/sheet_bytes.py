"""Read a sheet that somebody named, and no more of it than a sheet can have."""

from __future__ import annotations

from pathlib import Path

from .options import NotUnderstood

MOST_BYTES = 30_000_000
"""Common practice, no source: twenty thousand rows of thirty cells have half of it."""


def sheet_bytes(file: Path, *, holds: str) -> bytes:
    """Return what stands in a file.

    Parameters
    ----------
    file : Path
    holds : str
        What it should be named for, such as `the points`.

    Raises
    ------
    NotUnderstood
        When it cannot be read, or is longer than any sheet: a device may never end.
    """
    try:
        with open(file, "rb") as opened:
            raw = opened.read(MOST_BYTES + 1)
    except OSError as error:
        raise NotUnderstood(
            f"{file} cannot be read: {error.strerror}; name the file that holds {holds}"
        ) from None
    if len(raw) > MOST_BYTES:
        raise NotUnderstood(
            f"{file} is longer than any sheet: {MOST_BYTES // 1_000_000} MB at most are read"
        )
    return raw
