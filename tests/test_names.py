"""No variable in kb or generators is called by a word that hides what it holds."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
MODULES = sorted([*(TOP / "kb").rglob("*.py"), *(TOP / "generators").rglob("*.py")])
EMPTY_NAMES = {"one", "told", "said", "put", "book"}
"""Words of a story: a name says what is in it, such as `sensor`, `limit` or `row`."""


def bindings(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Yield each name that a module binds, with its line: variables, arguments, functions, fields."""
    for node in ast.walk(tree):
        match node:
            case ast.Name(id=name, ctx=ast.Store()):
                yield name, node.lineno
            case ast.Attribute(attr=name, ctx=ast.Store()):
                yield name, node.lineno
            case ast.arg(arg=name):
                yield name, node.lineno
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name):
                yield name, node.lineno
            case ast.ClassDef(name=name):
                yield name, node.lineno
            case ast.alias(asname=str(name)):
                yield name, node.lineno
            case ast.ExceptHandler(name=str(name)):
                yield name, node.lineno
            case ast.MatchAs(name=str(name)) | ast.MatchStar(name=str(name)):
                yield name, node.lineno
            case ast.MatchMapping(rest=str(name)):
                yield name, node.lineno


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(TOP).as_posix())
def test_a_name_says_what_it_holds(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert [f"line {line}: {name}" for name, line in bindings(tree) if name in EMPTY_NAMES] == []


@pytest.mark.parametrize(
    "text",
    [
        "told = 1",
        "told: int = 1",
        "told += 1",
        "a, (told, *b) = c",
        "a.told = 1",
        "if (told := 1): pass",
        "for told in a: pass",
        "[told for told in a]",
        "with a as told: pass",
        "import a as told",
        "from a import b as told",
        "def told(): pass",
        "def a(b, *, told=1): pass",
        "def a(*told): pass",
        "lambda told: 1",
        "class told: pass",
        "class A:\n    told: int",
        "try: pass\nexcept A as told: pass",
        "match a:\n    case [told]: pass",
        "match a:\n    case [*told]: pass",
        "match a:\n    case {**told}: pass",
    ],
)
def test_the_scan_sees_every_way_to_bind_a_name(text: str) -> None:
    assert "told" in {name for name, _line in bindings(ast.parse(text))}


@pytest.mark.parametrize("text", ["a = told", "a.told()", "f(told=1)", "a = 'told'"])
def test_the_scan_lets_a_name_that_is_only_read_pass(text: str) -> None:
    assert "told" not in {name for name, _line in bindings(ast.parse(text))}
