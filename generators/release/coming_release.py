"""What earlier releases mean for this one: its number, and what changed since each of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..site_context import SiteContext
from .changes import Change, counts, tell_changes
from .head import Head, make_head
from .history import Record, earlier
from .snapshot import Snapshot, take_snapshot


@dataclass(frozen=True)
class Coming:
    """The release that is being made, before its files are there."""

    context: SiteContext
    notes: Snapshot
    history: list[Record]
    """Everything remembered, this release itself included when it was published already."""
    pages: int

    @cached_property
    def before(self) -> list[Record]:
        """The releases before this one, oldest first."""
        told = self.context.notes.release
        return earlier(self.history, self.notes, number=told.number if told else None)

    @cached_property
    def changes(self) -> dict[str, list[Change]]:
        """Name of an earlier release → what changed since it."""
        return {one.name: tell_changes(one.notes, self.notes) for one in self.before}

    @cached_property
    def head(self) -> Head:
        """What the release says of itself."""
        return make_head(
            self.context.notes,
            pages=self.pages,
            highest_number=max((one.number for one in self.before), default=0),
            since={name: counts(told) for name, told in self.changes.items()},
        )


def coming_release(context: SiteContext, history: list[Record], *, pages: int) -> Coming:
    """Return the release that these notes become, given what was published before."""
    return Coming(context=context, notes=take_snapshot(context), history=history, pages=pages)
