"""Put files and folders on the disk: the only module that writes, renames, deletes or makes them."""

from __future__ import annotations

import contextlib
import ctypes
import errno
import fcntl
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

MARK = "release.json"
"""A finished site holds this file; a folder without it is not ours to replace."""

_EXCHANGE = 2  # RENAME_EXCHANGE of renameat2(2)
_HERE = -100  # AT_FDCWD: paths are taken as they stand
_NOT_OFFERED = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM}


class FolderNotOurs(Exception):
    """The folder that a site should replace holds something else."""


class SomebodyElseWrites(Exception):
    """Another build of the same notes is at work."""


@contextlib.contextmanager
def only_writer(folder: Path) -> Iterator[None]:
    """Hold a folder alone for as long as the block runs; a stopped process lets go by itself.

    Raises
    ------
    SomebodyElseWrites
        At once when another process holds it.
    """
    make_folder(folder)
    with open(folder / ".lock", "w", encoding="utf-8") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise SomebodyElseWrites(
                f"another ohmfolio is building these notes ({folder} is in use); "
                "wait for it, or stop it"
            ) from None
        yield


def write_if_changed(path: Path, content: str | bytes) -> bool:
    """Write a file unless it already holds this; return whether it was written.

    The file appears whole or not at all: a reader never sees half of it.
    """
    told = content.encode("utf-8") if isinstance(content, str) else content
    if path.is_file() and path.read_bytes() == told:
        return False
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, beside = tempfile.mkstemp(prefix=".ohmfolio-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(told)
        # mkstemp keeps a file to its maker; a web server must be able to read a page.
        os.chmod(beside, 0o644)
        os.replace(beside, path)
    except BaseException:
        remove_file(Path(beside))
        raise
    return True


def write_folder(
    folder: Path, files: Mapping[str, str | bytes], *, keep_others: bool = False
) -> int:
    """Write many files below a folder and remove what is no longer wanted; count the written.

    Parameters
    ----------
    folder : Path
    files : mapping of path below the folder → content
    keep_others : bool
        Leave files alone that the mapping does not name.

    Raises
    ------
    ValueError
        When a path would leave the folder; nothing has been written then.
    """
    for path in files:
        if Path(path).is_absolute() or ".." in Path(path).parts:
            raise ValueError(f"'{path}' leads out of the folder it should be written to")
    folder.mkdir(parents=True, exist_ok=True)
    if not keep_others:
        wanted = {folder / path for path in files}
        for old in sorted(folder.rglob("*"), reverse=True):
            if old.is_dir() and not old.is_symlink():
                if not any(old.iterdir()):
                    old.rmdir()
            elif old not in wanted:
                old.unlink()
    return sum(write_if_changed(folder / path, files[path]) for path in sorted(files))


def write_in_order(folder: Path, files: Sequence[tuple[str, bytes]]) -> int:
    """Write files one after the other, and only then remove what is no longer wanted.

    For a folder that a web server hands out meanwhile: what leads to the others is named last, and
    nothing goes before its successor stands.

    Parameters
    ----------
    folder : Path
        Empty, new, or an older copy.
    files : sequence of (path below the folder, content)

    Raises
    ------
    FolderNotOurs
        When `folder` holds something else; nothing has been written then.
    """
    refuse_foreign(folder)
    written = sum(write_if_changed(folder / path, content) for path, content in files)
    wanted = {folder / path for path, _ in files}
    for old in sorted(folder.rglob("*"), reverse=True):
        if old.is_dir() and not old.is_symlink():
            if not any(old.iterdir()):
                old.rmdir()
        elif old not in wanted:
            old.unlink()
    return written


def copy_file(source: Path, target: Path) -> None:
    """Copy one file's bytes, and make the folders that it needs."""
    write_if_changed(target, source.read_bytes())


def copy_tree(source: Path, target: Path) -> None:
    """Copy every file below a folder; hidden files stay behind."""
    for path in sorted(source.rglob("*")):
        below = path.relative_to(source)
        if path.is_file() and not any(part.startswith(".") for part in below.parts):
            copy_file(path, target / below)


def fill_folder(target: Path, parts: Mapping[str, Path]) -> None:
    """Copy folders into one that is not there yet, or empty: all of them, or nothing.

    Parameters
    ----------
    target : Path
    parts : mapping of name in `target` → folder to copy

    Raises
    ------
    FileExistsError
        When `target` is a file or holds anything.
    """
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise FileExistsError(f"{target} is not an empty folder")
    # Gathered on the same disk, so that what follows are renames. An empty folder is filled and
    # not replaced: somebody's shell may stand in it.
    filled = target.exists()
    arriving = (target if filled else target.parent) / f".{target.resolve().name}.arriving"
    moved: list[Path] = []
    try:
        fresh_folder(arriving)
        for name, folder in parts.items():
            copy_tree(folder, make_folder(arriving / name))
        if filled:
            for name in parts:
                os.rename(arriving / name, target / name)
                moved.append(target / name)
        else:
            os.rename(arriving, target)
    except BaseException:
        for folder in moved:
            remove_folder(folder)
        raise
    finally:
        remove_folder(arriving)


def make_folder(path: Path) -> Path:
    """Make a folder and those above it; return it."""
    path.mkdir(parents=True, exist_ok=True)
    return path


def fresh_folder(path: Path) -> Path:
    """Return an empty folder at this path; what was there is gone."""
    remove_folder(path)
    return make_folder(path)


def remove_folder(path: Path) -> None:
    """Remove a folder and all in it, if it is there. A link is removed, not what it leads to."""
    if path.is_symlink():
        path.unlink()
    elif path.exists():
        shutil.rmtree(path)


def remove_file(path: Path) -> None:
    """Remove a file, if it is there."""
    path.unlink(missing_ok=True)


def swap_folders(fresh: Path, out: Path) -> None:
    """Put a finished site in place of the old one; the old one is then at `fresh`, if any was.

    Where the system can exchange two folders at once, nobody ever sees neither of them. Elsewhere
    the old one steps aside by one rename and the new one takes its place by another; when the
    second fails, the first is undone.

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
    make_folder(out.parent)
    if os.stat(fresh).st_dev != os.stat(out.parent).st_dev:
        _swap_from_another_disk(fresh, out)
    else:
        _swap_beside(fresh, out)


def refuse_foreign(out: Path) -> None:
    """Raise FolderNotOurs when `out` holds files and is no finished site of ours."""
    if not out.exists():
        return
    if not out.is_dir():
        raise FolderNotOurs(f"{out} is a file; name a folder for the site")
    if any(out.iterdir()) and not (out / MARK).is_file():
        raise FolderNotOurs(
            f"{out} holds files but no {MARK}, so it is not a site that was built here; "
            "name a new or empty folder, it would be replaced"
        )


def _swap_beside(fresh: Path, out: Path) -> None:
    if not out.exists():
        os.rename(fresh, out)
    elif not _exchanged(fresh, out):
        _two_renames(fresh, out)


def _swap_from_another_disk(fresh: Path, out: Path) -> None:
    """Copy the new site to the other disk first, so that the last step is still a rename."""
    arrived = out.with_name(f".{out.name}.arriving")
    try:
        remove_folder(arrived)
        shutil.copytree(fresh, arrived)
        _swap_beside(arrived, out)
    finally:
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
    aside = out.with_name(f".{out.name}.old")
    if aside.exists():
        # Left by a build that was stopped between its two renames, then built again.
        remove_folder(aside)
    os.rename(out, aside)
    try:
        os.rename(fresh, out)
    except BaseException:
        os.rename(aside, out)
        raise
    os.rename(aside, fresh)


def recover_swap(out: Path) -> bool:
    """Put the old site back when a build was stopped between two renames; say whether it was.

    Where folders are exchanged in one step there is nothing to recover.
    """
    out = out.resolve()
    aside = out.with_name(f".{out.name}.old")
    if out.exists() or not aside.is_dir():
        return False
    os.rename(aside, out)
    return True
