"""A link out of the notes publishes nothing, and nothing is written through it."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from kb.check import check_notes
from kb.model import Sensor
from kb.whole_folders import swap_folders, write_release
from kb.writer import change_together

from .commands.test_case import CASE

NAME = "a-k4-2-2026-03-01"


def _faults(notes: Path) -> list[str]:
    return [fault.headline() for fault in check_notes(notes).problems]


def test_a_photo_that_is_a_link_to_a_file_elsewhere_is_refused(notes, tmp_path):
    photo = next((notes / "docs_data/drawings").glob("*.png"), None) or next(
        (notes / "docs_data").rglob("*.jpg")
    )
    away = photo.rename(tmp_path / photo.name)
    photo.symlink_to(away)
    assert any(
        f"photo: '{photo.name}' is a link that leads out" in fault for fault in _faults(notes)
    )


def test_a_page_that_is_a_link_to_a_file_elsewhere_is_refused(notes, tmp_path):
    (tmp_path / "secret").write_text("# Mine\n")
    (notes / "content/more.md").symlink_to(tmp_path / "secret")
    assert (
        "content/more.md:1:1: link-out: this link leads out of the notes, and what it leads to "
        "would be published"
    ) in _faults(notes)


def test_an_entry_that_is_a_link_to_a_file_elsewhere_is_passed_over(notes, tmp_path):
    entry = next((notes / "docs_data/sensors").rglob("air-a.yaml"))
    entry.symlink_to(entry.rename(tmp_path / "air-a.yaml"))
    checked = check_notes(notes)
    assert "air-a" not in checked.of(Sensor)
    assert any("this link leads out of the notes" in fault.message for fault in checked.problems)


@pytest.mark.parametrize("name", ["team.yaml", "release.yaml"])
def test_the_teams_own_file_is_not_read_through_a_link_to_elsewhere(notes, tmp_path, name):
    file = notes / "docs_data" / name
    (tmp_path / name).write_bytes(file.read_bytes() if file.exists() else b"number: 7\n")
    file.unlink(missing_ok=True)
    file.symlink_to(tmp_path / name)
    checked = check_notes(notes)
    assert (checked.team is None, checked.release) == (name == "team.yaml", None)
    assert f"docs_data/{name}:1:1: warning: stranger: this link leads out of the notes" in _faults(
        notes
    )


def test_a_link_inside_the_notes_is_none_of_these(notes):
    (notes / "content/more.md").symlink_to("safety.md")
    assert not [fault for fault in _faults(notes) if "leads out" in fault]


@pytest.mark.parametrize("linked", ["docs_data/cases/unit-a", "docs_data/slips"])
def test_nothing_is_added_through_a_linked_folder(run, notes, tmp_path, linked):
    away = tmp_path / "away"
    away.mkdir()
    (notes / linked).symlink_to(away, target_is_directory=True)
    text = "entry: sensors/air-a\nwrong: The plug\nby: AA\non: 2026-03-01\n"
    file = tmp_path / f"{NAME}.yaml"
    file.write_text(text if "slips" in linked else CASE, encoding="utf-8")
    added = run("case", "add", file, "--notes", notes)
    assert added.exit_code == 1
    assert "a link on the way leads out of the notes; nothing was changed" in added.output
    assert list(away.iterdir()) == []


def test_nothing_is_changed_through_a_linked_folder(notes, tmp_path):
    (notes / "docs_data/more").symlink_to(tmp_path, target_is_directory=True)
    with pytest.raises(OSError, match="leads out of the notes"):
        change_together(notes, {"docs_data/here.yaml": "a", "docs_data/more/there.yaml": "b"})
    assert not (notes / "docs_data/here.yaml").exists()


@pytest.fixture
def closed():
    """A keeper whose files nobody else may read."""
    before = os.umask(0o077)
    yield
    os.umask(before)


def _modes(folder: Path) -> set[int]:
    return {stat.S_IMODE(path.stat().st_mode) for path in (folder, *folder.rglob("*"))}


def test_a_release_can_be_read_by_a_web_server_whatever_the_umask(closed, tmp_path):
    write_release(tmp_path / "srv/team", [("deep/in/page.html", b"x"), ("release.json", b"{}")])
    assert _modes(tmp_path / "srv") == {0o755, 0o644}


def test_so_can_a_site(closed, tmp_path):
    (tmp_path / "fresh/deep").mkdir(parents=True)
    (tmp_path / "fresh/deep/page.html").write_text("x")
    swap_folders(tmp_path / "fresh", out=tmp_path / "site")
    assert _modes(tmp_path / "site") == {0o755, 0o644}
