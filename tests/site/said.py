"""Every statement of an answer in words, as the page's harness lists them."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping

from kb.answers.statement import Statement
from kb.words.phrase import Voice, phrase


def said(answer: object, *, unit: str = "C", digits: int = 4) -> list[str]:
    """Return the statements anywhere in an answer, in words and sorted."""
    voice = Voice(unit=unit, digits=digits)
    return sorted(phrase(statement, voice=voice) for statement in _statements(answer))


def _statements(value: object) -> Iterator[Statement]:
    if isinstance(value, Statement):
        yield value
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from _statements(getattr(value, field.name))
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _statements(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _statements(inner)
