"""What rules found is kept, and never hides or adds a problem, whatever happened to what is kept."""

from __future__ import annotations

import hashlib
import os
import shutil
import time
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from kb import kept_check, program_key
from kb.check import check_notes, kept_notes
from kb.check.kept_notes import KeptEntry, KeptNotes
from kb.check.outline import Key
from kb.check.publishing import private_words
from kb.kept_check import check_kept
from kb.notes import load, seen_file
from kb.notes.problem import Problem
from kb.notes.seen_file import sign_of

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
    return check_kept(notes)


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


@pytest.fixture()
def known_by_sign(notes: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Notes whose files are known by what the disk says of them, fresh as they are."""
    monkeypatch.setattr(seen_file, "FRESH_NS", 0)
    time.sleep(0.02)  # a tick of the disk's clock
    assert fresh(notes).states
    _, read = opened(notes)
    assert read == set()
    return notes


def opened(notes: Path) -> tuple[KeptNotes, set[str]]:
    """Return checked notes, and the files whose bytes were looked at."""
    read: set[str] = set()
    look = kept_check.look_at_files

    def looking(opened: KeptNotes, *, kept: Mapping[Key, KeptEntry]) -> None:
        look(opened, kept=kept)
        read.update(opened.files[key] for key in opened.raw)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(kept_check, "look_at_files", looking)
        return fresh(notes), read


def same_size(file: Path) -> bytes:
    """Return what a file would hold after an edit that changes what is found, and not its size."""
    return file.read_bytes().replace(b"methods: [megohms", b"methods: [nothere")


def _in_place(file: Path) -> None:
    before = file.stat()
    file.write_bytes(same_size(file))
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert (before.st_size, before.st_mtime_ns) == (file.stat().st_size, file.stat().st_mtime_ns)


def _by_another(file: Path) -> None:
    beside = file.with_name("new")
    beside.write_bytes(same_size(file))
    shutil.copystat(file, beside)
    beside.replace(file)


@pytest.mark.parametrize("hidden_edit", [_in_place, _by_another])
def test_an_edit_is_seen_though_size_and_time_are_the_same(
    hidden_edit: Callable[[Path], None], known_by_sign: Path
) -> None:
    hidden_edit(known_by_sign / SENSOR)
    checked, read = opened(known_by_sign)
    assert read == {SENSOR}
    assert "unknown-id" in {problem.rule for problem in checked.problems}
    assert checked.problems == found_without(known_by_sign)[0]


def test_with_a_clock_set_back_and_for_fresh_files_every_byte_is_looked_at(
    known_by_sign: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now_ns = time.time_ns()
    with monkeypatch.context() as clock:
        clock.setattr(kept_notes.time, "time_ns", lambda: now_ns - 10**15)
        checked, read = opened(known_by_sign)
        assert read == {*checked.files.values()}
    monkeypatch.setattr(seen_file, "FRESH_NS", 10**15)
    checked, read = opened(known_by_sign)
    assert read == {*checked.files.values()}
    coarse = os.stat_result([0] * 10, {"st_mtime_ns": 10**9, "st_ctime_ns": 3 * 10**9})
    assert sign_of(coarse, now_ns=now_ns) == ""


def test_a_file_that_changes_while_it_is_checked_is_read_as_it_is_then(
    known_by_sign: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    look, named = kept_check.look_at_files, known_by_sign / "docs_data/methods/megohms.yaml"

    def looking(opened: KeptNotes, *, kept: Mapping[Key, KeptEntry]) -> None:
        look(opened, kept=kept)
        if "judges: insulation" in named.read_text(encoding="utf-8"):
            changed(named, "judges: insulation", "judges: look")

    changed(known_by_sign / SENSOR, "name: ", "name: Once more ")
    (known_by_sign / ".build/kept/values.txt").unlink()  # else what it was read as is known
    monkeypatch.setattr(kept_check, "look_at_files", looking)
    found = all_found(known_by_sign)
    assert "judges: look" in named.read_text(encoding="utf-8")
    assert everything(found) == everything(found_without(known_by_sign))


def test_a_photo_that_is_another_is_judged_again(notes: Path) -> None:
    photo = next(file for file in notes.rglob("*.png"))
    whole = photo.read_bytes()
    photo.write_bytes(whole[:-200])
    found = all_found(notes)
    assert "photo" in {problem.rule for problem in found[0]}
    assert everything(found) == everything(found_without(notes))
    photo.write_bytes(whole)
    assert everything(all_found(notes)) == everything(found_without(notes))


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
    "of an older form": lambda file: rewritten(file, lambda text: text.replace(b" 2 ", b" 1 ", 1)),
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
