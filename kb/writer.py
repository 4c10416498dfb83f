"""Put files and folders on the disk: with `whole_folders` all that writes, renames or deletes."""

from __future__ import annotations

import contextlib
import errno
import fcntl
import os
import re
import shutil
import tempfile
from collections.abc import Callable, Collection, Iterator, Mapping
from pathlib import Path

from .site_folder import CRUMB, refuse_filled, refuse_way_out

_CRUMB_NAME = re.compile(re.escape(CRUMB) + r"[a-z0-9_]{8}")
"""How `tempfile` calls a file that is being written."""


class SomebodyElseWrites(Exception):
    """Another build of the same notes is at work."""


@contextlib.contextmanager
def only_writer(folder: Path, *, waits: bool = False) -> Iterator[None]:
    """Hold a folder alone for as long as the block runs; a stopped process lets go by itself.

    One that `waits` for others holds the folder itself, which stands, and puts nothing into it.

    Raises
    ------
    SomebodyElseWrites
        At once when another process holds it.
    """
    place, flags = (folder, os.O_RDONLY) if waits else (folder / ".lock", os.O_RDWR | os.O_CREAT)
    if folder.is_symlink() and not waits:
        raise OSError(errno.ELOOP, "a link stands where builds work", str(folder))
    make_folder(folder)
    handle = os.open(place, flags, 0o644)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | (0 if waits else fcntl.LOCK_NB))
        except BlockingIOError:
            raise SomebodyElseWrites(
                f"another ohmfolio is building these notes ({folder} is in use); "
                "wait for it, or stop it"
            ) from None
        yield
    finally:
        os.close(handle)


def write_if_changed(path: Path, content: str | bytes, *, mode: int = 0o644) -> bool:
    """Write a file unless it already holds this; return whether it was written.

    It appears whole or not at all, with `mode` from its first byte: a reader never sees half of it.
    """
    raw = content.encode("utf-8") if isinstance(content, str) else content
    if path.is_file() and path.read_bytes() == raw:
        return False
    path.parent.mkdir(parents=True, exist_ok=True)
    with _naming(path):
        handle, beside = _own_crumb(path.parent)
        # Held until it has its name: another run that sweeps takes what nobody holds.
        try:
            _fill(handle, beside, raw=raw, mode=mode)
            os.replace(beside, path)
        except BaseException:
            remove_file(beside)
            raise
        finally:
            os.close(handle)
    return True


def _arriving_beside(path: Path, raw: bytes) -> Path:
    """Write what is to become a file, under another name in its folder; return that."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with _naming(path):
        handle, beside = _own_crumb(path.parent)
        try:
            _fill(handle, beside, raw=raw, mode=0o644)
        except BaseException:
            remove_file(beside)
            raise
        finally:
            os.close(handle)
    return beside


def _own_crumb(folder: Path) -> tuple[int, Path]:
    """Make an empty file under a name of ours, and hold it."""
    while True:
        handle, name = tempfile.mkstemp(prefix=CRUMB, dir=folder)
        with contextlib.suppress(OSError):  # a disk may know no such thing; nothing is swept there
            fcntl.flock(handle, fcntl.LOCK_EX)
        if os.fstat(handle).st_nlink:
            return handle, Path(name)
        os.close(handle)  # swept between the two


def _fill(handle: int, file: Path, *, raw: bytes, mode: int) -> None:
    with open(handle, "wb", closefd=False) as stream:
        stream.write(raw)
    # mkstemp keeps a file to its maker; a web server must be able to read a page.
    os.chmod(file, mode)


def sweep(folder: Path, *, below: bool = False) -> None:
    """Remove what runs that were stopped left half written in a folder, or also below it.

    What another run is writing is held by it, and stays; so does what only looks like ours.
    """
    for above, folders, names in os.walk(folder):
        folders[:] = folders if below else []
        for name in names:
            if _CRUMB_NAME.fullmatch(name):
                _sweep_file(os.path.join(above, name))


def _sweep_file(file: str) -> None:
    with contextlib.suppress(OSError):
        handle = os.open(file, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            os.unlink(file)
        finally:
            os.close(handle)


@contextlib.contextmanager
def _naming(path: Path) -> Iterator[None]:
    """A full disk names no file at all, other errors the one that was to become this."""
    try:
        yield
    except OSError as error:
        error.filename, error.filename2 = str(path), None
        raise


def write_fresh(path: Path, content: bytes) -> None:
    """Write a file below a folder that nobody reads yet; what stood there is gone."""
    make_folder(path.parent)
    remove_file(path)
    with _naming(path):
        path.write_bytes(content)


def write_folder(
    folder: Path, files: Mapping[str, str | bytes], *, keep_others: bool = False
) -> int:
    """Write many files below a folder and remove what is no longer wanted; count the written.

    `files` maps paths below the folder to contents; with `keep_others` all others stay.

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
        _remove_others(folder, wanted=set(files))
    return sum(write_if_changed(folder / path, files[path]) for path in sorted(files))


