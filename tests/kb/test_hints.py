"""Whatever finds a fault says what would work: no problem without a hint is written anywhere."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

KB = Path(__file__).resolve().parents[2] / "kb"
_MAKERS = {"problem", "problem_at", "Fault", "Problem"}
"""What makes a problem; `Problem` itself may have its hint as the sixth argument."""


def without_hint(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Yield line and name of each call that makes a problem and gives it no hint."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        function = node.func
        name = function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")
        spread = any(isinstance(argument, ast.Starred) for argument in node.args)
        by_name = {keyword.arg for keyword in node.keywords}
        positional = name == "Problem" and len(node.args) > 5
        if name in _MAKERS and not (spread or positional or {"hint", None} & by_name):
            yield node.lineno, name


def test_every_problem_has_a_hint():
    found = {
        f"{path.relative_to(KB)}:{line}"
        for path in KB.rglob("*.py")
        for line, _ in without_hint(ast.parse(path.read_text(encoding="utf-8")))
    }
    assert found == set()


def test_the_scan_sees_one_without():
    text = "Fault('a')\nFault('a', hint='b')\nnotes.problem(a, (), 'b', 'c')\nProblem(*a)\n"
    assert [line for line, _ in without_hint(ast.parse(text))] == [1, 3]
