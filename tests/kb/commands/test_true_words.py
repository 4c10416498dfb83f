"""What went wrong is called what it is: no memory, no leave to read, links in a circle."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from generators import command
from kb.commands.disk_words import disk_refused
from kb.commands.main import ohmfolio


def test_a_file_that_nobody_may_read_could_not_be_read(monkeypatch, tmp_path):
    (tmp_path / "a.yaml").write_text("x")
    monkeypatch.setattr(os, "access", lambda *_: False)
    error = PermissionError(errno.EACCES, "Permission denied", str(tmp_path / "a.yaml"))
    refused = disk_refused(error, at="a file", stands="nothing was changed")
    assert refused.message == (
        f"{tmp_path}/a.yaml could not be read: Permission denied; nothing was changed"
    )


@pytest.mark.parametrize("name", ["a.yaml", "new.yaml"])
def test_what_may_be_read_or_is_not_there_could_not_be_written(tmp_path, name):
    (tmp_path / "a.yaml").write_text("x")
    error = PermissionError(errno.EACCES, "Permission denied", str(tmp_path / name))
    assert "could not be written" in disk_refused(error, at="a file", stands="").message


@pytest.mark.parametrize("option", [("build", "--out"), ("pack", "--to")])
def test_links_in_a_circle_are_called_that(run, notes, tmp_path, option):
    import generators.all_commands  # noqa: F401

    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    refused = run(option[0], "--notes", notes, option[1], tmp_path / "a")
    assert refused.exit_code == 2
    assert "leads in a circle: links point at each other" in " ".join(refused.output.split())
    assert "home folder" not in refused.output


def test_no_memory_is_called_that_and_not_a_stop(monkeypatch, capsys):
    def full(**_: object) -> None:
        raise MemoryError

    monkeypatch.setattr(ohmfolio, "main", full)
    with pytest.raises(SystemExit) as ended:
        command.main()
    assert ended.value.code == 1
    assert capsys.readouterr().err.startswith("Error: this computer has no memory left for that")


def test_where_no_notes_are_kept_none_are_said_to_stay():
    words = Path(__file__).resolve().parents[3] / "kb/words/english/scripts/frame.toml"
    assert "ones you have" not in words.read_text(encoding="utf-8")
