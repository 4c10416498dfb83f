"""How many slips of the pen the tests notice: seeded mutants of five rooms, each under its tests.

Run it by hand: python tests/bench/bench_mutants.py [ROOM …] [--count N] [--seed N] [--list FILE].
Each mutant changes one token that decides something (a comparison, an operator, a constant, a
keyword of logic) in a copy of the project; the room's tests then run until the first one fails.
Survivors are printed with their line, so that somebody can say why they live, or kill them.
"""

from __future__ import annotations

import argparse
import io
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import tokenize
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SWAPS = {
    "<": "<=",
    "<=": "<",
    ">": ">=",
    ">=": ">",
    "==": "!=",
    "!=": "==",
    "===": "!==",
    "!==": "===",
    "+": "-",
    "-": "+",
    "*": "/",
    "/": "*",
    "&&": "||",
    "||": "&&",
    "and": "or",
    "or": "and",
    "not in": "in",
    "min": "max",
    "max": "min",
    "True": "False",
    "False": "True",
    "true": "false",
    "false": "true",
}
"""A token, and what a slip makes of it."""
SECONDS = 300
"""A mutant that runs so long loops for ever: it is noticed."""


@dataclass(frozen=True, kw_only=True)
class Room:
    """What is changed, and what should notice.

    Parameters
    ----------
    sources : tuple of str
        Patterns of files, from the project's root.
    tests : tuple of str
        Arguments to pytest.
    own_tests : dict of str to tuple of str
        For files whose name holds a word: the tests that drive it, where all would take too long.
    """

    sources: tuple[str, ...]
    tests: tuple[str, ...]
    own_tests: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def tests_of(self, path: str) -> tuple[str, ...]:
        """Return the tests that should notice a slip in this file."""
        name = Path(path).name
        return next((own for word, own in self.own_tests.items() if word in name), self.tests)


ROOMS = {
    "numbers": Room(sources=("kb/numbers/*.py",), tests=("tests/kb/numbers",)),
    "answers": Room(sources=("kb/answers/*.py",), tests=("tests/kb/answers", "tests/kb/commands")),
    "check": Room(
        sources=("kb/check/*.py", "kb/notes/*.py"),
        tests=("tests/kb/check", "tests/kb/notes", "tests/kb/commands/test_check.py"),
    ),
    "release": Room(
        sources=("generators/release/*.py", "generators/publish/*.py", "kb/release_format/*.py"),
        tests=(
            "tests/release/test_formats.py",
            "tests/release/test_list.py",
            "tests/release/test_changes.py",
            "tests/release/test_pack.py",
            "tests/generators/test_seal.py",
        ),
        own_tests={
            "icons": ("tests/release/test_icons.py",),
            "pocket": ("tests/release/test_pocket.py",),
        },
    ),
    "page-arithmetic": Room(
        sources=("site_config/assets/numbers/*.js", "site_config/assets/answers/*.js"),
        tests=("tests/site/test_arithmetic.py", "-k", "twenty"),
    ),
    "page-code": Room(
        sources=("site_config/assets/page/*.js", "site_config/assets/find/*.js"),
        tests=("tests/site/test_the_job.py", "tests/site/test_whole_job.py"),
        own_tests={
            "find": (
                "tests/site/test_find.py",
                "tests/site/test_arithmetic.py",
                "-k",
                "not broken",
            ),
            "matching": ("tests/site/test_find.py", "tests/site/test_find_machine.py"),
            "full-text": ("tests/site/test_find.py",),
            "round": ("tests/site/test_round.py",),
            "which": ("tests/site/test_which.py",),
            "winding": ("tests/site/test_part_forms.py",),
            "insulation": ("tests/site/test_part_forms.py",),
            "curve": ("tests/site/test_curve_page.py",),
            "compare": ("tests/site/test_curve_page.py",),
            "fine-table": ("tests/site/test_curve_page.py",),
            "stand-in": ("tests/site/test_curve_page.py",),
            "chart": ("tests/site/test_curve_page.py",),
            "frame": ("tests/site/test_frame.py",),
            "unit": ("tests/site/test_frame.py", "tests/site/test_curve_page.py"),
        },
    ),
}


