"""Find the tags in a page as it was written, each at its place, in one pass over the text."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass

from kb.allowed_html import LINK

# A browser ends a tag's name, and parts its attributes, at a stroke as at a blank.
_NAME = re.compile(r"</?([a-zA-Z][^\s/<>]*+)")
_BETWEEN = re.compile(r"[\s/]*+")
_ATTRIBUTE = re.compile(r"([^\s/<>=][^\s/<>=]*+)(?:\s*+(=)\s*+)?")
_PLAIN = re.compile(r"[^\s<>]*+")


@dataclass(frozen=True)
class SourceAttribute:
    """One attribute as written, its value as a browser reads it."""

    name: str
    value: str
    at: int


@dataclass(frozen=True)
class SourceTag:
    """One tag as written; its name in small letters."""

    name: str
    attributes: tuple[SourceAttribute, ...]
    at: int
    closes: bool


def source_tags(text: str) -> Iterator[SourceTag]:
    """Yield every tag of a text; what never ends, or holds another's beginning, is none.

    Nothing is read more than twice, whatever the text: a page may be hostile.
    """
    at = text.find("<")
    while at >= 0:
        end = at + 1
        link = LINK.match(text, at)
        name = None if link else _NAME.match(text, at)
        if link:
            end = link.end()
        elif name:
            read = _attributes(text, name.end())
            if read is not None:
                found, end = read
                yield SourceTag(name[1].lower(), found, at, text[at + 1] == "/")
        at = text.find("<", end)


def _attributes(text: str, at: int) -> tuple[tuple[SourceAttribute, ...], int] | None:
    """Return the attributes from `at` on and where their tag ends; None where it does not."""
    found: list[SourceAttribute] = []
    while True:
        between = _BETWEEN.match(text, at)
        at = between.end() if between else at
        if text[at : at + 1] == ">":
            return tuple(found), at + 1
        written = _ATTRIBUTE.match(text, at)
        if written is None:
            return None
        begin, at, value = at, written.end(), ""
        if written[2] and text[at : at + 1] in ('"', "'"):
            end = text.find(text[at], at + 1)
            if end < 0:
                return None
            value, at = text[at + 1 : end], end + 1
        elif written[2]:
            plain = _PLAIN.match(text, at)
            value, at = (plain[0], plain.end()) if plain else ("", at)
        found.append(SourceAttribute(written[1].lower(), html.unescape(value), begin))
