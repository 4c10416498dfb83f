"""A keeper at a terminal: types commands and answers, and every typed line is counted."""

from __future__ import annotations

import os
import pty
import select
import shlex
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

from .running_program import hear_ctrl_c, program_environment

PROGRAM = "from generators.command import main; main()"
WAIT_S = 120
COLUMNS = 80


@dataclass
class Keeper:
    """Somebody who stands in a folder and types.

    Parameters
    ----------
    folder : Path
        Where they stand; `cd` moves them.
    """

    folder: Path
    commands: list[str] = field(default_factory=list)
    """Every command, as typed."""
    answers: list[str] = field(default_factory=list)
    """Every line that was typed as an answer; Enter alone is none."""
    screen: str = ""
    """What the terminal showed, all of it."""

    def types(self, command: str, *answers: str, code: int = 0) -> str:
        """Type a command and its answers, each when it is asked for; return what was shown.

        Parameters
        ----------
        command : str
            `cd DIR`, or `ohmfolio …`.
        *answers : str
            One for each question; empty for Enter alone.
        code : int
            How the command must end.
        """
        self.commands.append(command)
        self.answers += [text for text in answers if text]
        words = shlex.split(command)
        if words[0] == "cd":
            self.folder = (self.folder / words[1]).resolve()
            assert self.folder.is_dir()
            return ""
        assert words[0] == "ohmfolio", command
        shown, ended, left = self._run(words[1:], list(answers))
        self.screen += f"$ {command}\n{shown}"
        assert (ended, left) == (code, []), f"$ {command}\n{shown}\nnot asked for: {left}"
        return shown

    def _run(self, words: list[str], answers: list[str]) -> tuple[str, int, list[str]]:
        ours, theirs = pty.openpty()
        process = subprocess.Popen(
            [sys.executable, "-c", PROGRAM, *words],
            cwd=self.folder,
            stdin=theirs,
            stdout=theirs,
            stderr=theirs,
            env=program_environment(COLUMNS=str(COLUMNS), TERM="dumb"),
            preexec_fn=hear_ctrl_c,
        )
        os.close(theirs)
        shown, asked_at = "", 0
        end = time.monotonic() + WAIT_S
        try:
            while time.monotonic() < end:
                if select.select([ours], [], [], 0.2)[0]:
                    try:
                        piece = os.read(ours, 65536)
                    except OSError:
                        break
                    if not piece:
                        break
                    shown += piece.decode(errors="replace")
                elif _asks(shown[asked_at:]):
                    # Nobody answers: Ctrl-D ends it, and the test says what was asked.
                    line = (answers.pop(0) + "\n") if answers else "\x04"
                    os.write(ours, line.encode())
                    asked_at = len(shown)
                elif process.poll() is not None:
                    break
        finally:
            os.close(ours)
            process.terminate() if process.poll() is None and time.monotonic() >= end else None
        return shown.replace("\r\n", "\n"), process.wait(timeout=WAIT_S), answers


def _asks(shown: str) -> bool:
    return shown.rstrip(" ").endswith((":", "]")) and shown.endswith(" ")
