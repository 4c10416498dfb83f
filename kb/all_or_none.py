"""Change several files of the notes at once: all of them, or none."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping, Sequence
from pathlib import Path

from .writer import remove_file, remove_folder, write_if_changed


def write_together(folder: Path, files: Mapping[str, str]) -> None:
    """Write several files below a folder: all of them, or none.

    Parameters
    ----------
    folder : Path
    files : mapping of path below the folder → text

    Raises
    ------
    OSError
        When the disk refuses; every file stands as it stood.
    """
    before = {
        path: (folder / path).read_bytes() if (folder / path).is_file() else None for path in files
    }
    try:
        for path in sorted(files):
            write_if_changed(folder / path, files[path])
    except BaseException:
        for path, raw in before.items():
            if raw is None:
                remove_file(folder / path)
            else:
                with contextlib.suppress(OSError):
                    write_if_changed(folder / path, raw)
        raise


def remove_together(folder: Path, paths: Sequence[str]) -> None:
    """Remove files below a folder, and the folders that are empty then; all, or none.

    Raises
    ------
    OSError
        When the disk refuses; every file stands as it stood.
    """
    before = {path: (folder / path).read_bytes() for path in paths}
    try:
        for path in paths:
            remove_file(folder / path)
    except BaseException:
        for path, raw in before.items():
            write_if_changed(folder / path, raw)
        raise
    for path in paths:
        for above in list((folder / path).parents)[: len(Path(path).parts) - 1]:
            if above.is_dir() and not any(above.iterdir()):
                remove_folder(above)
