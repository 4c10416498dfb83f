"""Every field and word of choice that notes of any version could say: none of them may go.

When the middle number of the version moves, `python -m tests.kept_fields` adds what came since.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from kb.model import KINDS
from kb.model.release import ReleaseNote
from kb.model.slip import Slip
from kb.model.team import Team

LIST = Path(__file__).resolve().parent / "data/old/fields.txt"


def kept_fields() -> set[str]:
    """Return what is kept: `kind.field.field`, with `=word` for a word of choice."""
    lines = LIST.read_text(encoding="utf-8").splitlines()
    return {line for line in lines if not line.startswith("#")}


def fields_of_today() -> set[str]:
    """Return what notes may say today."""
    found: set[str] = set()
    files = {"team": Team, "release": ReleaseNote, "slips": Slip}
    for kind, model in {**KINDS, **files}.items():
        for each in (model, *_below(model)):
            schema = TypeAdapter(each).json_schema()
            found |= set(_said(schema, definitions=schema.get("$defs", {}), place=kind, within=()))
    return found


def _below(model: type) -> Iterator[type]:
    for each in model.__subclasses__():
        yield each
        yield from _below(each)


def _said(
    schema: dict[str, Any], *, definitions: dict[str, Any], place: str, within: tuple[str, ...]
) -> Iterator[str]:
    def inside(part: dict[str, Any], *, at: str = place) -> Iterator[str]:
        return _said(part, definitions=definitions, place=at, within=within)

    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        if name not in within:
            within = (*within, name)
            yield from inside(definitions[name])
        return
    for part in [*schema.get("anyOf", ()), *schema.get("oneOf", ()), *schema.get("allOf", ())]:
        yield from inside(part)
    words = schema.get("enum", [schema["const"]] if "const" in schema else [])
    yield from (f"{place}={word}" for word in words)
    if isinstance(schema.get("items"), dict):
        yield from inside(schema["items"])
    if isinstance(schema.get("additionalProperties"), dict):
        yield from inside(schema["additionalProperties"], at=f"{place}.*")
    for field, part in schema.get("properties", {}).items():
        yield f"{place}.{field}"
        yield from inside(part, at=f"{place}.{field}")


def main() -> None:
    """Add what came since the list was written."""
    head = "# What notes could say since 0.1.0. Only ever longer: python -m tests.kept_fields\n"
    LIST.write_text(head + "\n".join(sorted(kept_fields() | fields_of_today())) + "\n", "utf-8")


if __name__ == "__main__":
    main()
