"""JSON Schema of every kind of entry, so that an editor completes and checks while one types."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from pathlib import Path

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue, models_json_schema
from pydantic_core.core_schema import BeforeValidatorFunctionSchema

from kb.model import CURVE_LAWS, KINDS, SLIPS, ReleaseNote, Slip, Team
from kb.model.field_docs import described_in_schemas
from kb.model.words import ID_PATTERN, REF_MARK
from kb.notes.folder import DATA, entry_files
from kb.notes.load import NO_ID, RELEASE_FILE, TEAM_FILE

DIALECT = "http://json-schema.org/draft-07/schema#"
SINGLE: dict[str, tuple[type[BaseModel], str]] = {
    "team": (Team, TEAM_FILE),
    "release": (ReleaseNote, RELEASE_FILE),
    SLIPS: (Slip, f"{DATA}/{SLIPS}/**/*.yaml"),
}
"""What is no kind of entry: what it may say, and in which file or files it stands."""
NAMES = (*KINDS, *SINGLE)
"""What there is a schema of: every kind, the team's own file, and the release's."""


IN_DRAFT_07 = {
    "gt": "exclusiveMinimum",
    "ge": "minimum",
    "lt": "exclusiveMaximum",
    "le": "maximum",
    "prefixItems": "items",
}
"""What the models' own schema calls a limit behind a reader of text, or a list of fixed length.

A figure in words, such as 10k, is held to no limit by JSON Schema: only a bare number is.
"""
OF_ROWS = {"minItems": "minProperties", "maxItems": "maxProperties"}
"""Rows are a list in the model and a block in the file."""
LIMITS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")


class _Limited(GenerateJsonSchema):
    """Keep the limits of a number that is read from text; else only the text's form would stay."""

    def function_before_schema(self, schema: BeforeValidatorFunctionSchema) -> JsonSchemaValue:
        text, value = super().function_before_schema(schema), self.generate_inner(schema["schema"])
        return {**text, **{word: value[word] for word in LIMITS if word in value}}


Ids = Mapping[str, Sequence[str]]
"""The ids that there are, by kind."""


def ids_in(notes: Path) -> dict[str, list[str]]:
    """Return every id of the notes by kind: a file's name is its id, whatever stands in it."""
    return {
        kind: sorted(
            {
                path.stem
                for path in entry_files(notes, kind)
                if path.stem != NO_ID and re.fullmatch(ID_PATTERN, path.stem)
            }
        )
        for kind in KINDS
    }


def schema_of(name: str, *, ids: Ids | None = None) -> dict[str, object]:
    """Return the schema of a kind, or of a file of its own.

    Parameters
    ----------
    name : str
        One of NAMES.
    ids : mapping, optional
        The ids that there are, by kind: a field that names an entry then offers them.

    Notes
    -----
    The files are read as text, whatever an editor takes a word for: so wherever text may stand,
    the schema lets a number or a yes/no stand unquoted too.
    """
    return _walked_block(_without_ids(name), lambda block: _loosened(block, ids))


@cache
def _without_ids(name: str) -> dict[str, object]:
    """Return what a kind's models say, which no entry changes: `serve` asks after each save."""
    described_in_schemas()
    models: list[type[BaseModel]] = (
        list(CURVE_LAWS.values())
        if name == "curves"
        else [SINGLE[name][0] if name in SINGLE else KINDS[name]]
    )
    _, made = models_json_schema(
        [(model, "validation") for model in models], schema_generator=_Limited
    )
    blocks = {block: _without_unwritten(schema) for block, schema in made["$defs"].items()}
    schema: dict[str, object] = {"$schema": DIALECT, "title": f"{DATA}: {name}"}
    schema |= _by_law() if name == "curves" else {"$ref": f"#/definitions/{models[0].__name__}"}
    schema["definitions"] = blocks
    return schema


def _by_law() -> dict[str, object]:
    """Choose among the laws' fields by the word in `law`, so that a fault is told for that law."""
    return {
        "type": "object",
        "required": ["law"],
        "properties": {"law": {"enum": list(CURVE_LAWS)}},
        "allOf": [
            {
                "if": {"properties": {"law": {"const": law}}, "required": ["law"]},
                "then": {"$ref": f"#/definitions/{model.__name__}"},
            }
            for law, model in CURVE_LAWS.items()
        ],
    }


def _without_unwritten(schema: dict) -> dict:
    """Take out what no file holds: the id, and a field that is not used in this kind."""
    if schema.get("type") != "object" or "properties" not in schema:
        return schema
    # A block that cites a source has an id that is written; an entry's own is its file's name.
    entry = "name" in schema["properties"]
    kept = {
        field: inner
        for field, inner in schema["properties"].items()
        if not (entry and field == "id") and inner.get("type") != "null"
    }
    required = [field for field in schema.get("required", []) if field in kept]
    return {**schema, "properties": kept, **({"required": required} if required else {})}


def _walked(schema: object, change: Callable[[dict], dict]) -> object:
    """Return the schema with every part of it changed, the innermost first."""
    if isinstance(schema, dict):
        return _walked_block(schema, change)
    if isinstance(schema, list):
        return [_walked(item, change) for item in schema]
    return schema


def _walked_block(schema: dict, change: Callable[[dict], dict]) -> dict:
    return change(
        {
            # These two hold schemas by name: a field may well be called `title` or `default`.
            key: {name: _walked(part, change) for name, part in inner.items()}
            if key in ("properties", "definitions")
            else _walked(inner, change)
            for key, inner in schema.items()
        }
    )


def _loosened(schema: dict, ids: Ids | None) -> dict:
    """Accept what the loader accepts: unquoted numbers for text, ids that there are."""
    words = IN_DRAFT_07 | (OF_ROWS if schema.get("type") == "object" else {})
    schema = {
        words.get(key, key): inner
        for key, inner in schema.items()
        if key not in ("title", "default")
    }
    if isinstance(schema.get("$ref"), str):
        schema["$ref"] = schema["$ref"].replace("#/$defs/", "#/definitions/")
    kind = schema.pop(REF_MARK, None)
    if kind is not None:
        known = ids[kind] if ids is not None else []
        if known:
            schema.pop("type", None)
            return {**schema, "enum": [*known, *_unquoted(known)]}
        return {**schema, "type": ["string", "number"]}
    if "const" in schema:
        schema["enum"] = [schema.pop("const")]
    if isinstance(schema.get("enum"), list):
        schema.pop("type", None)
        return {**schema, "enum": [*schema["enum"], *_unquoted(schema["enum"])]}
    # A pattern other than an id's is of a figure, and a number unquoted is allowed beside it.
    figure = schema.get("pattern") not in (None, f"^{ID_PATTERN}$")
    if schema.get("type") == "string" and "format" not in schema and not figure:
        return {**schema, "type": ["string", "number", "boolean"]}
    return schema


def _unquoted(words: Iterable[object]) -> list[object]:
    """Return the words that YAML takes for numbers or booleans when they stand unquoted."""
    words = list(words)
    found: list[object] = []
    for word in words:
        if isinstance(word, str) and re.fullmatch(r"-?\d+(\.\d+)?", word):
            found.append(float(word) if "." in word else int(word))
        elif word in ("true", "false"):
            found.append(word == "true")
    return [word for word in found if word not in words]
