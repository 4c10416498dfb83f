"""Say in plain words, at the right place, what is wrong with the fields of one entry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from kb.model.shape import block_at
from kb.model.words import Fault

from .decimal_comma import decimal_comma
from .problem import Problem, nearest
from .yaml_text import Path, YamlText

Model = TypeVar("Model", bound=BaseModel)

_BOUNDS = {
    "greater_than": ("gt", "above"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "below"),
    "less_than_equal": ("le", "at most"),
}
_PAIR = "a pair such as [low, high]"


def read_block(
    model: type[Model], read: YamlText, *, given: Mapping[str, object] = MappingProxyType({})
) -> tuple[Model | None, list[Problem]]:
    """Check a file's value against a model.

    Parameters
    ----------
    model : type
        What the file should hold.
    read : YamlText
        The file, read as text.
    given : mapping
        Fields that do not come from the file, such as its id.

    Returns
    -------
    (block or None, problems)
        The block only when there is no problem.
    """
    value = read.value
    if not isinstance(value, dict):
        return None, [
            read.problem(
                (), "not-an-entry", "an entry is lines of 'key: value'", hint="begin with 'name: …'"
            )
        ]
    found = [
        read.problem(
            (key,),
            "unknown-key",
            f"'{key}' is not written in the file",
            hint="the file's name is the id",
            key=True,
        )
        for key in given
        if key in value
    ]
    told = _without_empty({key: told for key, told in value.items() if key not in given}, model)
    try:
        block = model(**{**told, **given})
    except ValidationError as error:
        return None, found + list(_faults(error, model, told, read))
    return (None if found else block), found


def _without_empty(value: object, model: type[BaseModel], path: Path = ()) -> object:
    """Take away the fields with nothing behind them: they count as not written.

    Only fields that the model knows: in `{why: All of it, and again on a roof}` the comma makes a
    key of the second half, and dropping that would cut the sentence short without a word.
    """
    if isinstance(value, dict):
        known = block_at(model, (*path, "")).model_fields
        return {
            key: _without_empty(told, model, (*path, key))
            for key, told in value.items()
            if told is not None or key not in known
        }
    if isinstance(value, list):
        return [_without_empty(told, model, (*path, i)) for i, told in enumerate(value)]
    return value


def _faults(
    error: ValidationError, model: type[BaseModel], value: object, read: YamlText
) -> Iterator[Problem]:
    for detail in error.errors(include_url=False):
        loc: Path = tuple(detail["loc"])
        kind: str = detail["type"]
        context = detail.get("ctx", {})
        name = next((step for step in reversed(loc) if isinstance(step, str)), "")
        block = block_at(model, loc)
        key = False
        hint = ""
        if kind == "missing" and isinstance(loc[-1], int):
            loc, rule, message = loc[:-1], "wrong-shape", f"'{name}' should be {_PAIR}"
        elif kind == "missing":
            rule, message = "missing-key", f"'{name}' is missing"
            if (*_yaml_path(loc[:-1], value), name) in read.key_marks:
                rule, message, key = "empty", f"'{name}' has nothing behind it", True
            else:
                loc = loc[:-1]
            info = block.model_fields.get(name)
            hint = (info.description or "").splitlines()[0] if info and info.description else ""
        elif kind == "extra_forbidden":
            rule, key = "unknown-key", True
            message = f"'{name}' is not a key here"
            there = read.at(_yaml_path(loc[:-1], value))
            taken = {"id", "law", *(there if isinstance(there, dict) else ())}
            hint = nearest(name, (f for f in block.model_fields if f not in taken))
            if " " in name:
                hint = "text that holds a comma or ': ' needs quotes"
        elif kind == "literal_error":
            allowed = [one.strip("' ") for one in _split(str(context["expected"]))]
            rule, message = (
                "unknown-word",
                f"'{detail['input']}' is not one of the words for '{name}'",
            )
            hint = nearest(str(detail["input"]), allowed)
        elif kind == "value_error":
            fault = context["error"]
            rule, message = "value", str(fault)
            if isinstance(fault, Fault):
                for other in fault.also:
                    there = _yaml_path(loc + other.at, value)
                    other_hint = decimal_comma(read, there) or other.hint
                    yield read.problem(there, rule, str(other), hint=other_hint, key=other.key)
                loc, hint, key = loc + fault.at, fault.hint, fault.key
        elif kind in _BOUNDS:
            bound, word = _BOUNDS[kind]
            rule = "out-of-bounds"
            message = f"'{_told(detail['input'])}' must be {word} {context[bound]:g}"
        elif kind == "too_short":
            rule = "too-few"
            message = f"'{name}' has {context['actual_length']}, "
            message += f"it needs at least {context['min_length']}"
        elif kind == "too_long" and context.get("field_type") == "Tuple":
            rule, message = "wrong-shape", f"'{name}' should be {_PAIR}"
        elif kind == "too_long":
            rule = "too-many"
            message = f"'{name}' has {context['actual_length']}, "
            message += f"it takes at most {context['max_length']}"
        elif kind == "string_too_short":
            rule, message = "empty", f"'{name}' says nothing"
            hint = "write it, or leave the line out"
        elif kind == "none_required":
            rule, key, message = "unknown-key", True, f"'{name}' is not a key here"
        elif kind in ("string_type", "list_type", "tuple_type", "dict_type", "model_type"):
            wanted = {
                "string_type": "text",
                "list_type": "a list: lines that begin with '- '",
                "tuple_type": _PAIR,
            }.get(kind, "a block of 'key: value' lines")
            rule, message = "wrong-shape", f"'{name}' should be {wanted}"
            if kind == "string_type" and isinstance(detail["input"], dict):
                hint = "text that holds a comma or ': ' needs quotes"
        else:
            rule, message = "value", detail["msg"]
        there = _yaml_path(loc, value)
        yield read.problem(there, rule, message, hint=decimal_comma(read, there) or hint, key=key)


def _split(expected: str) -> list[str]:
    return expected.replace(" or ", ", ").split(", ")


def _told(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _yaml_path(loc: Path, value: object) -> Path:
    """Translate a model's path to the file's: the nth row of a block is its nth key."""
    path: list[str | int] = []
    for step in loc:
        if isinstance(value, dict):
            if isinstance(step, int) and step < len(value):
                step = list(value)[step]
            if step not in value:
                path.append(step)
                break
            value = value[step]
        elif isinstance(value, list) and isinstance(step, int) and step < len(value):
            value = value[step]
        else:
            break
        path.append(step)
    return tuple(path)
