"""What this machine remembers of a release is published again as it was written."""

from __future__ import annotations

import json
from pathlib import Path

from generators.release.history import remember
from kb.release_format.kept import read_history
from tests.release.test_formats import record


def test_what_is_remembered_is_published_again_as_it_was_written(tmp_path: Path):
    remember(tmp_path, record=record(2))
    (read,) = read_history(tmp_path)
    assert read.raw == record(2).raw == read.kept
    plain = tmp_path / "releases" / record(1).name / "record.json"
    plain.parent.mkdir()
    plain.write_text(json.dumps({"list": record(1).release_list.text, "notes": record(1).notes}))
    older, _ = read_history(tmp_path)
    assert not older.kept
    assert older.raw == record(1).raw
