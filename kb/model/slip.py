"""A slip: somebody at a machine says that an entry is wrong. Only the keeper reads it, in `due`."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, StringConstraints

from .entry import Block
from .words import Day, Fault, Text

SLIPS = "slips"
"""Folder of the slips under `docs_data/`: it holds no kind of entry."""


def _entry(value: object) -> object:
    if isinstance(value, str):
        kind, _, entry_id = value.strip().partition("/")
        if not kind or not entry_id or "/" in entry_id:
            raise Fault(
                f"'{value}' names no entry", hint="write kind/id, such as sensors/roof-coil-out"
            )
    return value


def _filled_in(value: object) -> object:
    """Refuse the dots of a form that nobody has filled in."""
    if isinstance(value, str) and not any(sign.isalnum() for sign in value):
        raise Fault(f"'{value}' says nothing", hint="write it in words, or leave the line out")
    return value


Filled = Annotated[str, StringConstraints(strip_whitespace=True), BeforeValidator(_filled_in)]
"""Text that has a letter or a digit in it."""


class Settled(Block):
    """That the entry was mended, or was right all along."""

    by: Text
    """Initials of whoever settled it."""
    on: Day
    """Year-month-day."""
    how: Text | None = None
    """What was done, or why the entry was right."""


class Slip(Block):
    """One file of `docs_data/slips/`. Its file name is its id."""

    entry: Annotated[str, StringConstraints(strip_whitespace=True), BeforeValidator(_entry)]
    """What it is about: kind and id, such as `sensors/roof-coil-out`."""
    wrong: Filled
    """What is wrong there."""
    better: Filled | None = None
    """What it should be, where it is known."""
    by: Filled
    """Initials of whoever saw it."""
    on: Day
    """When."""
    version: Text | None = None
    """What the page called the entry's text: another one now, and the entry has changed since."""
    release: Text | None = None
    """The release that was read."""
    settled: Settled | None = None
    """Who settled it when: the slip stays, and is due no more."""

    @property
    def about(self) -> tuple[str, str]:
        """The kind and the id of what it is about."""
        kind, _, entry_id = self.entry.partition("/")
        return kind, entry_id
