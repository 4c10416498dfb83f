"""What is inside an entry: its nested blocks, and every id of another entry that it names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Annotated, get_args, get_origin

from pydantic import BaseModel

from .words import Ref

Path = tuple[str | int, ...]


def inner_block(annotation: object) -> type[BaseModel] | None:
    """Return the block inside `list[Block]`, `Block | None`, `dict[str, Block]`…, if any."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in get_args(annotation):
        found = inner_block(part)
        if found is not None:
            return found
    return None


def ref_of(annotation: object, metadata: list[object] | tuple[object, ...] = ()) -> Ref | None:
    """Return the kind that a field's text is an id of, if it is one."""
    for mark in metadata:
        if isinstance(mark, Ref):
            return mark
    if get_origin(annotation) is Annotated:
        base, *marks = get_args(annotation)
        return ref_of(base, marks)
    for part in get_args(annotation):
        found = ref_of(part)
        if found is not None:
            return found
    return None


def block_at(model: type[BaseModel], path: Path) -> type[BaseModel]:
    """Return the block that holds the last step of `path`, or the deepest one known."""
    for step in path[:-1]:
        if isinstance(step, int) or step not in model.model_fields:
            continue
        model = inner_block(model.model_fields[step].annotation) or model
    return model


Reference = tuple[Path, str, str]
_LAST: list[tuple[BaseModel, list[Reference]]] = []
"""What was asked last: one rule after the other asks it of the same entry, which never changes."""


def references(block: BaseModel) -> Sequence[Reference]:
    """Return `(path, kind, id)` for every id of another entry in a block, in field order."""
    if _LAST and _LAST[0][0] is block:
        return _LAST[0][1]
    found: list[Reference] = []
    _in_block(block, (), found)
    _LAST[:] = [(block, found)]
    return found


def _in_block(block: BaseModel, path: Path, found: list[Reference]) -> None:
    values = block.__dict__
    for name, kind in _naming_fields(type(block)):
        value = values[name]
        if value is None:
            continue
        if type(value) is not str:
            _in_value(value, kind, (*path, name), found)
        elif kind and value:
            found.append(((*path, name), kind, value))


@cache
def _naming_fields(model: type[BaseModel]) -> tuple[tuple[str, str], ...]:
    """Return the fields that name entries, themselves or in a block, each with the kind named.

    The kind is empty where only a block inside may name any.
    """
    found = []
    for name, info in model.model_fields.items():
        ref, inner = ref_of(info.annotation, info.metadata), inner_block(info.annotation)
        if ref is not None or inner is not None:
            found.append((name, ref.kind if ref is not None else ""))
    return tuple(found)


def _in_value(value: object, kind: str, path: Path, found: list[Reference]) -> None:
    if isinstance(value, BaseModel):
        _in_block(value, path, found)
    elif isinstance(value, list | tuple):
        for i, item in enumerate(value):
            _in_value(item, kind, (*path, i), found)
    elif isinstance(value, dict):
        for key, item in value.items():
            _in_value(item, kind, (*path, key), found)
    elif kind and value and isinstance(value, str):
        found.append((path, kind, value))


def texts_listed(block: BaseModel, path: Path = ()) -> Iterator[tuple[Path, list[str]]]:
    """Yield `(path, lines)` for every list of texts in a block that names no entries."""
    values = block.__dict__
    for name, named in _holding_fields(type(block)):
        value = values[name]
        if isinstance(value, BaseModel):
            yield from texts_listed(value, (*path, name))
        elif isinstance(value, list) and value:
            for i, item in enumerate(value):
                if isinstance(item, BaseModel):
                    yield from texts_listed(item, (*path, name, i))
            if not named and all(isinstance(item, str) for item in value):
                yield (*path, name), value


@cache
def _holding_fields(model: type[BaseModel]) -> tuple[tuple[str, bool], ...]:
    """Return the fields that may hold a list or a block, each with whether it names entries."""
    return tuple(
        (name, ref_of(info.annotation, info.metadata) is not None)
        for name, info in model.model_fields.items()
        if inner_block(info.annotation) is not None or _listed(info.annotation)
    )


def _listed(annotation: object) -> bool:
    return get_origin(annotation) is list or any(_listed(part) for part in get_args(annotation))
