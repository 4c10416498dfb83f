"""Put files and folders on the disk: the only module that writes, renames or deletes."""

from __future__ import annotations

import contextlib
import ctypes
import errno
import fcntl
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

from .site_folder import (
    ARRIVING,
    CRUMB,
    arriving_text,
    files_in,
    refuse_filled,
    refuse_foreign,
    refuse_way_out,
)

_EXCHANGE = 2  # RENAME_EXCHANGE of renameat2(2)
_HERE = -100  # AT_FDCWD: paths are taken as they stand
_NOT_OFFERED = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM}


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
    beside = _arriving_beside(path, raw, mode=mode)
    with _naming(path):
        try:
            os.replace(beside, path)
        except OSError:
            remove_file(beside)
            raise
    return True


def _arriving_beside(path: Path, raw: bytes, *, mode: int = 0o644) -> Path:
    """Write what is to become a file, under another name in its folder; return that."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with _naming(path):
        handle, beside = tempfile.mkstemp(prefix=CRUMB, dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(raw)
            # mkstemp keeps a file to its maker; a web server must be able to read a page.
            os.chmod(beside, mode)
        except BaseException:
            remove_file(Path(beside))
            raise
    return Path(beside)


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


def write_in_order(folder: Path, files: Sequence[tuple[str, bytes]]) -> int:
    """Write files, (path below the folder, content), in order; then remove what is not wanted.

    What leads to the others is named last, and nothing goes before its successor stands. Until then
    a file says so to the next run.

    Raises
    ------
    FolderNotOurs
        When `folder` is not empty, new, or an older copy; nothing has been written then.
    """
    refuse_foreign(folder)
    before = set(files_in(folder)) if folder.is_dir() else set()
    _open_folder(folder)
    write_if_changed(folder / ARRIVING, arriving_text(before | {path for path, _ in files}))
    for path, _ in files:
        _open_folder((folder / path).parent)
    written = sum(write_if_changed(folder / path, content) for path, content in files)
    _remove_others(folder, wanted={ARRIVING, *(path for path, _ in files)})
    remove_file(folder / ARRIVING)
    return written


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


def copy_tree(source: Path, target: Path) -> None:
    """Copy every file below a folder; hidden files stay behind."""
    for path in sorted(source.rglob("*")):
        below = path.relative_to(source)
        if path.is_file() and not any(part.startswith(".") for part in below.parts):
            write_if_changed(target / below, path.read_bytes())


def fill_folder(
    target: Path,
    parts: Mapping[str, Path],
    *,
    texts: Mapping[str, str] | None = None,
    beside: Callable[[str], bool] = lambda name: False,
) -> None:
    """Copy folders into one that is not there yet, or empty: all of them, or nothing.

    `parts` maps names in it to folders, `texts` to a text where there is none of that name yet;
    `beside` says of a name whether it may stand there already.

    Raises
    ------
    FileExistsError
        When `target` is a file or holds anything else.
    """
    # What was stopped while it moved is whole there, and moves on.
    filled, moving = target.exists(), target / f"{CRUMB}moving"
    # On one disk what follows are renames; somebody's shell may stand in a folder that is there.
    arriving = _aside(target.resolve(), "arriving", into=target if filled else target.parent)
    if not moving.is_dir():
        refuse_filled(target, parts=parts, beside=beside)
    try:
        if not moving.is_dir():
            fresh_folder(arriving)
            for name, folder in parts.items():
                copy_tree(folder, make_folder(arriving / name))
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


def _aside(folder: Path, word: str, *, into: Path | None = None) -> Path:
    """Return where a folder waits while it comes or goes, under a name that nobody else gives."""
    return (into or folder.parent) / f".{folder.name}{CRUMB}{word}"


def make_folder(path: Path) -> Path:
    """Make a folder and those above it; return it."""
    path.mkdir(parents=True, exist_ok=True)
    return path


def _open_folder(path: Path) -> None:
    """Make a folder, and those above it that are missing, such that a web server may enter them."""
    for above in [above for above in (path, *path.parents) if not above.exists()][::-1]:
        above.mkdir(exist_ok=True)
        above.chmod(0o755)


def _open_site(site: Path) -> None:
    """Let a web server read every file of a site, and enter every folder."""
    for path in (site, *site.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)


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
    arrived = _aside(out, "arriving")
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
    aside = _aside(out, "old")
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
    aside = _aside(out, "old")
    if out.exists() or not aside.is_dir():
        return False
    os.rename(aside, out)
    return True
