"""What a docstring in kb/numbers says about its arguments is what the arguments are called."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

NUMBERS = Path(__file__).resolve().parents[1] / "kb" / "numbers"
FILES = sorted(NUMBERS.glob("*.py"))


def public(tree: ast.Module) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    """Yield public functions and classes of a module, and public methods of those classes."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from (
                    method
                    for method in node.body
                    if isinstance(method, ast.FunctionDef) and not method.name.startswith("_")
                )


def arguments(node: ast.FunctionDef | ast.ClassDef) -> set[str]:
    """Return the names of a function's arguments, or of a dataclass's fields."""
    if isinstance(node, ast.ClassDef):
        return {
            field.target.id
            for field in node.body
            if isinstance(field, ast.AnnAssign)
            and isinstance(field.target, ast.Name)
            and "ClassVar" not in ast.unparse(field.annotation)
        }
    of_all = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    return {argument.arg for argument in of_all} - {"self"}


def named(docstring: str) -> set[str]:
    """Return the names under `Parameters`; several may share a line."""
    found = re.search(
        r"Parameters\n-+\n(.*?)(?=\n\n\w[^\n]*\n-+\n|\n\nSource:|\Z)", docstring, re.S
    )
    lines = [line for line in found[1].splitlines() if line and line[0] != " "] if found else []
    return {name.strip() for line in lines for name in line.partition(" : ")[0].split(",")}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_everything_public_says_what_it_is(file):
    nodes = public(ast.parse(file.read_text(encoding="utf-8")))
    silent = [node.name for node in nodes if not ast.get_docstring(node)]
    assert silent == []


def test_most_functions_with_a_choice_of_arguments_name_them():
    nodes = [node for file in FILES for node in public(ast.parse(file.read_text(encoding="utf-8")))]
    assert sum(bool(named(ast.get_docstring(node) or "")) for node in nodes) > 30


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_parameters_are_called_what_the_docstring_calls_them(file):
    for node in public(ast.parse(file.read_text(encoding="utf-8"))):
        # A plain argument may go unsaid; one that is named must be there.
        documented = named(ast.get_docstring(node) or "")
        assert documented <= arguments(node), f"{file.name}: {node.name}"


def test_the_scan_reads_names_that_share_a_line():
    assert named(
        "One.\n\nParameters\n----------\na, b : float\n    Two.\nc\n    Three.\n\n"
        "Returns\n-------\nfloat"
    ) == {"a", "b", "c"}
