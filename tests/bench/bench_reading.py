"""What a command takes on thousands of entries, in processor seconds: prints only.

Run: python -m tests.bench.bench_reading [ENTRIES]. Each figure is the median of RUNS, beside a bare
`import numpy` and beside composing the same files with PyYAML's parser in C, in the same run.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from kb.model import Code, Sensor
from kb.notes.late import open_notes
from kb.site_folder import WORK

from .bench_build import edited
from .many_notes import write_many_notes

RUNS = 5
RUNS_OF_CHECK = 3
_COMPOSE = """
import sys, yaml
from pathlib import Path
for path in sorted(Path(sys.argv[1], "docs_data").rglob("*.yaml")):
    yaml.compose(path.read_bytes().decode("utf-8"), Loader=yaml.CSafeLoader)
"""
_OHMFOLIO = "from generators.command import main; main()"


def seconds(program: str, *arguments: str) -> float:
    """Return the processor time of one run of a Python program."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, "-c", program, *arguments], check=True, stdout=subprocess.DEVNULL
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def median(ask: Callable[[], float], *, runs: int = RUNS) -> float:
    """Return the median of some runs, after one that fills the disk's cache."""
    ask()
    return statistics.median(ask() for _ in range(runs))


def main(entries: int) -> None:
    """Print a row for each command."""
    # A program that is installed has its modules compiled.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as folder:
        notes = Path(folder) / "notes"
        count = write_many_notes(entries, folder=notes)
        opened = open_notes(notes)
        sensors = [entry for entry in opened.of(Sensor).values() if entry.curve and entry.testable]
        sensor, code = sensors[len(sensors) // 2], list(opened.of(Code).values())[-1]
        numpy = median(lambda: seconds("import numpy"))
        compose = median(lambda: seconds(_COMPOSE, str(notes)), runs=RUNS_OF_CHECK)
        print(f"{count} entries; processor seconds, medians of {RUNS}")
        print(f"{'import numpy':14} {numpy:7.2f}")
        print(f"{'compose':14} {compose:7.2f}")
        asked = {
            "expect": ("expect", f"sensors/{sensor.id}", "--at", "7"),
            "judge": ("judge", f"sensors/{sensor.id}", "--at", "7", "--reading", "OL"),
            "code": ("code", code.family, code.shown[0].spoken()),
        }
        for name, words in asked.items():
            ask = (*words, "--notes", str(notes))
            took = median(lambda ask=ask: seconds(_OHMFOLIO, *ask))
            print(f"{name:14} {took:7.2f} {took / numpy:7.1f} × import numpy")
        for name, before in {
            "check, cold": lambda run: shutil.rmtree(notes / WORK, ignore_errors=True),
            "check, edited": lambda run: edited(notes, run=run),
            "check, same": lambda run: None,
        }.items():
            took = statistics.median(
                [checked_s(notes, before=before, run=run) for run in range(RUNS_OF_CHECK)]
            )
            print(f"{name:14} {took:7.2f} {took / compose:7.2f} × compose")


def checked_s(notes: Path, *, before: Callable[[int], object], run: int) -> float:
    """Return what a check takes after something was done to the notes."""
    before(run)
    return seconds(_OHMFOLIO, "check", "--notes", str(notes))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
