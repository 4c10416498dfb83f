"""A source: the publication, or our own measurement, that a fact comes from."""

from __future__ import annotations

from typing import ClassVar

from pydantic import model_validator

from .entry import Block, Entry
from .field_change import Changes, told_as
from .words import Day, Fault, InstrumentId, Text, Whole


class Measured(Block):
    """Our own measurement."""

    who: Text
    """Initials or role of whoever measured."""
    when: Day
    """Year-month-day."""
    instrument: InstrumentId
    """With which of the team's instruments."""
    how: Text | None = None
    """How it was done, in a sentence."""


class Source(Entry):
    """A publication, or our own measurement."""

    kind: ClassVar[str] = "sources"
    noun: ClassVar[str] = "source"
    list_title: ClassVar[str] = "Sources"
    list_lead: ClassVar[str] = "Where the facts come from."
    home_place: ClassVar[int] = 10
    find_place: ClassVar[int] = 11
    when_unnamed: ClassVar[str | None] = "cite it where its facts stand, or delete it"
    changes: ClassVar[Changes] = told_as(
        "words",
        "title",
        "publisher",
        "edition",
        "year",
        "where",
        "obtained",
        "measured",
        "practice",
    )

    source: None = None  # type: ignore[assignment]  # a source rests on nothing further
    """Not used: a source is where the trail ends."""
    title: Text | None = None
    """The publication's title."""
    publisher: Text | None = None
    """Who published it."""
    edition: Text | None = None
    """Edition, revision or document number."""
    year: Whole | None = None
    """Year of that edition."""
    where: Text | None = None
    """Where to find it, or where in it we read."""
    obtained: Text | None = None
    """How its values reached us: read in the document, through a third party, from memory."""
    measured: Measured | None = None
    """Our own measurement instead of a publication."""
    practice: Text | None = None
    """Common practice of the trade, with no publication to name: say whose."""

    @model_validator(mode="after")
    def _some_origin(self) -> Source:
        origins = [self.title is not None, self.measured is not None, self.practice is not None]
        if sum(origins) != 1:
            raise Fault(
                "a source is a publication (title, publisher), or 'measured', or 'practice': "
                f"one of the three, here {sum(origins)}",
                hint="keep the one that says where its values come from",
            )
        if self.title is not None and self.publisher is None:
            raise Fault(
                "a publication needs its publisher",
                hint="write 'publisher:' and whose data sheet, standard or book it is",
            )
        return self
