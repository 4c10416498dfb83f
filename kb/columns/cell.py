"""One cell: from what stands in a sheet to a field's value, and back."""

from __future__ import annotations

import re
from collections.abc import Mapping

from kb.entry_file.yaml_words import inline
from kb.model.words import ID_PATTERN

from .column import Column

TAKE_OUT = "-"
"""A cell with this takes a field out; an empty one changes nothing."""
BETWEEN_LINES = " | "
"""Between the lines of a list in one cell; a line break in the cell does the same."""

_DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+")


class CellFault(ValueError):
    """What is wrong with a cell, and what would work."""

    def __init__(self, message: str, *, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def value_of(text: str, *, column: Column) -> object:
    """Return what a cell says, as an entry's file says it.

    Raises
    ------
    CellFault
        When the cell cannot be of its column.
    """
    text = text.replace("\u00a0", " ").strip()
    match column.holds:
        case "lines":
            return _lines(text)
        case "ids":
            return [part for part in re.split(r"[\s,;|/]+", text) if part]
        case "source":
            return _source(text)
        case "pairs":
            return _pairs(text)
        case "pins":
            return _pins(text)
        case "choice":
            return _choice(text, column=column)
    return _plain_text(text)


def _lines(text: str) -> list[str]:
    parts = re.split(r"\s*\n\s*|\s+\|\s+", text)
    return [" ".join(part.split()) for part in parts if part.strip()]


def _plain_text(text: str) -> str:
    text = " ".join(text.split())
    if _number_like(text):
        text = text.replace("−", "-")
    # A decimal comma inside brackets would separate two values.
    return text.replace(",", ".") if _DECIMAL_COMMA.fullmatch(text) else text


def _number_like(text: str) -> bool:
    return re.fullmatch(r"\s*[−+-]?\d[\d.,]*\s*", text) is not None


def _source(text: str) -> object:
    """Read `id`, `id, page 4`, and several of them with a bar between."""
    cites: list[object] = []
    for part in _lines(text):
        found = re.fullmatch(rf"({ID_PATTERN})(?:\s*[,:]\s*(?P<at>.+))?", part)
        if found is None:
            raise CellFault(
                f"'{part}' is no source's id",
                hint="write the id, or the id, a comma and the place: maker-sheet, page 4",
            )
        cites.append({"id": found[1], "at": found["at"]} if found["at"] else found[1])
    return cites[0] if len(cites) == 1 else cites


def _pairs(text: str) -> dict[str, str]:
    """Read `U-V: 3.2 | V-W: 3.2`; `=` and `;` do as well."""
    pairs: dict[str, str] = {}
    for part in re.split(r"\s*[|;\n]\s*", text):
        found = re.fullmatch(r"([^=:]+?)\s*[=:]\s*(.+)", part)
        if found is None:
            raise CellFault(f"'{part}' is no pair and its value", hint="write U-V: 3.2 | V-W: 3.2")
        pairs[found[1]] = _plain_text(found[2])
    return pairs


def _pins(text: str) -> dict[str, dict[str, str]]:
    """Read `T1: 28 40 On the pipe | CN1: 66 36 Foot of the board`."""
    pins: dict[str, dict[str, str]] = {}
    for part in _lines(text):
        found = re.fullmatch(r"([^:]+?)\s*:\s*([\d.,]+)[\s;]+([\d.,]+)\s+(.+)", part)
        if found is None:
            hint = "write its name, percent from the left, from the top, and words: T1: 28 40 Low."
            raise CellFault(f"'{part}' is no pin", hint=hint)
        x, y = _plain_text(found[2]), _plain_text(found[3])
        pins[found[1]] = {"x": x, "y": y, "where": found[4]}
    return pins


def _choice(text: str, *, column: Column) -> str:
    """Return the word that is meant, however its letters stand."""
    plain = " ".join(re.sub(r"[_-]+", " ", text).casefold().split())
    for word in column.choices:
        if plain == " ".join(re.sub(r"[_-]+", " ", word).casefold().split()):
            return word
    if column.choices == ("yes", "no"):
        return {"y": "yes", "true": "yes", "x": "yes", "n": "no", "false": "no"}.get(plain, text)
    return text


def cell_of(value: object, *, column: Column) -> str:
    """Return what stands in a cell for a field's value: what `value_of` reads back."""
    if value is None:
        return ""
    match column.holds:
        case "lines":
            return BETWEEN_LINES.join(_listed(value))
        case "ids":
            return ", ".join(_listed(value))
        case "source":
            return BETWEEN_LINES.join(map(_cite, value if isinstance(value, list) else [value]))
        case "pins" if isinstance(value, Mapping):
            return BETWEEN_LINES.join(
                f"{name}: {pin['x']} {pin['y']} {pin['where']}" for name, pin in value.items()
            )
        case "pairs" if isinstance(value, Mapping):
            return BETWEEN_LINES.join(f"{name}: {ohms}" for name, ohms in value.items())
    return value if isinstance(value, str) else inline(value)


def _cite(cite: object) -> str:
    if isinstance(cite, Mapping):
        return ", ".join(str(cite[key]) for key in ("id", "at") if cite.get(key))
    return str(cite)


def _listed(value: object) -> list[str]:
    return [str(item) for item in value] if isinstance(value, list) else [str(value)]


def same(value: object, *, other: object, column: Column) -> bool:
    """Return whether two values say the same in a cell: then the file stays as it is written."""
    return cell_of(value, column=column) == cell_of(other, column=column)
