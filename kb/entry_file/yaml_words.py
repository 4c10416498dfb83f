"""Write texts, lists and blocks as the YAML that `kb.notes.yaml_text` reads back unchanged."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

FLOW_WIDE = 76
"""A block of short values stands in braces up to this width; beyond it, one line a value."""
ITEM_WIDE = 150
"""The same for an item of a list of blocks, which people read like a row of a table."""
LONG_TEXT = 90
"""An item with a longer text has a line for each value."""
IN_BRACKETS = ("pins", "methods", "families", "drawings", "plate")
"""Lists of ids and marks. In brackets a sentence would be cut at its commas."""
ON_LINES = ("points", "fitted_to", "supply")
"""Blocks that always have a line for each value: people read them as a table."""

_NUMBER = re.compile(r"[+−-]?[\d.,]+[kKMGR]?\d*")
_STARTS_OTHERWISE = re.compile(r"[!&*?|>@`\"'#%,\[\]{}:=~“”„‟‘’‚«»]|-(?:\s|$|-)|\.\.\.|<<")
_ENDS_OTHERWISE = re.compile(r"[:\s]$")
_BREAKS_OFF = re.compile(r":\s|\s#|[\x00-\x1f\x7f\x85\u2028\u2029\ufeff]")
_BREAKS_OFF_INSIDE = re.compile(r"[,\[\]{}?]|:(?=[\s,\[\]{}\"']|$)|#")


def scalar(text: str, *, inside: bool = False) -> str:
    """Return a text as YAML: plain where that reads back the same, else in quotes.

    Parameters
    ----------
    text : str
    inside : bool
        It stands inside brackets or braces, where commas separate.
    """
    plain = bool(text) and not (
        _STARTS_OTHERWISE.match(text)
        or _ENDS_OTHERWISE.search(text)
        or text[0].isspace()
        or _BREAKS_OFF.search(text)
        or (inside and _BREAKS_OFF_INSIDE.search(text))
    )
    if plain:
        return text
    if any(ord(sign) < 32 or sign in "\x7f\x85\u2028\u2029\ufeff" for sign in text):
        return '"' + "".join(map(_escaped, text)) + '"'
    if '"' in text or "\\" in text:
        return "'" + text.replace("'", "''") + "'"
    return f'"{text}"'


def _escaped(sign: str) -> str:
    if sign in '"\\':
        return "\\" + sign
    if sign == "\n":
        return "\\n"
    return f"\\u{ord(sign):04x}" if ord(sign) < 32 or sign in "\x7f\x85\u2028\u2029\ufeff" else sign


def inline(value: object) -> str:
    """Return a value in one line, as it stands inside brackets or braces."""
    if isinstance(value, Mapping):
        pairs = (f"{scalar(str(key), inside=True)}: {inline(v)}" for key, v in value.items())
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(map(inline, value)) + "]"
    return "" if value is None else scalar(str(value), inside=True)


def pair_lines(key: str, *, value: object, indent: int = 0) -> list[str]:
    """Return the lines of `key: value` in an entry's file."""
    lead = " " * indent + scalar(key) + ":"
    if value is None:
        return [lead]
    if isinstance(value, str):
        return [f"{lead} {scalar(value)}"]
    if isinstance(value, Mapping):
        short = f"{lead} {inline(value)}"
        if not value or (key not in ON_LINES and len(short) <= FLOW_WIDE and _flat(value)):
            return [short]
        rows = [pair_lines(str(k), value=v, indent=indent + 2) for k, v in value.items()]
        return [lead, *(line for row in rows for line in row)]
    assert isinstance(value, Sequence)
    short = f"{lead} {inline(value)}"
    if not value or (_marks_only(key, value=value) and len(short) <= FLOW_WIDE):
        return [short]
    return [lead, *(line for item in value for line in item_lines(item, indent=indent))]


def item_lines(item: object, *, indent: int = 0) -> list[str]:
    """Return the lines of an item of a list."""
    lead = " " * indent + "- "
    if isinstance(item, Mapping):
        short = lead + inline(item)
        sentences = any(isinstance(v, str) and len(v) > LONG_TEXT for v in item.values())
        if len(short) <= ITEM_WIDE and not sentences:
            return [short]
        lines = [
            line for k, v in item.items() for line in pair_lines(str(k), value=v, indent=indent + 2)
        ]
        return [lead + lines[0][indent + 2 :], *lines[1:]]
    if isinstance(item, str):
        return [lead + scalar(item)]
    return [lead + inline(item)]


def _flat(value: Mapping[str, object]) -> bool:
    return not any(isinstance(inner, Mapping) for inner in value.values())


def _marks_only(key: str, *, value: Sequence[object]) -> bool:
    """Whether a list holds ids, marks or numbers, and no lines of text."""
    texts = [item for item in value if isinstance(item, str)]
    return len(texts) == len(value) and (key in IN_BRACKETS or all(map(_NUMBER.fullmatch, texts)))
