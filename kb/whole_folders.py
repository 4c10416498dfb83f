"""Put whole folders in place: a finished site in one step, a release in a served folder in a few.

A site's folder is exchanged. The folder that `pack` fills is served by somebody, through a mount or
a shell that stands in it: it stays the same folder. All of a release is on the disk, in a hidden
folder in it, before the first of its names changes; from there on only names change, and whoever
comes next finishes what was stopped.
"""

from __future__ import annotations

import contextlib
import ctypes
import errno
import json
import os
import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path

from .notes.folder import PACKING
from .release_format.places import UPLOADED_LAST
from .site_folder import (
    ARRIVING,
    FILLING,
    LEAVING,
    NAMES,
    WORK,
    arriving_names,
    files_in,
    half_written,
    refuse_foreign,
)
from .writer import (
    SomebodyElseWrites,
    aside_of,
    fresh_folder,
    link_file,
    make_folder,
    only_writer,
    remove_file,
    remove_folder,
    write_fresh,
    write_if_changed,
)

_EXCHANGE = 2  # RENAME_EXCHANGE of renameat2(2)
_HERE = -100  # AT_FDCWD: paths are taken as they stand
_LATE = tuple(dict.fromkeys(path.partition("/")[0] for path in UPLOADED_LAST))
"""Names in a release's folder that lead to the others: they come last."""
_NOT_OFFERED = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM}


def write_release(folder: Path, files: Sequence[tuple[str, bytes]]) -> int:
    """Put a release, (path below the folder, content), in place of the one in a folder.

    Returns
    -------
    int
        How many files are others than stood there; what is as it was keeps its time.

    Raises
    ------
    FolderNotOurs
        When `folder` is not empty, new, or an older copy; nothing has been written then.
    OSError
        When the disk refuses; what stood there stands, or the next run finishes it.
    """
    finish_arriving(folder)
    refuse_foreign(folder)
    _open_folder(folder)
    filling = fresh_folder(folder / FILLING)
    written = 0
    try:
        for path, content in files:
            stands = folder / path
            if stands.is_file() and stands.read_bytes() == content:
                link_file(stands, to=filling / path)
            else:
                write_fresh(filling / path, content)
                written += 1
        if not written and len(files) * 2 == sum(1 for _ in files_in(folder)):
            # Each stands there, and once more in the folder that would take its place.
            remove_folder(filling)
            return 0
        write_fresh(filling / NAMES, _names_text(files))
        _open_site(filling)
        os.rename(filling, folder / ARRIVING)
    except BaseException:
        remove_folder(filling)
        raise
    finish_arriving(folder)
    return written


@contextlib.contextmanager
def packing(notes: Path, *, to: Path) -> Iterator[None]:
    """Note where a release goes, until it stands there: else any command can finish it."""
    note = notes / PACKING
    write_if_changed(note, json.dumps({"to": str(to.resolve())}) + "\n")
    try:
        yield
    finally:
        if not half_written(to):
            remove_file(note)


def finish_packing(notes: Path) -> bool:
    """Finish what `pack` was stopped at; return whether there was anything.

    Raises
    ------
    OSError
        When the disk refuses; the next command tries again.
    """
    note = notes / PACKING
    try:
        with only_writer(notes / WORK):
            to = Path(json.loads(note.read_bytes())["to"])
            done = half_written(to) and finish_arriving(to)
            remove_file(note)
            return done
    except (SomebodyElseWrites, FileNotFoundError):
        return False  # its own run is at it, or is through
    except (ValueError, KeyError, TypeError):
        remove_file(note)
        return False


