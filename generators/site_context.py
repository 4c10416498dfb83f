"""What a page maker is handed: the catalog of the notes, and the ways from its page to others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import TypeVar

from kb.answers.drill_notes import DrillNotes
from kb.catalog import Catalog, shown_name
from kb.drill_facts import drill_notes
from kb.due import Due, waiting_as_built
from kb.model import Entry
from kb.notes.load import Notes

from .html import Child, Html, el, join
from .worked_out import WorkedOut

E = TypeVar("E", bound=Entry)


@dataclass(frozen=True)
class SiteContext:
    """The notes of a site in the making. `root` leads from the page to the site's root."""

    catalog: Catalog
    """Every look-up between entries."""
    root: str = "../"
    worked: WorkedOut = field(default_factory=WorkedOut, compare=False, repr=False)
    """What was worked out of each entry, in this build or in one before."""
    _drills: list[DrillNotes] = field(default_factory=list, compare=False, repr=False)
    _waiting: list[list[Due]] = field(default_factory=list, compare=False, repr=False)

    @property
    def notes(self) -> Notes:
        """The notes as loaded."""
        return self.catalog.notes

    @property
    def waiting(self) -> list[Due]:
        """What is due as a build sees it, worked out once for its page and its count."""
        if not self._waiting:
            self._waiting.append(waiting_as_built(self.catalog))
        return self._waiting[0]

    @property
    def drills(self) -> DrillNotes:
        """What drills are made from, gathered once for their page and their script."""
        if not self._drills:
            self._drills.append(drill_notes(self.catalog))
        return self._drills[0]

    def at_root(self) -> SiteContext:
        """Return the same context for pages that stand at the site's root."""
        return replace(self, root="")

    def href(self, entry: Entry) -> str:
        """Return the way from the page to an entry's page."""
        return self.root + entry.href

    def link(self, entry: Entry, text: Child = None) -> Html:
        """Return a link to an entry, by its own name unless other words are given."""
        return el("a", text or shown_name(entry), href=self.href(entry))

    def links(self, entries: Iterable[Entry]) -> Html:
        """Return links with commas between them."""
        return join([self.link(entry) for entry in entries], ", ")

    def link_to(self, model: type[E], entry_id: str, text: Child = None) -> Html:
        """Return a link by kind and id."""
        return self.link(self.catalog.get(model, entry_id), text)
