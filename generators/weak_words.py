"""Statements that say of themselves that they rest on memory or on practice."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, partial
from pathlib import Path

from kb.model import KINDS, Entry
from kb.words.catalogue import PLACEHOLDER, languages, words, words_of

from .site_context import SiteContext

_MARKS = "weak"
"""Section of the catalogue: what a statement says of itself where nobody read a publication."""
_LISTED_APART = ("caution", "stop", "source-page", _MARKS)
"""Sections whose entries carry a source of their own, what a page says of a source, the marks."""


@cache
def _marks() -> tuple[str, ...]:
    """Return the marks of every language: notes may be older than the language of their site."""
    sections = (words_of(language)[_MARKS] for language in languages())
    return tuple(str(mark).casefold() for section in sections for mark in section.values())


def is_marked(text: str) -> bool:
    """Return whether a text says, in any language, that it rests on memory or on practice."""
    return any(mark in text.casefold() for mark in _marks())


def marked_in_entries(context: SiteContext) -> dict[str, list[Entry]]:
    """Return each marked text of the notes, and the entries that say it, kind by kind."""
    found: dict[str, list[Entry]] = {}
    for kind in KINDS:
        for entry_id, entry in context.notes.of_kind(kind).items():
            marked = context.worked.of_entry(
                "weak", f"{kind}/{entry_id}", make=partial(_marked_in, entry)
            )
            for text in marked:
                found.setdefault(text, []).append(entry)
    return found


def _marked_in(entry: Entry) -> list[str]:
    return [*filter(is_marked, _texts(entry.model_dump(exclude={"name", "aka"})))]


def marked_in_pages(pages: Mapping[str, Path]) -> Iterator[tuple[str, str]]:
    """Yield each marked paragraph of the hand-written pages: (page's name, text)."""
    for name, path in pages.items():
        for paragraph in re.split(r"\n\s*\n", path.read_text(encoding="utf-8")):
            text = " ".join(paragraph.split())
            if is_marked(text):
                yield name, text


def marked_in_catalogue() -> Iterator[str]:
    """Yield what the program itself says with such a mark; what is filled in stands as dots."""
    for section, entries in words().items():
        if section not in _LISTED_APART:
            for text in filter(is_marked, _texts(entries)):
                yield PLACEHOLDER.sub("…", text)


def _texts(value: object) -> Iterator[str]:
    """Yield every text in a value of texts, lists and mappings."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, Sequence):
        for inner in value:
            yield from _texts(inner)
