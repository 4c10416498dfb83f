"""The release: the number, the date and the words that the keeper gives to what is published."""

from __future__ import annotations

from pydantic import Field

from .entry import Block
from .words import Day, Lines, Text, Whole, YesNo


class ReleaseNote(Block):
    """`docs_data/release.yaml`: one file, changed each time before `ohmfolio pack`."""

    number: Whole = Field(ge=1)
    """One more than the last published one; a phone never goes back to a lower number."""
    date: Day
    """The day it counts from: a phone's copy is as old as this, until a check says otherwise."""
    title: Text | None = None
    """A few words for this release."""
    words: Lines = []
    """What the keeper wants everyone to know; stands above what the program noticed."""
    offline: YesNo = True
    """No lets every phone go: it deletes its copy and reads from the host until this is yes."""
    may_be_published: Lines = []
    """Exact texts that look private and are not, such as the office's own number."""
