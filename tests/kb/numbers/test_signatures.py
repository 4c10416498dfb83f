"""How the rooms are called: one plain argument first, every other by its name."""

from __future__ import annotations

import ast
import dataclasses
import importlib
import inspect
from collections.abc import Iterator
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[3]
ROOMS = ("kb/numbers",)
"""Rooms that keep to it; add one when all of it does."""

FILES = sorted(file for room in ROOMS for file in (TOP / room).rglob("*.py"))


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef]:
    """Yield every function and method, those inside functions too."""
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def plain_arguments(function: ast.FunctionDef) -> list[str]:
    """Return what may be given without its name, the object itself aside."""
    arguments = [*function.args.posonlyargs, *function.args.args]
    return [
        name for name in (argument.arg for argument in arguments) if name not in ("self", "cls")
    ]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_argument_after_the_first_is_given_by_name(file):
    loose = [
        f"{function.name}({', '.join(plain_arguments(function))})"
        for function in functions(ast.parse(file.read_text(encoding="utf-8")))
        if len(plain_arguments(function)) > 1
    ]
    assert loose == []


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_record_is_frozen_and_filled_by_name(file):
    module = importlib.import_module(".".join(file.relative_to(TOP).with_suffix("").parts))
    for name, record in inspect.getmembers(module, dataclasses.is_dataclass):
        if record.__module__ != module.__name__:
            continue
        assert record.__dataclass_params__.frozen, name
        fields = [field for field in dataclasses.fields(record) if field.init]
        assert all(field.kw_only for field in fields), name


def test_the_scan_sees_a_second_plain_argument():
    tree = ast.parse("class A:\n    def m(self, a, b, *, c): ...\n    def n(self, a, *, b): ...\n")
    assert [plain_arguments(function) for function in functions(tree)] == [["a", "b"], ["a"]]
