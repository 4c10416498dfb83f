"""A release takes the place of another in a folder that somebody serves: whole, across a kill."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from kb import whole_folders, writer
from kb.notes.folder import PACKING
from kb.release_format.places import LIST, NEWEST
from kb.site_folder import ARRIVING, FILLING, FolderNotOurs, half_written
from kb.whole_folders import finish_arriving, finish_packing, packing, write_release
from tests.killed import killed, state_of, visible


def release(word: str, *, pages: tuple[str, ...]) -> list[tuple[str, bytes]]:
    """A release of pages that say a word; a picture is in each release."""
    files = {path: f"{word} {path}".encode() for path in pages} | {"assets/same.svg": b"<svg/>"}
    sums = {path: hashlib.sha256(raw).hexdigest() for path, raw in files.items()}
    head = {"number": 1, "date": "", "title": "", "team": word}
    listed = json.dumps({"files": sums, "release": head}).encode()
    return [*sorted(files.items()), (LIST, listed), (NEWEST, b"news of " + word.encode())]


OLD = release("old", pages=("index.html", "sensors/a.html", "gone/b.html", "bare"))
NEW = release("new", pages=("index.html", "sensors/a.html", "codes/c.html", "bare/d.html"))


@pytest.fixture
def served(tmp_path: Path) -> Path:
    write_release(tmp_path / "served", OLD)
    return tmp_path / "served"


def test_a_kill_at_any_write_leaves_the_old_release_or_one_that_the_next_run_finishes(tmp_path):
    seen, number, done = set(), 0, False
    while not done:
        folder, number = tmp_path / f"served-{number}", number + 1
        write_release(folder, OLD)
        done = not killed(lambda folder=folder: write_release(folder, NEW), at=number)
        half = half_written(folder)
        if not half:
            seen.add(("whole", visible(state_of(folder)) == dict(NEW)))
            assert visible(state_of(folder)) in (dict(OLD), dict(NEW)), number
        finish_arriving(folder)
        assert state_of(folder) in (dict(OLD), dict(NEW)), number
        seen.add(("half", half))
        write_release(folder, NEW)
        assert state_of(folder) == dict(NEW)
    # The kills met all there is: the old, a half, the new that only had to be tidied.
    assert seen == {("whole", False), ("whole", True), ("half", True), ("half", False)}


def test_the_folder_stays_the_same_and_so_does_the_time_of_what_is_as_it_was(served):
    before = served.stat().st_ino, (served / "assets/same.svg").stat().st_mtime_ns
    assert write_release(served, NEW) == len(NEW) - 1
    assert (served.stat().st_ino, (served / "assets/same.svg").stat().st_mtime_ns) == before
    assert write_release(served, NEW) == 0


def test_a_disk_that_refuses_while_the_release_is_written_leaves_the_old_one(served, monkeypatch):
    whole, writes = writer.write_fresh, []

    def full(path, content):
        writes.append(path)
        if len(writes) == 3:
            raise OSError(28, "No space left on device")
        whole(path, content)

    monkeypatch.setattr(whole_folders, "write_fresh", full)
    with pytest.raises(OSError, match="No space left on device"):
        write_release(served, NEW)
    assert state_of(served) == dict(OLD)


def test_any_command_finishes_what_pack_was_stopped_at(served, tmp_path):
    notes = tmp_path / "notes"
    (notes / ".build").mkdir(parents=True)

    def pack():
        with packing(notes, to=served):
            write_release(served, NEW)

    numbers = iter(range(1, 200))
    while killed(pack, at=next(numbers)) and not half_written(served):
        pass
    assert half_written(served)
    assert finish_packing(notes)
    assert state_of(served) == dict(NEW)
    assert not finish_packing(notes)
    assert not (notes / PACKING).exists()


@pytest.mark.parametrize("names", ['{"arriving": [".."]}', '{"arriving": ["a/b"]}', "[]", "{"])
def test_a_hidden_folder_with_other_names_is_not_taken_for_a_release(served, names):
    (served / ARRIVING).mkdir()
    (served / ARRIVING / ".ohmfolio-names.json").write_text(names)
    before = visible(state_of(served))
    assert not finish_arriving(served)
    assert visible(state_of(served)) == before


def test_a_folder_of_somebody_elses_is_left_alone(tmp_path):
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/a.jpg").write_bytes(b"x")
    with pytest.raises(FolderNotOurs):
        write_release(tmp_path / "photos", NEW)
    assert state_of(tmp_path / "photos") == {"a.jpg": b"x"}


def test_what_a_first_release_left_half_written_is_no_strangers(tmp_path):
    (tmp_path / "served" / FILLING).mkdir(parents=True)
    (tmp_path / "served" / FILLING / "index.html").write_bytes(b"half")
    write_release(tmp_path / "served", NEW)
    assert state_of(tmp_path / "served") == dict(NEW)
