"""Several files of the notes change as one: across a kill, a full disk, and two at once."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from kb.changing import change_notes
from kb.notes.folder import PLAN
from tests.killed import crumbs, ended, fresh, ran, started, state_of

STARTER = Path(__file__).resolve().parents[2] / "kb/starter"
RENAME = ("rename", "example-10k", "our-10k")


@pytest.fixture
def notes(tmp_path: Path) -> Path:
    return Path(shutil.copytree(STARTER, tmp_path / "pristine"))


def test_a_rename_killed_before_any_of_its_writes_is_finished_or_never_was(
    notes: Path, tmp_path: Path
) -> None:
    """The bench kills every command that writes at 200 moments; this, a rename at each second write."""
    root, output = tmp_path / "notes", tmp_path / "said"
    words = [*RENAME, "--notes", str(root)]
    before = state_of(fresh(notes, to=root))
    whole = ran(words, output=output)
    assert whole.code == 0, whole.words
    after, ends = state_of(root), set()
    for number in range(2, whole.writes + 1, 2):
        fresh(notes, to=root)
        assert ran(words, output=output, kill_at=number).code == -9
        # Any question finishes what was begun.
        ran(["expect", "example-suction", "--at", "7", "--notes", str(root)], output=output)
        now = state_of(root)
        visible = {path: raw for path, raw in now.items() if ".ohmfolio-" not in path}
        assert visible in (before, after), number
        assert not (root / PLAN).exists()
        ends.add(visible == after)
    assert ends == {True, False}


def test_a_rename_on_a_disk_that_fills_up_changes_nothing_and_says_so(
    notes: Path, tmp_path: Path
) -> None:
    root, output = tmp_path / "notes", tmp_path / "said"
    words = [*RENAME, "--notes", str(root)]
    before = state_of(fresh(notes, to=root))
    writes = ran(words, output=output).writes
    codes = []
    for number in (1, 2, 3, 4, 9, writes):
        fresh(notes, to=root)
        refused = ran(words, output=output, full_at=number)
        codes.append(refused.code)
        assert crumbs(root) == []
        # Once all is on the disk, putting it in place needs no room.
        if refused.code:
            assert "No space left on device; nothing was changed" in refused.words
            assert state_of(root) == before, number
    assert (codes[0], codes[-1]) == (1, 0)
    fresh(notes, to=root)
    assert ran(words, output=output).code == 0


def test_of_two_that_add_the_same_at_once_one_is_told_that_it_came_too_late(
    notes: Path, tmp_path: Path
) -> None:
    for word in ("ours", "theirs"):
        draft = {"docs_data/sources/new.yaml": f"name: {word}\npractice: what we do\n"}
        if word == "ours":
            change_notes(notes, draft, before=dict.fromkeys(draft))
        else:
            with pytest.raises(OSError, match="somebody changed it meanwhile"):
                change_notes(notes, draft, before=dict.fromkeys(draft))
    assert (notes / "docs_data/sources/new.yaml").read_text().startswith("name: ours\n")
    words = [*RENAME, "--notes", str(notes)]
    outputs = [tmp_path / "said-1", tmp_path / "said-2"]
    runs = [started(words, output=output) for output in outputs]
    ends = [ended(run, output=said, since=0) for run, said in zip(runs, outputs, strict=True)]
    assert sorted(run.code for run in ends) == [0, 2], ends
