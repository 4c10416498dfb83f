"""What rules found is kept, and never hides or adds a problem, whatever happened to what is kept."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import cast

import pytest

from kb import kept_check, program_key
from kb.check import check_notes
from kb.check.kept_notes import KeptNotes
from kb.check.publishing import private_words
from kb.kept_check import check_kept
from kb.notes import load
from kb.notes.problem import Problem

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
SENSOR = "docs_data/sensors/unit-a/air-a.yaml"
WARNED = "docs_data/parts/board-a.yaml"


@pytest.fixture(autouse=True)
def _small_notes_are_kept_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept_check, "FEWEST", 0)
    monkeypatch.setattr(kept_check, "MANY", 0)


@pytest.fixture(scope="module")
def warm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Notes with a fault that hangs on another entry, a warning, and a private word; all kept."""
    notes = Path(shutil.copytree(GOOD, tmp_path_factory.mktemp("warm") / "notes"))
    changed(notes / SENSOR, "methods: [ohms", "methods: [megohms")
    changed(notes / SENSOR, "name: ", "name: Ask joe@example.org, ")
    (notes / "docs_data/sources/alone.yaml").write_text(
        "name: Alone\ntitle: Tables\nedition: first\nyear: 1999\npublisher: P\n"
    )
    with pytest.MonkeyPatch.context() as small:
        small.setattr(kept_check, "FEWEST", 0)
        small.setattr(kept_check, "MANY", 0)
        fresh(notes)
    assert len(kept_files(notes)) == 2
    return notes


@pytest.fixture()
def notes(warm: Path, tmp_path: Path) -> Path:
    """A copy of those, to change."""
    return Path(shutil.copytree(warm, tmp_path / "notes"))


def changed(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def kept_files(notes: Path) -> list[Path]:
    return sorted((notes / ".build/kept").iterdir())


def fresh(notes: Path) -> KeptNotes:
    """Return what a new process would."""
    load._RECENT.clear()
    return cast(KeptNotes, check_kept(notes))


def all_found(notes: Path) -> tuple[list[Problem], ...]:
    checked = fresh(notes)
    return checked.problems, sorted(private_words(checked))


def found_without(notes: Path) -> tuple[list[Problem], ...]:
    load._RECENT.clear()
    checked = check_notes(notes)
    return checked.problems, sorted(private_words(checked))


def everything(problems: tuple[list[Problem], ...]) -> list[dict[str, object]]:
    """Return all fields: two problems are equal though one only warns."""
    return [vars(problem) for each in problems for problem in each]


def test_what_is_kept_says_the_same_and_reads_nothing(notes: Path) -> None:
    checked = fresh(notes)
    assert checked.anew == set()
    assert len(checked.read) < 10
    found = all_found(notes)
    assert everything(found) == everything(found_without(notes))
    assert {problem.rule for problem in found[0]} >= {"insulation-test", "orphan"}
    assert [problem.rule for problem in found[1]] == ["private"]


EDITS: dict[str, tuple[str, str, str]] = {
    "what an entry names": ("docs_data/methods/megohms.yaml", "judges: insulation", "judges: look"),
    "the entry itself": (SENSOR, "name: ", "name: Discharge it with a screwdriver, "),
    "an entry that breaks": ("docs_data/methods/megohms.yaml", "name: ", "nme: "),
    "two that are alike": (SENSOR, "label: T6", "label: T7"),
}


@pytest.mark.parametrize("edit", EDITS)
def test_after_an_edit_the_problems_are_those_of_a_check_without(edit: str, notes: Path) -> None:
    before = all_found(notes)
    file, old, new = EDITS[edit]
    changed(notes / file, old, new)
    found = all_found(notes)
    assert everything(found) != everything(before)
    assert everything(found) == everything(found_without(notes))
    assert everything(all_found(notes)) == everything(found)


def test_an_entry_that_goes_or_comes_is_missed_or_met(notes: Path) -> None:
    file = notes / "docs_data/methods/megohms.yaml"
    file.rename(notes / "megohms")
    gone = all_found(notes)
    assert "unknown-id" in {problem.rule for problem in gone[0]}
    assert everything(gone) == everything(found_without(notes))
    (notes / "megohms").rename(file)
    assert everything(all_found(notes)) == everything(found_without(notes))
    assert "unknown-id" not in {problem.rule for problem in all_found(notes)[0]}


def test_a_word_that_may_be_published_counts_at_once(notes: Path) -> None:
    (notes / "docs_data/release.yaml").write_text(
        "number: 3\ndate: 2026-01-01\nmay_be_published: [joe@example.org]\n", encoding="utf-8"
    )
    assert all_found(notes)[1] == []


def rewritten(file: Path, change: Callable[[bytes], bytes]) -> None:
    """Change what is kept, and let its own checksum agree."""
    text = change(file.read_bytes().partition(b"\n")[2])
    file.write_bytes(hashlib.sha256(text).hexdigest().encode() + b"\n" + text)


def _gone(file: Path) -> Path:
    file.unlink()
    return file


HARMS: dict[str, Callable[[Path], object]] = {
    "gone": lambda file: file.unlink(),
    "empty": lambda file: file.write_bytes(b""),
    "half written": lambda file: file.write_bytes(file.read_bytes()[:700]),
    "a byte flipped": lambda file: file.write_bytes(
        file.read_bytes().replace(b"1999", b"1998")[:-1]
    ),
    "of an older form": lambda file: rewritten(file, lambda text: text.replace(b" 1 ", b" 0 ", 1)),
    "rows of something else": lambda file: rewritten(
        file, lambda text: text.partition(b"\n")[0] + b"\nsensors\tair-a\t[3]\nx\nsensors\ty\tz"
    ),
    "a folder": lambda file: shutil.copytree(GOOD, _gone(file)),
}


@pytest.mark.parametrize("harm", HARMS)
def test_whatever_happened_to_what_is_kept_the_problems_are_the_same(
    harm: str, notes: Path
) -> None:
    before = everything(all_found(notes))
    for file in kept_files(notes):
        HARMS[harm](file)
    changed(notes / SENSOR, "name: ", "name: Once more ")
    changed(notes / SENSOR, "name: Once more ", "name: ")
    assert everything(all_found(notes)) == before
    assert everything(all_found(notes)) == before


def test_another_program_believes_nothing(notes: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(program_key, "_program_key", lambda: "another")
    checked = fresh(notes)
    assert checked.anew == set(checked.files)


def test_what_is_kept_of_other_notes_changes_nothing(notes: Path, tmp_path: Path) -> None:
    other = Path(shutil.copytree(GOOD, tmp_path / "other"))
    fresh(other)
    for file in kept_files(other):
        shutil.copy(file, notes / ".build/kept" / file.name)
    assert everything(all_found(notes)) == everything(found_without(notes))
