"""Five releases of the demo, a host that can fail, phones, and the table of what was tried."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from generators.publish.pack import Packed, pack
from tests.release.host import NGINX, Host
from tests.release.phones import Phone

ROOT = Path(__file__).resolve().parents[2]
OLD = ROOT / "tests/data/old/0.1.0"
"""Notes and a release of the first version, kept for ever."""


@dataclass(frozen=True)
class Release:
    """One published copy."""

    name: str
    folder: Path
    files: int


def _replace(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text, f"{file.name} no longer says {old!r}: choose another change"
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def _number(notes: Path, number: int, words: str = "") -> None:
    told = f"number: {number}\ndate: 2026-03-{number:02d}\n"
    told += f"words: {words}\n" if words else ""
    (notes / "docs_data/release.yaml").write_text(told, encoding="utf-8")


def _edited(notes: Path) -> None:
    _replace(
        notes / "docs_data/codes/quellmark-rooftop/quellmark-k1-1.yaml",
        "Tie the cable",
        "Tie both cables",
    )


def _added(notes: Path) -> None:
    folder = notes / "docs_data/codes/quellmark-rooftop"
    text = (folder / "quellmark-k1-1.yaml").read_text(encoding="utf-8")
    text = text.replace("K1-1", "K9-9").replace("long: 1, short: 1", "long: 9, short: 9")
    (folder / "quellmark-k9-9.yaml").write_text(text, encoding="utf-8")


def _many(notes: Path) -> None:
    _replace(notes / "docs_data/curves/ntc-10k-3435.yaml", "  20: 12.09k", "  20: 11.95k")
    _replace(notes / "docs_data/families/quellmark-rooftop.yaml", "drain_min: 10", "drain_min: 15")
    _replace(
        notes / "docs_data/sensors/quellmark-rooftop/quellmark-air-out.yaml",
        "mark: X25",
        "mark: X29",
    )
    # The family's name stands on all its pages.
    _replace(
        notes / "docs_data/families/quellmark-rooftop.yaml",
        "name: Quellmark RT rooftop",
        "name: Quellmark RT roof",
    )


def _let_go(notes: Path) -> None:
    with (notes / "docs_data/release.yaml").open("a", encoding="utf-8") as file:
        file.write("offline: no\n")


STEPS: dict[int, Callable[[Path], None]] = {2: _edited, 3: _added, 4: _many, 5: _let_go}


@pytest.fixture(scope="session")
def releases(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Release]:
    """1: the demo; 2: an entry edited; 3: one added; 4: a family touched; 5: phones let go."""
    notes = tmp_path_factory.mktemp("notes")
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, notes / name)
    made = {}
    for number in (1, *STEPS):
        _number(notes, number, words="Plugs on the roof unit were renamed." if number == 4 else "")
        if number in STEPS:
            STEPS[number](notes)
        folder = notes.parent / f"release-{number}"
        packed = pack(notes, to=folder)
        # As from an archive without dates: a server that goes by date and size sees no difference
        # between the workers of two releases.
        for path in folder.rglob("*"):
            os.utime(path, (0, 0))
        made[number] = Release(packed.summary.release, folder, packed.summary.files)
    return made


@pytest.fixture(scope="session")
def of_old_notes(tmp_path_factory: pytest.TempPathFactory) -> Packed:
    """A small release: the first version's notes, a wait changed, on top of its own release."""
    folder = tmp_path_factory.mktemp("older")
    notes = Path(shutil.copytree(OLD / "starter", folder / "notes"))
    family = notes / "docs_data/families/example-unit.yaml"
    text = family.read_text(encoding="utf-8")
    assert text.count("drain_min: 5 ") == 1
    family.write_text(text.replace("drain_min: 5 ", "drain_min: 15 "), encoding="utf-8")
    return pack(notes, to=folder / "release-2", published=str(OLD / "release-1.zip"))


@pytest.fixture()
def host(tmp_path: Path) -> Iterator[Host]:
    """A host that says `max-age=600` and serves nothing yet."""
    if not Path(NGINX).exists():
        pytest.skip(f"no {NGINX}: tests/run installs it")
    host = Host(tmp_path / "host")
    yield host
    host.stop()


@pytest.fixture()
def phone(browser: object, host: Host, releases: dict[int, Release]) -> Iterator[Phone]:
    """A phone that has installed release 1 from the host."""
    host.publish(releases[1].folder)
    host.start()
    phone = Phone(browser, host.url)
    phone.install()
    host.forget()
    yield phone
    phone.close()


@pytest.fixture()
def tell(record_property: Callable[[str, object], None]) -> Callable[[str, str], None]:
    """Add a line to the table of what was tried and how it ended, below the tests."""
    return lambda fault, outcome: record_property("tried", (fault, outcome))
