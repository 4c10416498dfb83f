"""Kill every command that writes at random moments, fill its disk, and start two at once.

    python -m tests.bench.bench_kills [--count 200] [--seed 1] [--only WORD] [--pairs N]

Half of the kills come before a write drawn at random, half at a random time. Whole means: the notes
are those before or those after (once the next command was asked), a site is what its list says,
nothing is left half written, and the same command again ends as it would have and sweeps what was left. Pairs run at once twice: both
to their end, and one killed at a random moment.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import importlib
import io
import json
import os
import random
import shutil
import signal
import tempfile
import time
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner
from PIL import Image

from tests.killed import Ended, crumbs, ended, fresh, ran, started, state_of, visible

SOURCE = ["--id", "our-sheet", "--name", "Our sheet", "--title", "Sheet", "--publisher", "We"]
CASE = Path(__file__).resolve().parents[2] / "kb/starter/docs_data/cases/2026-01-15-example.yaml"
SHEET = """family,source,label,measures,location,access,curve,min °C,max °C
example-unit,example-sheet,S1,the first pipe,Left of the box,open,example-10k,-5,30
example-unit,example-sheet,S2,the second pipe,Right of the box,open,example-10k,-5,30
"""
SLIP = """entry: sensors/example-suction
wrong: 'The plug is marked CN3'
better: 'CN7, as printed on the board'
by: 'AA'
on: 2026-03-01
release: '3 0123456789ab'
"""


@dataclass(frozen=True)
class Typed:
    """A command, and what it may change beside the notes."""

    name: str
    words: tuple[str, ...]
    again: tuple[int, ...] = (0,)
    """How the same command may end when it was done already."""


NOTES = ("--notes", "notes")
COMMANDS = [
    Typed("start", ("start", "fresh", "--bare"), (0, 2)),
    Typed("start in a repository", ("start", "repository", "--bare"), (0, 2)),
    Typed("start --empty", ("start", "fresh", "--empty"), (0, 2)),
    Typed("examples --remove", ("examples", "--remove", *NOTES)),
    Typed("add", ("add", "source", *SOURCE, *NOTES), (0, 1, 2)),
    Typed("bring", ("bring", "sensors.csv", "--yes", *NOTES)),
    Typed("sheet", ("sheet", "sensors", "out.csv", *NOTES), (0, 1, 2)),
    Typed("rename", ("rename", "example-10k", "our-10k", *NOTES), (0, 2)),
    Typed("remove", ("remove", "cases/2026-01-15-example", *NOTES), (0, 2)),
    Typed("case add", ("case", "add", "sent.zip", "--photos", *NOTES), (0, 2)),
    Typed("case add of a slip", ("case", "add", "slip.yaml", *NOTES), (0, 2)),
    Typed("schema", ("schema", *NOTES)),
    Typed("check", ("check", *NOTES)),
    Typed("build", ("build", *NOTES)),
    Typed("pack --to FOLDER", ("pack", "--to", "release", *NOTES)),
    Typed("pack --to ZIP", ("pack", "--to", "release.zip", *NOTES)),
    Typed("pocket", ("pocket", *NOTES)),
    Typed("labels", ("labels", "--address", "https://notes.example/", *NOTES)),
    Typed("print", ("print", "--sort", "method", *NOTES)),
]
PAIRS = [
    ("add", "add"),
    ("add", "rename"),
    ("rename", "rename"),
    ("rename", "remove"),
    ("case add", "case add"),
    ("case add", "rename"),
    ("bring", "bring"),
    ("bring", "examples --remove"),
    ("build", "build"),
    ("build", "rename"),
    ("pack --to FOLDER", "build"),
    ("pack --to FOLDER", "pack --to FOLDER"),
    ("pocket", "pocket"),
]


def prepared(root: Path) -> Path:
    """Return a folder with notes that were built and packed, and changed since."""
    _must(root, "start", "notes", "--bare")
    for words in (("build",), ("pack", "--after", "0", "--to", "release")):
        _must(root, *words, *NOTES)
    for words in (("pack", "--to", "release.zip"), ("pocket",)):
        _must(root, *words, *NOTES)
    with (root / "notes/content/safety.md").open("a", encoding="utf-8") as page:
        page.write("\nTwice.\n")
    (root / "repository/.git").mkdir(parents=True)
    (root / "sensors.csv").write_text(SHEET, encoding="utf-8")
    (root / "slip.yaml").write_text(SLIP, encoding="utf-8")
    photo = io.BytesIO()
    Image.new("RGB", (40, 30), "red").save(photo, "JPEG")
    text = CASE.read_text(encoding="utf-8").replace("on: 2026-01-15", "on: 2026-02-15")
    with zipfile.ZipFile(root / "sent.zip", "w") as pack:
        listed = "".join(f"- {{file: sent-{n}.jpg, of: The plug}}\n" for n in (1, 2))
        pack.writestr("sent.yaml", f"{text}photos:\n{listed}")
        for number in (1, 2):
            pack.writestr(f"sent-{number}.jpg", photo.getvalue() + bytes([number]))
    return root


def _must(root: Path, *words: str) -> None:
    """Run a command in this process: what it imports need not be imported in each that is killed."""
    ohmfolio = importlib.import_module("kb.commands.main").ohmfolio
    ran_here = CliRunner().invoke(ohmfolio, _placed(root, words), prog_name="ohmfolio")
    assert ran_here.exit_code == 0, (words, ran_here.output)


def warmed_up(pristine: Path, *, to: Path) -> None:
    """Import what the commands import, all of it."""
    for command in COMMANDS:
        _must(fresh(pristine, to=to), *command.words)


def _in(root: Path, words: tuple[str, ...], **how: object) -> Ended:
    return ran(_placed(root, words), output=root.parent / "said", **how)


def _placed(root: Path, words: tuple[str, ...]) -> list[str]:
    """Return words with their places: the program is asked from anywhere."""
    places = {"notes", "fresh", "repository", "release", "release.zip", "sensors.csv"}
    places |= {"sent.zip", "slip.yaml", "out.csv"}
    return [str(root / word) if word in places else word for word in words]


def faults_of(root: Path, *, before: dict[str, bytes], after: dict[str, bytes]) -> list[str]:
    """Return what is not whole: files that are neither the old nor the new, a list that lies."""
    now = visible(state_of(root))
    faults = [
        f"{path} is neither old nor new"
        for path, raw in now.items()
        if raw not in (before.get(path), after.get(path))
    ]
    notes = [_notes(state) for state in (now, before, after)]
    if notes[0] not in notes[1:]:
        faults.append("the notes are half changed")
    for folder in ("release", "notes/site"):
        file = root / folder / "release.json"
        for path, wanted in (
            json.loads(file.read_bytes())["files"].items() if file.is_file() else ()
        ):
            there = root / folder / path
            if not there.is_file() or hashlib.sha256(there.read_bytes()).hexdigest() != wanted:
                faults.append(f"{folder}/{path} is not what the list says")
    return faults


def _notes(state: dict[str, bytes]) -> dict[str, bytes]:
    rooms = ("notes/docs_data/", "notes/content/")
    return {path: raw for path, raw in state.items() if path.startswith(rooms)}


@dataclass
class Bench:
    """Everything that a run needs."""

    pristine: Path
    root: Path
    seed: int
    found: Counter[str]

    def begun(self) -> Path:
        """Return a fresh copy."""
        return fresh(self.pristine, to=self.root)

    def reference(self, command: Typed) -> tuple[Ended, dict[str, bytes]]:
        """Return how a command ends that nobody stops, and what stands then."""
        root = self.begun()
        run = _in(root, command.words)
        assert run.code == 0, (command.name, run)
        return run, visible(state_of(root))

    def stopped(self, command: Typed, *, count: int, full: bool) -> Iterator[str]:
        """Yield what was not whole after each of so many kills, or writes to a full disk."""
        draw = random.Random(f"{self.seed} {command.name} {full}")
        whole, after = self.reference(command)
        for number in range(count):
            root = self.begun()
            before = visible(state_of(root))
            how: dict[str, object] = {}
            if full:
                how["full_at"] = draw.randint(1, max(whole.writes, 1))
            elif number % 2:
                how["kill_at"] = draw.randint(1, max(whole.writes, 1))
            else:
                how["after_s"] = draw.uniform(0, whole.seconds)
            run = _in(root, command.words, **how)
            if run.code in (70, 99) or "Traceback" in run.words:
                yield f"{command.name} {how}: {run.words[-300:]}"
            _in(root, ("due", *NOTES))
            for fault in faults_of(root, before=before, after=after):
                yield f"{command.name} {how}: {fault}"
            again = _in(root, command.words)
            if again.code not in command.again:
                yield f"{command.name} {how}: again it ends with {again.code}: {again.words[-300:]}"
            now = visible(state_of(root))
            if now != after:
                odd = [path for path in {*now, *after} if now.get(path) != after.get(path)]
                yield f"{command.name} {how}: again leaves {sorted(odd)[:4]}"
            if left := crumbs(root):
                self.found["crumbs"] += 1
                yield f"{command.name} {how}: again leaves {left[:3]}"

    def at_once(self, one: Typed, other: Typed, *, kill: bool) -> Iterator[str]:
        """Yield what was not whole after two commands ran at once, and one of them was killed or not."""
        root, name = self.begun(), f"{one.name} + {other.name}{' killed' * kill}"
        draw = random.Random(f"{self.seed} {name}")
        outputs = [root.parent / f"said-{n}" for n in (1, 2)]
        runs = [
            started(_placed(root, command.words), output=output)
            for command, output in zip((one, other), outputs, strict=True)
        ]
        if kill:
            time.sleep(draw.uniform(0, 0.3))
            with contextlib.suppress(ProcessLookupError):
                os.killpg(runs[draw.randrange(2)], signal.SIGKILL)
        ends = [ended(run, output=said, since=0) for run, said in zip(runs, outputs, strict=True)]
        for run in ends:
            if run.code not in (0, 1, 2, -9) or "Traceback" in run.words:
                yield f"{name}: {run.code} {run.words[-300:]}"
        if not kill and not any(run.code == 0 for run in ends):
            yield f"{name}: neither was done: {[run.words for run in ends]}"
        checked = _in(root, ("check", *NOTES))
        if checked.code:
            yield f"{name}: {checked.words[:300]}"
        for command in (one, other):
            _in(root, command.words)
        if left := crumbs(root):
            yield f"{name}: {left}"


def main() -> None:
    """Print a table: command, writes, seconds, kills, full disks, what was not whole."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--count", type=int, default=200)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", default="")
    asked.add_argument("--pairs", type=int, default=3, help="kills of each pair that runs at once")
    options = asked.parse_args()
    from generators import all_commands  # noqa: F401

    commands = [command for command in COMMANDS if options.only in command.name]
    each = -(-options.count // len(commands))
    with tempfile.TemporaryDirectory() as folder:
        pristine = Path(folder) / "pristine"
        pristine.mkdir()
        warmed_up(prepared(pristine), to=Path(folder) / "root")
        bench = Bench(pristine, Path(folder) / "root", options.seed, Counter())
        total = Counter[str]()
        for command in commands:
            run, _ = bench.reference(command)
            killed = list(bench.stopped(command, count=each, full=False))
            full = list(bench.stopped(command, count=-(-each // 2), full=True))
            total.update(kills=each, full=-(-each // 2), faults=len(killed) + len(full))
            print(
                f"{command.name:<24}{run.writes:>6} writes {run.seconds:6.2f} s "
                f"{each:>4} kills: {len(killed):>3} {-(-each // 2):>4} full: {len(full):>3}",
                flush=True,
            )
            for fault in [*killed, *full][:6]:
                print(f"    {fault}", flush=True)
        by_name = {command.name: command for command in COMMANDS}
        pairs = [pair for pair in PAIRS if options.only in " ".join(pair)]
        for one, other in pairs:
            for number, kill in enumerate((False, *[True] * options.pairs)):
                bench.seed = options.seed + number
                odd = list(bench.at_once(by_name[one], by_name[other], kill=kill))
                total.update(pairs=1, faults=len(odd))
                if odd or not kill:
                    print(f"{one} + {other}: {odd or 'whole'}", flush=True)
            bench.seed = options.seed
        print(dict(total), "crumbs left after the next run:", bench.found["crumbs"])
        shutil.rmtree(bench.root, ignore_errors=True)


if __name__ == "__main__":
    main()
