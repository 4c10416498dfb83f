"""Start a program that hears Ctrl-C, even where the shell that began the tests ignores it."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def program_environment(**more: str) -> dict[str, str]:
    """Return the environment of the tests, with what a child needs to find this code."""
    return {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1", **more}


def hear_ctrl_c() -> None:
    """Restore what a terminal's shell hands on: a background shell hands on SIGINT as ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def ignore_ctrl_c() -> None:
    """Hand on SIGINT as a shell does that starts a program in the background, or with nohup."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


@contextlib.contextmanager
def running_program(
    program: str, *words: str, cwd: Path, hears_ctrl_c: bool = True, **options: object
) -> Iterator[subprocess.Popen[str]]:
    """Run Python text as a program; one that still runs at the end of the block is killed."""
    process = subprocess.Popen(
        [sys.executable, "-c", program, *words],
        cwd=cwd,
        text=True,
        stdout=subprocess.PIPE,
        env=program_environment(),
        preexec_fn=hear_ctrl_c if hears_ctrl_c else ignore_ctrl_c,
        **options,
    )
    with process:
        try:
            yield process
        finally:
            process.kill()