@dataclass(frozen=True, kw_only=True)
class Mutant:
    """One changed token of one file."""

    path: str
    line: int
    before: str
    after: str
    text: str

    def __str__(self) -> str:
        line = self.text.splitlines()[self.line - 1].strip()
        return f"{self.path}:{self.line}: {self.before} -> {self.after}: {line}"


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Yield every mutant of a file."""
    text = path.read_text(encoding="utf-8")
    places = _python_places(text) if path.suffix == ".py" else _script_places(text)
    lines = text.splitlines(keepends=True)
    for row, column, token in places:
        after = _swapped(token)
        if after is None:
            continue
        line = lines[row - 1]
        changed = line[:column] + after + line[column + len(token) :]
        yield Mutant(
            path=path.relative_to(ROOT).as_posix(),
            line=row,
            before=token,
            after=after,
            text="".join([*lines[: row - 1], changed, *lines[row:]]),
        )


def _swapped(token: str) -> str | None:
    if token in SWAPS:
        return SWAPS[token]
    # A tolerance of arithmetic (1e-9) may be anything small: changing it is no slip.
    if re.fullmatch(r"\d+", token):
        return str(int(token) + 1)
    return f"{token} * 1.01" if re.fullmatch(r"\d+\.\d+", token) else None


def _python_places(text: str) -> Iterator[tuple[int, int, str]]:
    """Yield (line, column, token) of what runs: no types, no imports, no docstrings."""
    skipped = ("import ", "from ", "@", "class ", "def ", "__all__")
    depth_of_annotation = re.compile(r"^\s*\w+: [^=]+$|->")
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        line = token.line.strip()
        if token.type not in (tokenize.OP, tokenize.NUMBER, tokenize.NAME):
            continue
        if line.startswith(skipped) or depth_of_annotation.search(token.line):
            continue
        # A star before a name unpacks; a minus before a number is its sign.
        if token.string in "*+-/" and not _between_values(token.line, token.start[1]):
            continue
        yield token.start[0], token.start[1], token.string


def _script_places(text: str) -> Iterator[tuple[int, int, str]]:
    token = re.compile(
        r"[=!]==|&&|\|\||<=|>=|(?<= )[<>](?= )|(?<= )[-+*/](?= )|\btrue\b|\bfalse\b|(?<![\w.$])\d+(?:\.\d+)?(?![\w.])"
    )
    in_comment = False
    for row, line in enumerate(text.splitlines(), start=1):
        bare = line.strip()
        in_comment = (in_comment or bare.startswith("/*")) and "*/" not in bare
        if in_comment or bare.startswith(("//", "/*", "*", "import ", "export {")):
            continue
        # What stands in a text or a pattern is no logic.
        masked = re.sub(
            r'"[^"]*"|`[^`$]*`|(?<=[(,=] )/[^/]+/[gimu]*', lambda found: " " * len(found[0]), line
        )
        for found in token.finditer(masked):
            yield row, found.start(), found[0]


def _between_values(line: str, column: int) -> bool:
    before, after = line[:column].rstrip(), line[column + 1 :]
    return bool(before) and (before[-1].isalnum() or before[-1] in ")]_") and after[:1] == " "


def chosen(room: Room, *, count: int, seed: int) -> list[Mutant]:
    """Return so many mutants of a room, spread over its files by their size; the same each time."""
    files = sorted(path for pattern in room.sources for path in ROOT.glob(pattern))
    everything = [mutant for path in files for mutant in mutants_of(path)]
    return random.Random(seed).sample(everything, min(count, len(everything)))


def noticed(mutant: Mutant, *, folder: Path, tests: Sequence[str]) -> bool:
    """Return whether a test of the copy fails with the mutant in it."""
    target = folder / mutant.path
    right = target.read_text(encoding="utf-8")
    target.write_text(mutant.text, encoding="utf-8")
    try:
        ran = subprocess.run(
            [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests],
            cwd=folder,
            capture_output=True,
            timeout=SECONDS,
            env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
        )
    except subprocess.TimeoutExpired:
        return True
    finally:
        target.write_text(right, encoding="utf-8")
    return ran.returncode != 0


def copied(into: Path) -> Path:
    """Return a copy of the project's files, without what git ignores."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        check=True,
    )
    for name in filter(None, listed.stdout.decode().split("\0")):
        if (ROOT / name).is_file():
            (into / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, into / name)
    return into


def main() -> None:
    """Try the mutants of the rooms asked for, and print what lives."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("rooms", nargs="*", choices=[*ROOMS, []], metavar="ROOM")
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=9)
    asked = parser.parse_args()
    for name in asked.rooms or ROOMS:
        room = ROOMS[name]
        mutants = chosen(room, count=asked.count, seed=asked.seed)
        with tempfile.TemporaryDirectory() as scratch:
            folder = copied(Path(scratch))
            if not noticed_nothing(folder, tests=room.tests):
                print(f"{name}: its tests fail without any mutant")
                continue
            living = []
            for number, mutant in enumerate(mutants, start=1):
                dead = noticed(mutant, folder=folder, tests=room.tests_of(mutant.path))
                if not dead:
                    living.append(mutant)
                    print(f"  lives: {mutant}", flush=True)
                print(f"  {number} of {len(mutants)}", end="\r", file=sys.stderr, flush=True)
        killed = len(mutants) - len(living)
        print(
            f"{name}: {killed} of {len(mutants)} noticed ({killed / len(mutants):.0%})", flush=True
        )


def noticed_nothing(folder: Path, *, tests: Sequence[str]) -> bool:
    """Return whether the tests pass as the project stands."""
    ran = subprocess.run(
        [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests],
        cwd=folder,
        capture_output=True,
    )
    return ran.returncode == 0


if __name__ == "__main__":
    main()
