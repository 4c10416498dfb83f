"""Whether a run of the tests left the folder of the program as it was: no build, no new file."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

TOOLS = {
    ".git",
    ".hypothesis",
    ".mypy_cache",
    ".pytest_cache",
    ".ruff_cache",
    ".venv",
    "__pycache__",
    "node_modules",
}
"""Folders in which Python and its tools keep what they know; every run writes there."""
BUILT = {".build", "site", "pocket"}
"""Folders that a build makes in the notes; what stands in them must stay untouched too."""

Snapshot = dict[str, tuple[int, int]]


def snapshot(top: Path) -> Snapshot:
    """Return size and time of every file below `top`, but for those of the tools."""
    return {path: (stat.st_size, stat.st_mtime_ns) for path, stat in _files(top, top=top)}


def _files(folder: Path, *, top: Path) -> Iterator[tuple[str, os.stat_result]]:
    with os.scandir(folder) as found:
        for item in found:
            if item.is_dir(follow_symlinks=False):
                if item.name not in TOOLS and not item.name.endswith(".egg-info"):
                    yield from _files(Path(item.path), top=top)
            else:
                path = Path(item.path).relative_to(top).as_posix()
                yield path, item.stat(follow_symlinks=False)


def left_behind(before: Snapshot, *, after: Snapshot) -> list[str]:
    """Return the files that came, and those that a build would write and that changed.

    A source file that changed is no fault: whoever works here may be writing it meanwhile.
    """
    came = set(after) - set(before)
    built = {path for path in after if _is_built(path) and after[path] != before.get(path)}
    return sorted(came | built)


def _is_built(path: str) -> bool:
    folders = path.split("/")[:-1]
    # The rooms called `site` that hold source: only those at the top of notes are built.
    return bool(BUILT & set(folders) - ({"site"} if "tests" in folders[:1] else set()))
