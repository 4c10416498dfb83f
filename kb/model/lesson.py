"""A lesson: pages to read in order, and drills to do."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field

from .entry import Block, Entry
from .field_change import Changes, told_as
from .words import Lines, Number, Text


class Read(Block):
    """A page to read."""

    entry: Text
    """`kind/id`, such as `methods/ice-water`, or a hand-written page's name."""
    why: Text
    """What to take from it."""


class Drill(Block):
    """A question with its answer."""

    ask: Text
    """The question."""
    answer: Text
    """Its answer."""
    because: Text | None = None
    """Why it is so."""


class Lesson(Entry):
    """Pages to read in order, and drills to do."""

    kind: ClassVar[str] = "lessons"
    noun: ClassVar[str] = "lesson"
    list_title: ClassVar[str] = "Learn"
    list_lead: ClassVar[str] = "For whoever starts here."
    home_place: ClassVar[int] = 11
    find_place: ClassVar[int] = 10
    when_unnamed: ClassVar[str | None] = None
    changes: ClassVar[Changes] = told_as(
        "words", "order", "minutes", "about", "read", "drills", "cautions"
    )

    order: Number = Field(gt=0)
    """Its place in Learn."""
    minutes: Number = Field(gt=0)
    """How long it takes."""
    about: Text
    """What a new starter can do afterwards."""
    read: list[Read] = Field(min_length=1)
    """Pages, in order."""
    drills: list[Drill] = []
    """Questions to answer before looking."""
    cautions: Lines = []
    """What can hurt on the way."""
