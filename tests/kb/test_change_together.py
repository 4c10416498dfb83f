"""Several files change together or not at all."""

from __future__ import annotations

import pytest

from kb import writer
from kb.writer import change_together


def texts(folder):
    return {path.name: path.read_text() for path in folder.rglob("*") if path.is_file()}


def fails_at(monkeypatch, name, function):
    true = getattr(writer, function)

    def failing(path, *rest):
        if path.name == name:
            monkeypatch.setattr(writer, function, true)
            raise OSError(28, "No space left on device", str(path))
        return true(path, *rest)

    monkeypatch.setattr(writer, function, failing)


def test_all_are_written_and_folders_made(tmp_path):
    (tmp_path / "a").write_text("old")
    change_together(tmp_path, {"a": "new", "b/c": "c"})
    assert texts(tmp_path) == {"a": "new", "c": "c"}


def test_when_the_disk_refuses_one_the_others_stand_as_they_stood(tmp_path, monkeypatch):
    (tmp_path / "a").write_text("old")
    fails_at(monkeypatch, "c", "_arriving_beside")
    with pytest.raises(OSError, match="No space"):
        change_together(tmp_path, {"a": "new", "b": "b", "c": "c"})
    assert texts(tmp_path) == {"a": "old"}


def test_files_go_together_with_the_folders_that_are_empty_then(tmp_path):
    for name in ("kept", "one/two/a", "one/b"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(name)
    change_together(tmp_path, {"one/two/a": None, "one/b": None})
    assert texts(tmp_path) == {"kept": "kept"}
    assert not (tmp_path / "one").exists()


def test_when_one_cannot_go_none_does(tmp_path, monkeypatch):
    for name in ("a", "b"):
        (tmp_path / name).write_text(name)
    fails_at(monkeypatch, "b", "remove_file")
    with pytest.raises(OSError, match="No space"):
        change_together(tmp_path, {"a": None, "b": None})
    assert texts(tmp_path) == {"a": "a", "b": "b"}
