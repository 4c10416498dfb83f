"""Four small releases and a letting go, made from the starter's bare notes: an edit, an addition, a removal."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from click.testing import CliRunner

from generators.publish.pack import pack
from kb.commands.main import ohmfolio

RECKONED = ("assets/release.js",)
"""Stands outside the list, since it says the list's name."""


@dataclass(frozen=True)
class SmallRelease:
    """One published copy, held in memory."""

    number: int
    files: dict[str, bytes]

    @cached_property
    def newest(self) -> dict[str, object]:
        """What the host says of it."""
        return json.loads(self.files["newest.json"])

    @property
    def name(self) -> str:
        """The release's name."""
        return str(self.newest["name"])

    @property
    def date(self) -> str:
        """Its day."""
        return str(self.newest["date"])

    @property
    def worker(self) -> str:
        """Where the worker stands that serves only this release."""
        return f"worker-{self.name}.js"

    @cached_property
    def listed(self) -> dict[str, str]:
        """Path → checksum of everything that a phone keeps."""
        return json.loads(self.files["release.json"])["files"]

    @property
    def shown(self) -> set[str]:
        """Every path that a page may ask for."""
        return {*self.listed, *RECKONED}


def _code(notes: Path) -> Path:
    return notes / "docs_data/codes/example-unit/example-e1.yaml"


def _edited(notes: Path) -> None:
    text = _code(notes).read_text(encoding="utf-8")
    _code(notes).write_text(text.replace("Watch it run for ten", "Watch it run for twenty"))


def _added(notes: Path) -> None:
    text = _code(notes).read_text(encoding="utf-8")
    text = text.replace("text: E1", "text: E2").replace("long: 1", "long: 2")
    _code(notes).with_name("example-e2.yaml").write_text(text)


def _removed(notes: Path) -> None:
    (notes / "docs_data/terms/example-over-range.yaml").unlink()
    curve = notes / "docs_data/curves/example-10k.yaml"
    curve.write_text(curve.read_text(encoding="utf-8").replace("25: 10.0k", "25: 10.1k"))


def _let_go(notes: Path) -> None:
    with (notes / "docs_data/release.yaml").open("a", encoding="utf-8") as file:
        file.write("offline: no\n")


STEPS: dict[int, Callable[[Path], None]] = {2: _edited, 3: _added, 4: _removed, 5: _let_go}
NEWEST, LETTING_GO = 4, 5


def small_releases(folder: Path) -> dict[int, SmallRelease]:
    """Return five releases by number, each packed by the program itself.

    Parameters
    ----------
    folder : Path
        An empty folder to work in.
    """
    notes = folder / "notes"
    started = CliRunner().invoke(ohmfolio, ["start", str(notes), "--bare"])
    assert started.exit_code == 0, started.output
    releases = {}
    for number in (1, *STEPS):
        says = f"number: {number}\ndate: 2026-03-{number:02d}\n"
        (notes / "docs_data/release.yaml").write_text(says, encoding="utf-8")
        if number in STEPS:
            STEPS[number](notes)
        to = folder / f"release-{number}"
        pack(notes, to=to, after=number - 1)
        files = {
            path.relative_to(to).as_posix(): path.read_bytes()
            for path in to.rglob("*")
            if path.is_file()
        }
        releases[number] = SmallRelease(number, files)
    return releases
