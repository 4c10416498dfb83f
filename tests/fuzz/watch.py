"""What must hold whatever comes in: no traceback, no long time, no heap of memory, no way out."""

from __future__ import annotations

import os
import resource
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MOST_S = 2.0
"""Of the processor: another process that takes it is no fault of an input."""
MOST_MB = 200
"""What one input may add to the memory ever used."""
_OPENING = {"open", "os.mkdir", "os.remove", "os.rename", "os.rmdir", "os.listdir", "os.scandir"}
_SYSTEM = (
    *(
        "/usr/",
        "/lib",
        "/proc/",
        "/sys/",
        "/dev/",
        "/opt/",
        "/etc/mime",
        "/etc/apache",
        "/etc/httpd",
    ),
    *(os.path.expanduser(f"~/{room}/matplotlib") for room in (".config", ".cache")),
)
"""What libraries look into by themselves."""


@dataclass(frozen=True)
class Finding:
    """An input that broke a rule."""

    target: str
    raw: bytes
    rule: str
    """Traceback, slow, memory, outside, or what a target holds to."""
    words: str
    """What happened: alike for inputs that meet the same fault."""


class _Opened:
    """Hears every file that is opened, while something is watched."""

    def __init__(self) -> None:
        self.inside: tuple[str, ...] = ()
        self.strays: list[str] = []
        self.hearing = False

    def hear(self, event: str, args: tuple[object, ...]) -> None:
        if not self.hearing or event not in _OPENING or not args:
            return
        if isinstance(args[0], str | bytes | os.PathLike):
            path = os.path.realpath(os.fsdecode(args[0]))
            if not f"{path}/".startswith((*self.inside, *_SYSTEM)):
                self.strays.append(f"{event} {path}")


_OPENED = _Opened()
sys.addaudithook(_OPENED.hear)


@contextmanager
def _hearing(folder: Path) -> Iterator[list[str]]:
    own = (str(ROOT), str(Path(sys.prefix).parent), sys.base_prefix, *filter(None, sys.path))
    kept = (str(folder), *own, tempfile.gettempdir() + "/tmp")
    _OPENED.inside, _OPENED.strays, _OPENED.hearing = kept, [], True
    try:
        yield _OPENED.strays
    finally:
        _OPENED.hearing = False


def watched(
    run: Callable[[bytes], Iterator[str]],
    raw: bytes,
    *,
    target: str,
    inside: Path,
    spared_s: Callable[[], float] = lambda: 0.0,
) -> list[Finding]:
    """Run a target on an input, and return every rule that it broke.

    Parameters
    ----------
    run : callable
        Takes the input, yields what is broken of the target's own rules.
    raw : bytes
    target : str
    inside : Path
        The only folder, beside the program's own, in which files may be opened.
    spared_s : callable
        Seconds that the target spent so far on what is timed elsewhere.
    """
    before_mb, began = _peak_mb(), time.process_time() - spared_s()
    broken: list[tuple[str, str]] = []
    with _hearing(inside) as strays:
        try:
            broken += [("broken", words) for words in run(raw)]
        except Exception as error:
            broken.append(("traceback", _place(error)))
    took, more_mb = time.process_time() - spared_s() - began, _peak_mb() - before_mb
    if took > MOST_S:
        broken.append(("slow", f"{took:.1f} s"))
    if more_mb > MOST_MB:
        broken.append(("memory", f"{more_mb:.0f} MB more"))
    broken += [("outside", stray) for stray in strays[:1]]
    return [Finding(target, raw, rule, words) for rule, words in broken]


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _place(error: Exception) -> str:
    """Return the error and the last line of ours that it came through: alike for one fault."""
    ours = [
        f"{Path(frame.filename).relative_to(ROOT)}:{frame.lineno} {frame.name}"
        for frame in traceback.extract_tb(error.__traceback__)
        if frame.filename.startswith((f"{ROOT}/kb", f"{ROOT}/generators"))
    ]
    return f"{type(error).__name__} at {ours[-1] if ours else '?'}: {str(error)[:120]}"