def finish_arriving(folder: Path) -> bool:
    """Finish what was stopped while a release took its names; return whether there was anything."""
    for left in (FILLING, LEAVING):
        remove_folder(folder / left)
    names = arriving_names(folder)
    if names is None:
        return False
    arriving, leaving = folder / ARRIVING, make_folder(folder / LEAVING)
    for name in [*(name for name in names if name not in _LATE), *_LATE]:
        if (arriving / name).is_dir():
            _step_aside(folder / name, into=leaving)
            os.rename(arriving / name, folder / name)
        elif (arriving / name).exists():
            if (folder / name).is_dir():
                _step_aside(folder / name, into=leaving)
            os.replace(arriving / name, folder / name)
    # What leads to the others has come: what nothing leads to any more may go.
    for path in sorted(folder.iterdir()):
        if path.name not in {*names, ARRIVING, LEAVING}:
            _step_aside(path, into=leaving)
    os.rename(arriving, leaving / ARRIVING)
    remove_folder(leaving)
    return True


def _step_aside(path: Path, *, into: Path) -> None:
    if os.path.lexists(path):
        os.rename(path, into / path.name)


def _names_text(files: Sequence[tuple[str, bytes]]) -> bytes:
    names = sorted({path.partition("/")[0] for path, _ in files})
    return (json.dumps({"arriving": names}, ensure_ascii=False) + "\n").encode("utf-8")


def _open_folder(path: Path) -> None:
    """Make a folder, and those above it that are missing, such that a web server may enter them."""
    for above in [above for above in (path, *path.parents) if not above.exists()][::-1]:
        above.mkdir(exist_ok=True)
        above.chmod(0o755)


def _open_site(site: Path) -> None:
    """Let a web server read every file of a site, and enter every folder."""
    for path in (site, *site.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)


def swap_folders(fresh: Path, *, out: Path) -> None:
    """Put a finished site in place of the old one; the old one is then at `fresh`, if any was.

    Where the system can, both are exchanged at once. Elsewhere the old one steps aside first.

    Raises
    ------
    FolderNotOurs
        When `out` holds files but is no finished site: it is left alone.
    OSError
        When the disk refuses; the old site stands.
    """
    refuse_foreign(out)
    # A link at `out` stays a link: what it leads to is replaced.
    out = out.resolve()
    _open_folder(out.parent)
    _open_site(fresh)
    if os.stat(fresh).st_dev != os.stat(out.parent).st_dev:
        _swap_from_another_disk(fresh, out)
    else:
        _swap_beside(fresh, out)


def _swap_beside(fresh: Path, out: Path) -> None:
    if not out.exists():
        os.rename(fresh, out)
    elif not _exchanged(fresh, out):
        _two_renames(fresh, out)


def _swap_from_another_disk(fresh: Path, out: Path) -> None:
    """Copy the new site to the other disk first, so that the last step is still a rename."""
    arrived = aside_of(out, "arriving")
    try:
        remove_folder(arrived)
        shutil.copytree(fresh, arrived)
        _swap_beside(arrived, out)
    except BaseException:
        remove_folder(arrived)
        raise
    with contextlib.suppress(OSError):
        remove_folder(arrived)


def _exchanged(fresh: Path, out: Path) -> bool:
    """Exchange two folders in one step; return False where the system does not offer it."""
    try:
        exchange = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError, TypeError):
        return False
    if exchange(_HERE, os.fsencode(fresh), _HERE, os.fsencode(out), _EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _NOT_OFFERED:
        return False
    raise OSError(number, os.strerror(number), str(out))


def _two_renames(fresh: Path, out: Path) -> None:
    aside = aside_of(out, "old")
    remove_folder(aside)  # left by a build that was stopped between two renames, then built again
    os.rename(out, aside)
    try:
        os.rename(fresh, out)
    except BaseException:
        if not out.exists():
            os.rename(aside, out)
        raise
    os.rename(aside, fresh)


def recover_swap(out: Path) -> bool:
    """Put the old site back when a build was stopped between two renames; say whether it was."""
    out = out.resolve()
    aside = aside_of(out, "old")
    if out.exists() or not aside.is_dir():
        return False
    os.rename(aside, out)
    return True
