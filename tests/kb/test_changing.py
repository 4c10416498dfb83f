"""Several files of the notes change as one: across a kill, a full disk, and two at once."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from generators.build import build
from kb.changing import change_notes, stamp_of
from kb.check import check_notes
from kb.commands import add as add_module
from kb.commands import bring as bring_module
from kb.notes.folder import PLAN
from tests.fuzz.command_targets import command
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


SHEET = """family,source,label,measures,location,access,curve,min °C,max °C
example-unit,example-sheet,S1,the first pipe,Left of the box,open,example-10k,-5,30
"""


@pytest.mark.parametrize("as_json", [False, True])
def test_what_is_brought_beside_a_removal_is_held_to_the_notes_as_they_are_then(
    notes: Path, tmp_path: Path, monkeypatch, as_json: bool
) -> None:
    """The sheet was read while the family stood, and the family goes before it is written."""
    whole = bring_module.tried

    def removed_meanwhile(drafts, *, notes):
        outcome = whole(drafts, notes=notes)
        removed = command("examples", "--remove", "--notes", notes.folder)
        assert removed.exit_code == 0, removed.output
        return outcome

    monkeypatch.setattr(bring_module, "tried", removed_meanwhile)
    (tmp_path / "sensors.csv").write_text(SHEET, encoding="utf-8")
    words = ["bring", tmp_path / "sensors.csv", "--yes", "--notes", notes]
    result = command(*words, *["--json"] * as_json)
    assert result.exit_code == 1
    if as_json:
        assert json.loads(result.stdout)["written"] is False
    else:
        assert "The notes were changed meanwhile." in result.output
        assert result.output.endswith("Nothing was written.\n")
    assert "there is no family 'example-unit'" in result.output
    assert list((notes / "docs_data").rglob("*s1*")) == []
    assert [fault for fault in check_notes(notes).problems if not fault.warning] == []


def test_so_is_what_is_added(notes: Path, monkeypatch) -> None:
    whole = add_module.tried

    def removed_meanwhile(drafts, *, notes):
        outcome = whole(drafts, notes=notes)
        command("examples", "--remove", "--notes", notes.folder)
        return outcome

    monkeypatch.setattr(add_module, "tried", removed_meanwhile)
    like = ("--like", "example-suction", "--label", "S1", "--senses", "the first pipe")
    result = command("add", "sensor", *like, "--place", "Left of the box.", "--notes", notes)
    assert result.exit_code == 1
    assert result.output.endswith("Nothing was written.\n")
    assert [fault for fault in check_notes(notes).problems if not fault.warning] == []


def test_what_a_case_rests_on_is_asked_again_where_the_notes_changed(notes: Path) -> None:
    stamp = stamp_of(notes)
    files = {"docs_data/cases/a.yaml": "x: y\n"}
    (notes / "docs_data/curves/example-10k.yaml").unlink()
    with pytest.raises(OSError, match="somebody changed the notes meanwhile"):
        change_notes(notes, files, before=dict.fromkeys(files), stamp=stamp)
    assert not (notes / "docs_data/cases/a.yaml").exists()


@pytest.mark.parametrize("way", ["removed", "renamed", "changed", "new"])
def test_a_stamp_tells_every_change_and_no_look(notes: Path, way: str) -> None:
    file, before = notes / "docs_data/curves/example-10k.yaml", stamp_of(notes)
    check_notes(notes)
    (notes / "docs_data/curves/.ohmfolio-abcdefgh").write_text("half")
    assert stamp_of(notes) == before
    if way == "removed":
        file.unlink()
    elif way == "renamed":
        file.rename(file.with_name("other.yaml"))
    elif way == "changed":
        raw = file.read_bytes()
        file.write_bytes(raw.swapcase())
    else:
        (file.parent / "new.yaml").write_text("")
    assert stamp_of(notes) != before


def test_a_start_without_examples_that_is_killed_leaves_none(tmp_path: Path) -> None:
    words, output = ["start", str(tmp_path / "ours"), "--empty"], tmp_path / "said"
    whole = ran(words, output=output)
    assert whole.code == 0, whole.words
    after = state_of(tmp_path / "ours")
    assert "docs_data/families/example-unit.yaml" not in after
    for number in range(1, whole.writes + 1, max(1, whole.writes // 40)):
        shutil.rmtree(tmp_path / "ours", ignore_errors=True)
        assert ran(words, output=output, kill_at=number).code == -9
        left = state_of(tmp_path / "ours")
        left = {path: raw for path, raw in left.items() if ".ohmfolio-" not in path}
        # The schemas and settings of an editor come last, file by file; the notes are whole or none.
        notes = {path: raw for path, raw in after.items() if path.startswith(("docs_", "content"))}
        there = {path: raw for path, raw in left.items() if path.startswith(("docs_", "content"))}
        assert there in ({}, notes), number


def test_a_link_in_the_place_of_the_working_folder_is_not_followed(
    notes: Path, tmp_path: Path
) -> None:
    (tmp_path / "theirs").mkdir()
    (tmp_path / "theirs/change.json").write_text("{}")
    (notes / ".build").symlink_to(tmp_path / "theirs")
    for words in (("check",), ("due",), ("rename", "example-10k", "our-10k")):
        result = command(*words, "--notes", notes)
        assert result.exit_code == 2, result.output
        assert f"{notes / '.build'} is a link, and builds remove what they find there" in (
            result.output
        )
    with pytest.raises(OSError, match="a link stands where builds work"):
        build(notes, out=notes / "site")
    assert state_of(tmp_path / "theirs") == {"change.json": b"{}"}
