"""A term of the trade or of a standard: what it means, in a sentence first."""

from __future__ import annotations

from typing import ClassVar

from .entry import Entry
from .field_change import Changes, told_as
from .words import Lines, TermId, Text


class Term(Entry):
    """What a word means: of the trade, or of a standard."""

    kind: ClassVar[str] = "terms"
    noun: ClassVar[str] = "term"
    list_title: ClassVar[str] = "Glossary"
    list_lead: ClassVar[str] = "What the words mean."
    home_place: ClassVar[int] = 12
    find_place: ClassVar[int] = 12
    when_unnamed: ClassVar[str | None] = None
    changes: ClassVar[Changes] = told_as(
        "words", means="what it means", more="more of it", see="what to see too"
    )

    means: Text
    """What it means, in one sentence."""
    more: Lines = []
    """More of it, a paragraph each line."""
    see: list[TermId] = []
    """Terms that belong to it."""

    @property
    def forms(self) -> tuple[str, ...]:
        """What is looked for in the words of pages: its name, and what it is also called."""
        return (self.name, *self.aka)