def _remove_others(folder: Path, *, wanted: set[str]) -> None:
    """Remove every file below a folder that is not wanted, and every folder without any."""
    for path in sorted(folder.rglob("*"), reverse=True):
        if path.is_dir() and not path.is_symlink():
            if not any(path.iterdir()):
                path.rmdir()
        elif path.relative_to(folder).as_posix() not in wanted:
            path.unlink()


def change_together(folder: Path, files: Mapping[str, str | bytes | None]) -> None:
    """Write files below a folder, and remove those without a text and folders left empty: or none.

    Raises
    ------
    OSError
        When the disk refuses, or a link leads out of the folder; every file stands as it stood.
    """
    for path in files:
        refuse_way_out(folder / path, notes=folder)
    before = {path: _bytes_of(folder / path) for path in files}
    arriving: dict[str, Path] = {}
    try:
        # All is on the disk before the first file changes: a disk that is full says so in time.
        for path, text in files.items():
            raw = text.encode("utf-8") if isinstance(text, str) else text
            if raw is not None and raw != before[path]:
                arriving[path] = _arriving_beside(folder / path, raw)
        for path, beside in arriving.items():
            os.replace(beside, folder / path)
        # What goes, goes last: until then whatever names it finds it.
        for path in (path for path, text in files.items() if text is None):
            remove_file(folder / path)
    except BaseException:
        for beside in arriving.values():
            remove_file(beside)
        for path, stood in before.items():
            with contextlib.suppress(OSError):
                if stood is None:
                    remove_file(folder / path)
                else:
                    write_if_changed(folder / path, stood)
        raise
    for path, text in files.items():
        for above in list((folder / path).parents)[: len(Path(path).parts) - 1]:
            if text is None and above.is_dir() and not any(above.iterdir()):
                remove_folder(above)


def _bytes_of(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None


def link_file(source: Path, *, to: Path) -> None:
    """Let a file stand in a second place too; none is ever written into, so both stay apart."""
    try:
        make_folder(to.parent)
        os.link(source, to)
    except OSError:
        write_if_changed(to, source.read_bytes())


def copy_tree(source: Path, target: Path, *, without: Collection[Path] = ()) -> None:
    """Copy every file below a folder; hidden files stay behind, and those named."""
    for path in sorted(source.rglob("*")):
        below = path.relative_to(source)
        if (
            path.is_file()
            and path not in without
            and not any(part.startswith(".") for part in below.parts)
        ):
            write_if_changed(target / below, path.read_bytes())


def fill_folder(
    target: Path,
    parts: Mapping[str, Path],
    *,
    texts: Mapping[str, str] | None = None,
    without: Collection[Path] = (),
    beside: Callable[[str], bool] = lambda name: False,
) -> None:
    """Copy folders into one that is not there yet, or empty: all of them, or nothing.

    `parts` maps names in it to folders, `texts` to a text where there is none of that name yet;
    files `without` stay behind; `beside` says of a name whether it may stand there already.

    Raises
    ------
    FileExistsError
        When `target` is a file or holds anything else.
    """
    # What was stopped while it moved is whole there, and moves on.
    filled, moving = target.exists(), target / f"{CRUMB}moving"
    # On one disk what follows are renames; somebody's shell may stand in a folder that is there.
    arriving = aside_of(target.resolve(), "arriving", into=target if filled else target.parent)
    if not moving.is_dir():
        refuse_filled(target, parts=parts, beside=beside)
    try:
        if not moving.is_dir():
            fresh_folder(arriving)
            for name, folder in parts.items():
                copy_tree(folder, make_folder(arriving / name), without=without)
            for name, text in (texts or {}).items():
                if not os.path.lexists(target / name):
                    write_if_changed(arriving / name, text)
            os.rename(arriving, moving if filled else target)
        if filled:
            _move_all(moving, into=target)
    finally:
        remove_folder(arriving)
        remove_folder(moving)


def _move_all(folder: Path, *, into: Path) -> None:
    """Rename everything in a folder into another, or put nothing there."""
    moved: list[Path] = []
    try:
        for path in sorted(folder.iterdir()):
            os.rename(path, into / path.name)
            moved.append(into / path.name)
    except BaseException:
        for path in moved:
            (remove_folder if path.is_dir() else remove_file)(path)
        raise


def aside_of(folder: Path, word: str, *, into: Path | None = None) -> Path:
    """Return where a folder waits while it comes or goes, under a name that nobody else gives."""
    return (into or folder.parent) / f".{folder.name}{CRUMB}{word}"


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
