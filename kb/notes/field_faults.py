"""Say in plain words, at the right place, what is wrong with the fields of one entry."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from kb.model.entry import Block
from kb.model.field_docs import field_docs
from kb.model.shape import block_at, inner_block
from kb.model.words import ID_PATTERN, Fault, tidy_id

from .decimal_comma import decimal_comma
from .problem import Problem, nearest
from .yaml_text import Path, YamlText

Model = TypeVar("Model", bound=BaseModel)

_MEANT_KEY = re.compile(r"(?:did you mean|write) '(\w+)(?:: [^']*)?'")
_BOUNDS = {
    "greater_than": ("gt", "above"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "below"),
    "less_than_equal": ("le", "at most"),
}
_PAIR = "a pair such as [low, high]"
_BLOCK = "a block of 'key: value' lines"
_SHAPES = {
    "string_type": "text",
    "list_type": "a list: lines that begin with '- '",
    "tuple_type": _PAIR,
    "dict_type": _BLOCK,
    "model_type": _BLOCK,
}
_BOTH = "write two values in the brackets"
_ALONE = "write the words alone, without brackets, and without a hyphen before them"
_QUOTES = "text that holds a comma or ': ' needs quotes"
_FIELDS = "see what may stand here: ohmfolio fields"
_INSTEAD = {
    "string_type": _ALONE,
    "list_type": "write each item on a line of its own that begins with '- '",
    "tuple_type": _BOTH,
    "dict_type": "write it in lines of 'key: value' below, each indented by two more",
    "model_type": "write it in lines of 'key: value' below, each indented by two more",
}
"""What would work where nothing better is known."""


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
    found = [_not_written(read, key) for key in given if key in value]
    written: dict[str, object] = {key: value[key] for key in value if key not in given}
    if read.gaps:
        written = _without_empty_rows(written, model)
    try:
        block = model(**{**written, **given})
    except ValidationError as error:
        return None, found + list(_faults(error, model, written, read))
    return (None if found else block), found


def _not_written(read: YamlText, key: str) -> Problem:
    return read.problem(
        (key,),
        "unknown-key",
        f"'{key}' is not written in the file",
        hint="the file's name is the id",
        key=True,
    )


def _without_empty(value: object, model: type[BaseModel], path: Path = ()) -> object:
    """Take away the fields with nothing behind them: they count as not written.

    Only fields that the model knows: in `{why: All of it, and again on a roof}` the comma makes a
    key of the second half, and dropping that would cut the sentence short without a word.
    """
    if isinstance(value, dict):
        return _without_empty_rows(value, model, path)
    if isinstance(value, list):
        return [_without_empty(item, model, (*path, i)) for i, item in enumerate(value)]
    return value


def _without_empty_rows(
    block: Mapping[str, object], model: type[BaseModel], path: Path = ()
) -> dict[str, object]:
    known = block_at(model, (*path, "")).model_fields
    return {
        key: _without_empty(inner, model, (*path, key))
        for key, inner in block.items()
        if inner is not None or key not in known
    }


@dataclass(frozen=True)
class _Detail:
    """One complaint of pydantic's, with what is needed to say it in our words."""

    error: ErrorDetails
    model: type[BaseModel]
    value: object
    read: YamlText

    @property
    def loc(self) -> Path:
        return tuple(self.error["loc"])

    @property
    def name(self) -> str:
        """The nearest field."""
        return next((step for step in reversed(self.loc) if isinstance(step, str)), "")

    @property
    def block(self) -> type[BaseModel]:
        """The block that the field stands in."""
        return block_at(self.model, self.loc)

    @property
    def context(self) -> Mapping[str, Any]:
        return self.error.get("ctx", {})

    def in_file(self, loc: Path) -> Path:
        return _yaml_path(loc, self.value)


@dataclass(frozen=True)
class _Words:
    """How a complaint is told: which rule, in which words, and where."""

    rule: str
    message: str
    loc: Path
    hint: str = ""
    key: bool = False


