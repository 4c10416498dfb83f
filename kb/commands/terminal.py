"""How an answer stands in a terminal: its width, its paragraphs, its columns, its cautions."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from kb.words.catalogue import cautions, name_of

WIDE = 88
"""Signs in a line that a terminal shows whole."""


def wrapped(text: str, *, lead: str = "", hang: str = "") -> str:
    """Return text in lines that a terminal shows whole."""
    return textwrap.fill(text, WIDE, initial_indent=lead, subsequent_indent=hang)


def paragraphs(parts: Sequence[str]) -> str:
    """Return what is said, an empty line between; what is empty leaves none."""
    return "\n\n".join(part for part in parts if part)


def verdict_line(state: str, *, why: str) -> str:
    """Return the first sentence of an answer: the verdict, and why."""
    return wrapped(f"{name_of('verdict', name=state)}: {why}")


def caution_words(caution_ids: Sequence[str]) -> str:
    """Return the cautions of an answer as a paragraph."""
    return wrapped(" ".join(cautions()[caution_id].words for caution_id in caution_ids))


def aligned(rows: Iterable[tuple[str, str]], *, wide: int = WIDE) -> list[str]:
    """Return `name  value` lines with the values one below the other, long ones broken."""
    rows = list(rows)
    hang = max(len(name) for name, _ in rows) + 2
    return [
        textwrap.fill(value, wide, initial_indent=name.ljust(hang), subsequent_indent=" " * hang)
        for name, value in rows
    ]
