"""What a killed run left half written the next one takes away, and nothing else."""

from __future__ import annotations

import fcntl
import os
from pathlib import Path

import pytest

from kb import writer
from kb.changing import changing
from kb.writer import sweep, write_if_changed
from tests.killed import crumbs, killed


@pytest.fixture
def notes(tmp_path: Path) -> Path:
    for room in ("docs_data/sensors/unit-a", "content"):
        (tmp_path / room).mkdir(parents=True)
    return tmp_path


def left_by_a_kill(file: Path) -> list[str]:
    """Kill writes to a file until one leaves something; return what is there then."""
    for number in range(1, 20):
        killed(lambda: write_if_changed(file, "half"), at=number)
        if crumbs(file.parent):
            return crumbs(file.parent)
    return []


def test_the_next_change_of_the_notes_takes_away_what_a_kill_left(notes):
    for room in ("docs_data/sensors/unit-a", "content"):
        assert left_by_a_kill(notes / room / "a.yaml")
    with changing(notes):
        assert crumbs(notes) == []


def test_what_another_run_is_writing_stays(tmp_path):
    handle, file = writer._own_crumb(tmp_path)
    sweep(tmp_path)
    assert file.exists()
    os.close(handle)
    sweep(tmp_path)
    assert not file.exists()


def test_a_file_that_is_swept_before_it_is_held_is_made_again(tmp_path, monkeypatch):
    hold, swept = fcntl.flock, []

    def late(handle, how):
        if how == fcntl.LOCK_EX and not swept:
            swept.extend(tmp_path.iterdir())
            sweep(tmp_path)
        hold(handle, how)

    monkeypatch.setattr(writer.fcntl, "flock", late)
    assert write_if_changed(tmp_path / "a", "text")
    assert len(swept) == 1
    assert [(file.name, file.read_text()) for file in tmp_path.iterdir()] == [("a", "text")]


@pytest.mark.parametrize("name", [".ohmfolio-mine.txt", ".ohmfolio-abcdefgh.bak", "abcdefgh", ".a"])
def test_what_only_looks_like_ours_stays(tmp_path, name):
    (tmp_path / name).write_text("mine")
    (tmp_path / ".ohmfolio-linked_1").symlink_to(tmp_path / name)
    sweep(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([name, ".ohmfolio-linked_1"])


def test_folders_below_are_swept_only_when_asked(tmp_path):
    (tmp_path / "b").mkdir()
    for folder in (tmp_path, tmp_path / "b"):
        (folder / ".ohmfolio-abcdefgh").write_text("half")
    sweep(tmp_path)
    assert crumbs(tmp_path) == ["b/.ohmfolio-abcdefgh"]
    sweep(tmp_path, below=True)
    assert crumbs(tmp_path) == []
