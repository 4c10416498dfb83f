"""Say, when somebody stops a build by hand, what stands: the old site, or the new one already."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from kb.release_format.places import LIST
from kb.site_folder import half_written

IN_PART = (
    "holds a part of the new release, phones keep what they have, and the same command again "
    "puts it right"
)


class Interrupted(KeyboardInterrupt):
    """Ctrl-C, with what stands now."""


@contextlib.contextmanager
def report_what_stands(at: Path, *, what: str = "site") -> Iterator[None]:
    """Turn Ctrl-C within the block into one that says what stands.

    The disk tells it and not the program: a key may be pressed between any two of its steps.

    Parameters
    ----------
    at : Path
        A site's folder, a packed release, or a folder and a pattern for the names of such.
    what : str
        What is made: `site` or `release`.

    Raises
    ------
    Interrupted
    """
    before = _standing(at)
    try:
        yield
    except KeyboardInterrupt:
        raise Interrupted(f"Stopped; {_what_stands(at, before, what)}.") from None


def _what_stands(at: Path, before: dict[Path, object], what: str) -> str:
    if at.is_dir() and half_written(at):
        return f"{at} {IN_PART}"
    now = _standing(at)
    if now == before:
        return f"the old {what} stands" if before else f"there was no {what} yet"
    fresh = next(path for path in now if now[path] != before.get(path))
    return f"the new {what} stands in {fresh} already"


def _standing(at: Path) -> dict[Path, object]:
    """Return each site or packed release with what tells it from another."""
    if at.is_dir():
        file = at / LIST
        return {at: file.read_bytes()} if file.is_file() else {}
    found = sorted(at.parent.glob(at.name)) if at.parent.is_dir() else []
    return {path: (path.stat().st_mtime_ns, path.stat().st_size) for path in found}
