"""What counts as left behind in the folder of the program."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checkout import left_behind, snapshot


@pytest.mark.parametrize(
    ("path", "left"),
    [
        ("release-1.zip", True),
        ("docs_data/curves/stray.yaml", True),
        ("kb/starter/.build/charts/a.svg", True),
        ("tests/data/entries/good/site/index.html", True),
        (".pytest_cache/v/cache", False),
        ("kb/__pycache__/writer.pyc", False),
    ],
)
def test_a_file_that_came_is_named_unless_a_tool_keeps_it(
    tmp_path: Path, path: str, left: bool
) -> None:
    before = snapshot(tmp_path)
    (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
    (tmp_path / path).write_text("x", encoding="utf-8")
    assert left_behind(before, after=snapshot(tmp_path)) == ([path] if left else [])


@pytest.mark.parametrize(
    ("path", "left"),
    [
        (".build/charts/a.svg", True),
        ("site/index.html", True),
        ("kb/writer.py", False),
        ("tests/site/test_find.py", False),
    ],
)
def test_a_file_that_changed_is_named_where_a_build_writes(
    tmp_path: Path, path: str, left: bool
) -> None:
    (tmp_path / path).parent.mkdir(parents=True)
    (tmp_path / path).write_text("before", encoding="utf-8")
    before = snapshot(tmp_path)
    (tmp_path / path).write_text("afterwards", encoding="utf-8")
    assert left_behind(before, after=snapshot(tmp_path)) == ([path] if left else [])
