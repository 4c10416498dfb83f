"""The house's style, held by its tools: ruff, its format, mypy, and no long function or file."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
MODULES = sorted([*(TOP / "kb").rglob("*.py"), *(TOP / "generators").rglob("*.py")])
MOST_LINES_OF_A_FUNCTION = 50
MOST_LINES_OF_A_FILE = 400


@pytest.mark.parametrize(
    "words",
    [
        ("ruff", "check", "--quiet", "--output-format=concise"),
        ("ruff", "format", "--quiet", "--check"),
        ("mypy", "--no-error-summary"),
    ],
    ids=" ".join,
)
def test_the_tools_find_nothing(words: tuple[str, ...]) -> None:
    found = subprocess.run(
        [sys.executable, "-m", *words], cwd=TOP, capture_output=True, text=True, check=False
    )
    assert (found.returncode, found.stdout) == (0, ""), found.stdout + found.stderr


def long_functions(tree: ast.Module, *, most: int) -> Iterator[tuple[str, int]]:
    """Yield name and lines of each function that is longer, its decorators not counted."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            if lines > most:
                yield node.name, lines


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def test_no_function_is_longer_than_a_screen() -> None:
    too_long = [
        f"{path.relative_to(TOP).as_posix()}: {name} has {lines} lines"
        for path in MODULES
        for name, lines in long_functions(parsed(path), most=MOST_LINES_OF_A_FUNCTION)
    ]
    assert too_long == []


def test_no_file_is_longer_than_its_noun_needs() -> None:
    lines = {path: path.read_text(encoding="utf-8").count("\n") for path in MODULES}
    assert [path for path in MODULES if lines[path] > MOST_LINES_OF_A_FILE] == []


def test_a_test_file_is_no_longer_unless_the_developers_page_says_why() -> None:
    excused = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
    long = {
        path.name
        for path in (TOP / "tests").rglob("*.py")
        if path.read_text(encoding="utf-8").count("\n") > MOST_LINES_OF_A_FILE
    }
    assert {name for name in long if f"`{name}`" not in excused} == set()


def test_every_module_begins_with_a_sentence() -> None:
    assert [path for path in MODULES if not ast.get_docstring(parsed(path))] == []


def test_the_scan_counts_the_lines_of_a_function_and_of_one_inside_it() -> None:
    text = "def outer():\n    def inner():\n        pass\n        pass\n    return inner\n"
    assert dict(long_functions(ast.parse(text), most=2)) == {"outer": 5, "inner": 3}
