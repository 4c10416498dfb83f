"""A decimal comma inside brackets: there a comma separates, and 2,5 becomes two values."""

from __future__ import annotations

import itertools
import re

from .yaml_text import Path, YamlText

_WHOLE = re.compile(r"[+−-]?\d+")
_PART = re.compile(r"\d+ ?[kKMGRΩ%°CF]*")


def decimal_comma(read: YamlText, *, path: Path) -> str:
    """Return the hint for a value that a decimal comma tore in two; empty when none did.

    Parameters
    ----------
    read : YamlText
        The file.
    path : tuple
        A list with too many values, or the key that the second half became.
    """
    place = read.place(path, key=True)
    line = read.lines[place.line - 1] if 0 < place.line <= len(read.lines) else ""
    value = read.at(path)
    if isinstance(value, list):
        halves = [half if isinstance(half, str) else "" for half in value]
        pairs = list(itertools.pairwise(halves))
    else:
        block = read.at(path[:-1])
        if value is not None or not isinstance(block, dict) or path[-1] not in block:
            return ""
        keys = list(block)
        at = keys.index(path[-1])
        before = block[keys[at - 1]] if at else None
        pairs = [(before if isinstance(before, str) else "", str(path[-1]))]
    for whole, part in pairs:
        if _WHOLE.fullmatch(whole) and _PART.fullmatch(part) and f"{whole},{part}" in line:
            return f"inside brackets a comma separates: write {whole}.{part}"
    return ""
