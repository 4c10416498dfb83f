"""The release: the number, the date and the words that the keeper gives to what is published."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from .entry import Block
from .off_page import OffPage
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
    offline: Annotated[
        YesNo, OffPage("With a no there is nothing to read: each phone lets its copy go.")
    ] = True
    """No lets every phone go: it deletes its copy and reads from the host until this is yes."""
    may_be_published: Annotated[
        Lines,
        OffPage("The guard of `ohmfolio pack` reads it; the texts stand where they are used."),
    ] = []
    """Exact texts that look private and are not, such as the office's own number."""