def _faults(
    error: ValidationError, model: type[BaseModel], value: object, read: YamlText
) -> Iterator[Problem]:
    details = [_Detail(raw, model, value, read) for raw in error.errors(include_url=False)]
    worded = [(detail, words) for detail in details for words in _worded(detail)]
    # A key that is missing because it is misspelt is told once, where it stands.
    meant = {
        (detail.loc[:-1], found[1])
        for detail, words in worded
        if words.rule == "unknown-key" and (found := _MEANT_KEY.match(words.hint))
    }
    for detail, words in worded:
        if words.rule == "missing-key" and (detail.loc[:-1], detail.name) in meant:
            continue
        there = detail.in_file(words.loc)
        hint = decimal_comma(read, path=there) or words.hint
        yield read.problem(there, words.rule, words.message, hint=hint, key=words.key)


def _worded(detail: _Detail) -> Iterator[_Words]:
    return _WORDED.get(detail.error["type"], _as_pydantic_says)(detail)


def _missing(detail: _Detail) -> Iterator[_Words]:
    loc, name = detail.loc, detail.name
    hint = field_docs(detail.block).get(name, "").partition("\n")[0]
    if isinstance(loc[-1], int):
        yield _Words("wrong-shape", f"'{name}' should be {_PAIR}", loc[:-1], _BOTH)
    elif (*detail.in_file(loc[:-1]), name) in detail.read.key_marks:
        yield _Words("empty", f"'{name}' has nothing behind it", loc, hint, key=True)
    else:
        yield _Words("missing-key", f"'{name}' is missing", loc[:-1], hint)


def _unknown_key(detail: _Detail) -> Iterator[_Words]:
    name = detail.name
    there = detail.read.at(detail.in_file(detail.loc[:-1]))
    taken = {"id", "law", *(there if isinstance(there, dict) else ())}
    hint = nearest(name, (field for field in detail.block.model_fields if field not in taken))
    first, _, rest = name.partition(" ")
    if rest and first in detail.block.model_fields and first not in taken:
        hint = f"write '{first}: {rest}'"
    elif rest:
        hint = _QUOTES
    hint = hint or "take the line out: all that may stand here is there already"
    yield _Words("unknown-key", f"'{name}' is not a key here", detail.loc, hint, key=True)


def _not_used_here(detail: _Detail) -> Iterator[_Words]:
    message = f"'{detail.name}' is not a key here"
    yield _Words("unknown-key", message, detail.loc, "take the line out", key=True)


def _unknown_word(detail: _Detail) -> Iterator[_Words]:
    word = str(detail.error["input"])
    allowed = [choice.strip("' ") for choice in _split(str(detail.context["expected"]))]
    message = f"'{word}' is not one of the words for '{detail.name}'"
    yield _Words("unknown-word", message, detail.loc, nearest(word, allowed))


def _value(detail: _Detail) -> Iterator[_Words]:
    fault = detail.context["error"]
    if not isinstance(fault, Fault):
        yield _Words("value", str(fault), detail.loc, _FIELDS)
        return
    for each in (*fault.also, fault):
        yield _Words("value", str(each), detail.loc + each.at, each.hint, each.key)


def _out_of_bounds(detail: _Detail) -> Iterator[_Words]:
    bound, word = _BOUNDS[detail.error["type"]]
    number = _number(detail.error["input"])
    limit = f"{word} {detail.context[bound]:g}"
    message = f"'{number}' must be {limit}"
    yield _Words("out-of-bounds", message, detail.loc, f"look for a slip, and write {limit}")


def _too_few(detail: _Detail) -> Iterator[_Words]:
    context = detail.context
    message = f"'{detail.name}' has {context['actual_length']}, "
    message += f"it needs at least {context['min_length']}"
    yield _Words("too-few", message, detail.loc, "add what is missing")


