"""Change files of the notes as one: what is stopped half-way, the next command finishes."""

from __future__ import annotations

import base64
import contextlib
import errno
import hashlib
import json
import os
from collections.abc import Iterator, Mapping
from pathlib import Path

from .notes.folder import CONTENT, DATA, PLAN
from .site_folder import CRUMB, refuse_way_out
from .writer import change_together, only_writer, remove_file, sweep, write_if_changed

_held: set[Path] = set()

Content = str | bytes | None
"""What stands in a file; None where there is none."""


@contextlib.contextmanager
def changing(notes: Path) -> Iterator[None]:
    """Hold the notes until the block ends, so that what it reads is what it changes.

    Another command that changes them waits: nobody may be asked anything within.
    """
    notes = notes.resolve()
    if notes in _held:
        yield
        return
    with only_writer(notes / DATA, waits=True):
        _held.add(notes)
        try:
            finish_change(notes)
            for room in (DATA, CONTENT):
                sweep(notes / room, below=True)
            yield
        finally:
            _held.discard(notes)


def stamp_of(notes: Path) -> str:
    """Return what is another once a file of the notes was changed, came or went.

    Whoever asks somebody before writing takes it before reading: what the answer rested on may be
    gone by then.
    """
    seen = hashlib.sha256()
    for room in (DATA, CONTENT):
        for above, folders, names in os.walk(notes / room):
            folders.sort()
            for name in sorted(name for name in names if not name.startswith(CRUMB)):
                path = os.path.join(above, name)
                with contextlib.suppress(OSError):
                    file = os.stat(path)
                    sign = (file.st_ino, file.st_size, file.st_mtime_ns, file.st_ctime_ns)
                    seen.update(f"{path}\0{sign}\n".encode("utf-8", "surrogateescape"))
    return seen.hexdigest()


def change_notes(
    notes: Path,
    files: Mapping[str, Content],
    *,
    before: Mapping[str, Content] | None = None,
    stamp: str = "",
) -> None:
    """Write files of the notes, and remove those without a content: all of it, or nothing.

    Parameters
    ----------
    notes : Path
    files : mapping of path in the notes → content
    before : mapping of path in the notes → content, optional
        What they were when somebody read them: where one is another now, nothing is changed.
    stamp : str, optional
        That of the notes before they were read: where they are others now, nothing is changed.

    Raises
    ------
    OSError
        When the disk refuses, a link leads out of the notes, or a file was changed meanwhile; every
        file stands as it stood.
    """
    with changing(notes):
        if stamp and stamp_of(notes) != stamp:
            raise OSError(
                errno.ESTALE, "somebody changed the notes meanwhile; ask again", str(notes)
            )
        for path, content in (before or {}).items():
            refuse_way_out(notes / path, notes=notes)
            if _content(notes / path) != _raw(content):
                raise OSError(errno.ESTALE, "somebody changed it meanwhile", str(notes / path))
        plan = notes / PLAN
        stood = {path: _content(notes / path) for path in files}
        # One file is whole by itself.
        if len(files) > 1:
            write_if_changed(plan, _plan_text(files, stood=stood))
        try:
            change_together(notes, files)
        except BaseException:
            # What could not be taken back the next command finishes.
            if all(_content(notes / path) == stood[path] for path in files):
                remove_file(plan)
            raise
        remove_file(plan)


def finish_change(notes: Path) -> int:
    """Finish what a command began that was stopped; return how many files it has to do with.

    A file that somebody changed since is left as it is.

    Raises
    ------
    OSError
        When the disk refuses; the next command tries again.
    """
    plan = notes / PLAN
    if not plan.is_file():
        return 0
    if notes.resolve() not in _held:
        with changing(notes):
            return 0
    files = _read_plan(plan.read_bytes())
    # What goes, goes last: until then whatever names it finds it.
    for path, (sum_before, content) in sorted(files.items(), key=lambda file: file[1][1] is None):
        file = notes / path
        refuse_way_out(file, notes=notes)
        if _sum(_content(file)) == sum_before:
            change_together(notes, {path: content})
    remove_file(plan)
    return len(files)


def _plan_text(files: Mapping[str, Content], *, stood: Mapping[str, bytes | None]) -> str:
    plan = {}
    for path, content in files.items():
        raw = _raw(content)
        shall = None if raw is None else base64.b64encode(raw).decode("ascii")
        plan[path] = [_sum(stood[path]), shall]
    return json.dumps(plan, sort_keys=True) + "\n"


def _read_plan(raw: bytes) -> dict[str, tuple[str, bytes | None]]:
    """Return a plan; nothing where it is none of ours."""
    try:
        plan = json.loads(raw)
        return {
            str(path): (str(was), None if shall is None else base64.b64decode(shall))
            for path, (was, shall) in plan.items()
        }
    except (ValueError, TypeError, AttributeError, RecursionError):
        return {}


def _raw(content: Content) -> bytes | None:
    return content.encode("utf-8") if isinstance(content, str) else content


def _content(file: Path) -> bytes | None:
    return file.read_bytes() if os.path.isfile(file) else None


def _sum(raw: bytes | None) -> str:
    return "" if raw is None else hashlib.sha256(raw).hexdigest()
