"""What earlier releases mean for this one: its number, and what changed since each of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from kb.release_format.head import Head
from kb.release_format.record import Record, Snapshot
from kb.snapshot import take_snapshot

from ..site_context import SiteContext
from .changes import Change, counts, tell_changes
from .head import make_head
from .history import earlier


@dataclass(frozen=True)
class Coming:
    """The release that is being made, before its files are there."""

    context: SiteContext
    notes: Snapshot
    history: list[Record]
    """Everything remembered, this release itself included when it was published already."""
    pages: int
    after: int = 0
    """A number that was published elsewhere, of which no record is here."""

    @cached_property
    def before(self) -> list[Record]:
        """The releases before this one, oldest first."""
        keeper = self.context.notes.release
        return earlier(self.history, notes=self.notes, number=keeper.number if keeper else None)

    @cached_property
    def changes(self) -> dict[str, list[Change]]:
        """Name of an earlier release → what changed since it, in the language in force.

        A record keeps what the notes said as values, and no sentence of ours: since every earlier
        release all is told anew, whatever that one spoke. What its keeper wrote of it, title and
        words, stays as it was written.
        """
        return {record.name: tell_changes(record.notes, new=self.notes) for record in self.before}

    @cached_property
    def head(self) -> Head:
        """What the release says of itself."""
        return make_head(
            self.context.catalog,
            pages=self.pages,
            highest_number=max([self.after, *(record.number for record in self.before)]),
            since={name: counts(changes) for name, changes in self.changes.items()},
        )


def coming_release(
    context: SiteContext, *, history: list[Record], pages: int, after: int = 0
) -> Coming:
    """Return the release that these notes become, given what was published before."""
    notes = take_snapshot(context.catalog)
    return Coming(context=context, notes=notes, history=history, pages=pages, after=after)
