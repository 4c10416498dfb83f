"""Stop the program where it writes: killed, or told that the disk is full, before its k-th write."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import signal
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from generators.command import main

WRITES = {
    "os.rename",
    "os.remove",
    "os.mkdir",
    "os.rmdir",
    "os.link",
    "os.symlink",
    "os.chmod",
    "os.truncate",
    "shutil.rmtree",
}
"""What Python says it is about to do, when that changes a disk (PEP 578)."""
OWN = {".build", "__pycache__"}
CRUMB = ".ohmfolio-"


@dataclass(frozen=True)
class Ended:
    """How a run ended."""

    code: int
    """-9 when it was killed."""
    words: str
    writes: int
    """How many writes it began; -1 when it was killed."""
    seconds: float


def started(
    words: Sequence[str], *, output: Path, kill_at: int | None = None, full_at: int | None = None
) -> int:
    """Start a command in a process of its own, without the second that imports take.

    Parameters
    ----------
    words : sequence of str
        As on the command line, after `ohmfolio`.
    output : Path
        Where to write what it says, and how many writes it began.
    kill_at, full_at : int, optional
        Before the write of this number it is killed, or that write and all later ones fail.

    Returns
    -------
    int
        Its process, to be waited for by `ended`.
    """
    child = os.fork()
    if child:
        return child
    code = 70
    try:
        os.setpgid(0, 0)
        code = _run(words, output=output, kill_at=kill_at, full_at=full_at)
    finally:
        os._exit(code)


class _Counted:
    """The writes that this process began; before the one of a number it is killed."""

    def __init__(self, *, kill_at: int | None, full_at: int | None = None) -> None:
        self.begun, self._own = 0, os.getpid()
        self._kill_at, self._full_at = kill_at, full_at
        sys.addaudithook(self._hear)

    def _hear(self, event: str, args: tuple[object, ...]) -> None:
        writes = event in WRITES or (event == "open" and _writing(args))
        if not writes or os.getpid() != self._own:
            return
        self.begun += 1
        if self.begun == self._kill_at:
            os.killpg(self._own, signal.SIGKILL)
        full = self._full_at is not None and self.begun >= self._full_at
        if full and event in ("open", "os.mkdir", "os.link"):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(args[0]))


def killed(do: Callable[[], object], *, at: int) -> bool:
    """Do something in a process that is killed before its write of a number; say whether it was."""
    child = os.fork()
    if not child:
        code = 70
        try:
            os.setpgid(0, 0)
            _Counted(kill_at=at)
            do()
            code = 0
        finally:
            os._exit(code)
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    assert code in (0, -signal.SIGKILL), code
    return code != 0


def _run(words: Sequence[str], *, output: Path, kill_at: int | None, full_at: int | None) -> int:
    with output.open("w", encoding="utf-8") as said:
        os.dup2(said.fileno(), 1)
        os.dup2(said.fileno(), 2)
    sys.stdout = os.fdopen(os.dup(1), "w", encoding="utf-8")
    sys.stderr = os.fdopen(os.dup(2), "w", encoding="utf-8")
    sys.argv = ["ohmfolio", *words]
    counted = _Counted(kill_at=kill_at, full_at=full_at)
    try:
        main()
        code = 0
    except SystemExit as ended:
        code = ended.code if isinstance(ended.code, int) else 1
    except BaseException:
        import traceback

        traceback.print_exc()
        code = 99
    sys.stdout.flush()
    sys.stderr.flush()
    os.write(1, f"\n{counted.begun}".encode())
    return code


def _writing(args: tuple[object, ...]) -> bool:
    path, mode, flags = args
    if isinstance(path, int) or str(path).startswith(("/dev/", "/proc/")):
        return False
    wanted = os.O_WRONLY | os.O_RDWR | os.O_CREAT
    return bool(isinstance(flags, int) and flags & wanted) or any(
        sign in str(mode or "") for sign in "wax+"
    )


def ended(child: int, *, output: Path, since: float) -> Ended:
    """Wait for a command, and return how it ended."""
    _, status = os.waitpid(child, 0)
    text = output.read_text(encoding="utf-8", errors="replace") if output.exists() else ""
    code = os.waitstatus_to_exitcode(status)
    words, _, writes = text.rpartition("\n")
    if code < 0 or not writes.isdigit():
        return Ended(code, text, -1, time.monotonic() - since)
    return Ended(code, words, int(writes), time.monotonic() - since)


def ran(
    words: Sequence[str],
    *,
    output: Path,
    kill_at: int | None = None,
    full_at: int | None = None,
    after_s: float | None = None,
) -> Ended:
    """Run a command to its end, or kill it before a write, or after so many seconds."""
    since = time.monotonic()
    child = started(words, output=output, kill_at=kill_at, full_at=full_at)
    if after_s is not None:
        time.sleep(after_s)
        with contextlib.suppress(ProcessLookupError):
            os.killpg(child, signal.SIGKILL)
    return ended(child, output=output, since=since)


def state_of(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder, but what is the program's own to lose."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not OWN & set(path.relative_to(folder).parts)
    }


def crumbs(folder: Path) -> list[str]:
    """Return what was left half written below a folder."""
    return sorted(
        path.relative_to(folder).as_posix()
        for path in folder.rglob(f"*{CRUMB}*")
        if not OWN & set(path.relative_to(folder).parts)
    )


def visible(state: dict[str, bytes]) -> dict[str, bytes]:
    """Return a state without what was left half written: nothing reads it."""
    return {path: raw for path, raw in state.items() if CRUMB not in path}


def fresh(pristine: Path, *, to: Path) -> Path:
    """Return a copy of a folder at a place, whatever stood there."""
    shutil.rmtree(to, ignore_errors=True)
    return Path(shutil.copytree(pristine, to, symlinks=True))
