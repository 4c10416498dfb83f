"""What a field is, as its source says below it: read when somebody asks, not at every start.

pydantic can read these texts itself, and then does so for all models whenever one is imported: a
tenth of a second that every command would wait.
"""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import pairwise
from types import MappingProxyType

from pydantic import BaseModel

from .entry import Block


@cache
def field_docs(model: type[BaseModel]) -> Mapping[str, str]:
    """Return the text below each field of a model, its own and those that it inherits.

    Raises
    ------
    OSError
        If the source of the model's module cannot be read.
    """
    docs: dict[str, str] = {}
    for base in reversed(model.__mro__):
        if issubclass(base, BaseModel) and base is not BaseModel:
            docs |= _own_docs(base)
    return MappingProxyType({field: docs.get(field, "") for field in model.model_fields})


@cache
def described() -> None:
    """Put its text to every field of every model, for whoever makes a manual of them.

    Raises
    ------
    OSError
        If the source of a model's module cannot be read.
    """
    for model in _below(Block):
        for field, text in field_docs(model).items():
            model.model_fields[field].description = text or None


@cache
def described_in_schemas() -> None:
    """Put its text to every field of every model, and into what a schema is made from.

    Raises
    ------
    OSError
        If the source of a model's module cannot be read.
    """
    described()
    for model in _below(Block):
        model.model_rebuild(force=True)


def _below(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    yield model
    for inner in model.__subclasses__():
        yield from _below(inner)


def _own_docs(model: type[BaseModel]) -> dict[str, str]:
    """Return the text below each field that a model declares itself; a field without has none."""
    body = _classes(model.__module__).get(model.__qualname__, [])
    return {
        field.target.id: _text(below)
        for field, below in pairwise([*body, ast.Pass()])
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)
    }


def _text(node: ast.stmt) -> str:
    if not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
        return ""
    return inspect.cleandoc(node.value.value) if isinstance(node.value.value, str) else ""


@cache
def _classes(module: str) -> Mapping[str, list[ast.stmt]]:
    """Return what stands in each class at the top of a module, by the class's name."""
    tree = ast.parse(inspect.getsource(sys.modules[module]))
    return {node.name: node.body for node in tree.body if isinstance(node, ast.ClassDef)}