def _too_many(detail: _Detail) -> Iterator[_Words]:
    context = detail.context
    if context.get("field_type") == "Tuple":
        yield _Words("wrong-shape", f"'{detail.name}' should be {_PAIR}", detail.loc, _BOTH)
        return
    message = f"'{detail.name}' has {context['actual_length']}, "
    message += f"it takes at most {context['max_length']}"
    yield _Words("too-many", message, detail.loc, "take out what is too many")


def _says_nothing(detail: _Detail) -> Iterator[_Words]:
    message = f"'{detail.name}' says nothing"
    yield _Words("empty", message, detail.loc, "write it, or leave the line out")


def _wrong_shape(detail: _Detail) -> Iterator[_Words]:
    kind = detail.error["type"]
    torn = kind == "string_type" and isinstance(detail.error["input"], dict)
    message = f"'{detail.name}' should be {_SHAPES[kind]}"
    listed = kind == "string_type" and isinstance(detail.error["input"], list)
    hint = _QUOTES if torn else _ALONE if listed else _block_meant(detail)
    hint = hint or _items_meant(detail) or _INSTEAD[kind]
    yield _Words("wrong-shape", message, detail.loc, hint)


def _items_meant(detail: _Detail) -> str:
    """Return the brackets to write round words that stand in the place of a list or a pair."""
    kind, words = detail.error["type"], detail.error["input"]
    if not isinstance(words, str):
        return ""
    if kind == "tuple_type":
        ends = re.findall(r"(?<![\w.])[-−–]?\d+(?:\.\d+)?", words)
        return f"write [{ends[0]}, {ends[1].lstrip('–')}]" if len(ends) == 2 else ""
    items = [item.strip() for item in re.split(r"[,;]", words)]
    if kind == "list_type" and items and not any(" " in item for item in items):
        return f"write [{', '.join(filter(None, items))}]"
    return f"write it on a line of its own: '- {words}'" if kind == "list_type" else ""


def _block_meant(detail: _Detail) -> str:
    """Return what to write where words stand in the place of a block, or of a list of blocks."""
    words = detail.error["input"]
    in_list = isinstance(detail.loc[-1], int)
    holder = block_at(detail.model, detail.loc[:-1] if in_list else detail.loc)
    field = holder.model_fields.get(detail.name)
    block = inner_block(field.annotation) if field else None
    if not isinstance(words, str) or block is None or not issubclass(block, Block):
        return ""
    meant = block.meant_by(words)
    if detail.error["type"] == "list_type" and meant.startswith("write {"):
        return f"write a line '- {meant.removeprefix('write ')}'"
    return meant


def _no_id(detail: _Detail) -> Iterator[_Words]:
    """Yield what is wrong with a text that should be an id, or hold a figure."""
    word = str(detail.error["input"])
    if detail.context.get("pattern") != f"^{ID_PATTERN}$":
        yield from _as_pydantic_says(detail)
        return
    tidy = tidy_id(word)
    hint = f"write '{tidy}'" if tidy else "small letters, digits and single hyphens"
    yield _Words("value", f"'{word}' cannot be an id", detail.loc, hint)


def _as_pydantic_says(detail: _Detail) -> Iterator[_Words]:
    yield _Words("value", detail.error["msg"], detail.loc, _FIELDS)


_WORDED: dict[str, Callable[[_Detail], Iterator[_Words]]] = {
    "missing": _missing,
    "extra_forbidden": _unknown_key,
    "none_required": _not_used_here,
    "literal_error": _unknown_word,
    "value_error": _value,
    "too_short": _too_few,
    "too_long": _too_many,
    "string_too_short": _says_nothing,
    "string_pattern_mismatch": _no_id,
    **dict.fromkeys(_BOUNDS, _out_of_bounds),
    **dict.fromkeys(_SHAPES, _wrong_shape),
}
"""Pydantic's name of a fault → what says it in our words."""


def _split(expected: str) -> list[str]:
    return expected.replace(" or ", ", ").split(", ")


def _number(value: object) -> str:
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
