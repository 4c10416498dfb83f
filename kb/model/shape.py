"""What is inside an entry: its nested blocks, and every id of another entry that it names."""

from __future__ import annotations

from collections.abc import Iterator
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


def references(block: BaseModel, path: Path = ()) -> Iterator[tuple[Path, str, str]]:
    """Yield `(path, kind, id)` for every id of another entry in a block, in field order."""
    for name, kind in _naming_fields(type(block)):
        yield from _in_value(getattr(block, name), kind, (*path, name))


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


def _in_value(value: object, kind: str, path: Path) -> Iterator[tuple[Path, str, str]]:
    if isinstance(value, BaseModel):
        yield from references(value, path)
    elif isinstance(value, list | tuple):
        for i, item in enumerate(value):
            yield from _in_value(item, kind, (*path, i))
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from _in_value(item, kind, (*path, key))
    elif kind and value and isinstance(value, str):
        yield path, kind, value


def texts_listed(block: BaseModel, path: Path = ()) -> Iterator[tuple[Path, list[str]]]:
    """Yield `(path, lines)` for every list of texts in a block that names no entries."""
    for name, info in type(block).model_fields.items():
        value = getattr(block, name)
        for i, item in enumerate(value if isinstance(value, list) else [value]):
            if isinstance(item, BaseModel):
                inner = (*path, name, i) if isinstance(value, list) else (*path, name)
                yield from texts_listed(item, inner)
        texts = isinstance(value, list) and all(isinstance(item, str) for item in value)
        if texts and value and ref_of(info.annotation, info.metadata) is None:
            yield (*path, name), value
