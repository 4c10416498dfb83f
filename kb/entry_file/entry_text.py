"""The text of a new entry's file: in the order of its model, choices and `checked` explained."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, get_args, get_origin

from pydantic import BaseModel

from kb.model import CURVE_LAWS, KINDS, Entry
from kb.model.shape import inner_block

from .yaml_words import pair_lines

BESIDE = 29
"""Where a remark begins beside a short line."""
DRAFT = (
    "# Once somebody has held it against its source, add who and when; until then it is a draft:",
    "# checked: {by: AB, on: 2026-03-14}",
)


def entry_text(kind: str, *, value: Mapping[str, object]) -> str:
    """Return the file of an entry.

    Parameters
    ----------
    kind : str
        One of KINDS.
    value : mapping
        Its fields as texts, lists and blocks.
    """
    model = model_of(kind, value=value)
    lines = [f"# {_heading(model)}"]
    for field in in_order(model, value=value):
        rows = pair_lines(field, value=_arranged(value[field], block=model, field=field))
        words = choices(model, field=field)
        if words and len(rows) == 1:
            rows = [f"{rows[0].ljust(BESIDE - 1)} # {_listed(words)}"]
        lines += rows
        if field == "source" and "checked" not in value:
            lines += DRAFT
    if kind == "sources" and "checked" not in value:
        lines += DRAFT
    return "\n".join(lines) + "\n"


def model_of(kind: str, *, value: Mapping[str, object]) -> type[Entry]:
    """Return the model of an entry; for a curve, the one that its law asks for."""
    law = value.get("law")
    if kind == "curves" and isinstance(law, str) and law in CURVE_LAWS:
        return CURVE_LAWS[law]
    return KINDS[kind]


def in_order(model: type[Entry], *, value: Mapping[str, object]) -> list[str]:
    """Return the fields of a value: those of the model as people read them, then any others."""
    fields = list(model.model_fields)
    if "law" in fields:
        # A curve's range and tolerance belong beside its law; its long table comes last.
        fields = [name for name in fields if name not in ("points", "fitted_to", "notes")]
        fields += ["fitted_to", "points", "notes"]
    head = ["name", "aka", "source", "checked"]
    fields = [*head, *(name for name in fields if name not in head)]
    return [
        *(name for name in fields if name in value),
        *(name for name in value if name not in fields),
    ]


def _arranged(value: object, *, block: type[BaseModel], field: str) -> object:
    """Return a value with the fields of each block in it as its model has them."""
    info = block.model_fields.get(field)
    inner = inner_block(info.annotation) if info is not None else None
    if inner is None:
        return value
    if isinstance(value, list):
        return [_arranged(item, block=block, field=field) for item in value]
    if not isinstance(value, Mapping):
        return value
    named = [name for name in inner.model_fields if name in value]
    kept = [*named, *(name for name in value if name not in named)]
    return {name: _arranged(value[name], block=inner, field=name) for name in kept}


def choices(model: type[Entry], *, field: str) -> tuple[str, ...]:
    """Return the words that a field chooses among; none for one that is free."""
    info = model.model_fields.get(field)
    return literal_words(info.annotation) if info is not None and field != "law" else ()


def literal_words(annotation: object) -> tuple[str, ...]:
    """Return the words of a `Literal`, also of one that may be left out."""
    if get_origin(annotation) is Literal:
        return tuple(map(str, get_args(annotation)))
    if get_origin(annotation) in (list, dict, tuple):
        return ()
    return next((found for part in get_args(annotation) if (found := literal_words(part))), ())


def _listed(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]


def _heading(model: type[Entry]) -> str:
    doc = (model.__doc__ or "").strip().splitlines()[0]
    # A doc that begins with its noun, as "A part: …", is not said twice; an NTC stays one.
    first = doc[0] if doc[1:2].isupper() else doc[0].lower()
    return f"{with_article(model.noun).capitalize()}: {first}{doc[1:]}"


def with_article(noun: str) -> str:
    """Return a noun as one of its kind: `a sensor`, `an instrument`."""
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"
