"""What is worked out of entries for what gathers all of them, kept from build to build.

The index of Find, the practice machine and the second reader's page go through every entry. What
each of them takes from one entry is a piece: plain JSON, which stands while what it was worked out
from is what it was. A piece is worked out anew in the same way, so it never differs.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, TypeVar, cast

from kb.catalog import Catalog
from kb.model import Entry

from .answers import Answers, States, sum_of
from .traced_catalog import TracedCatalog

V = TypeVar("V")
Piece = tuple[Any, Any]
"""What it was worked out from, as a text or as questions that were asked; and what it is."""


class WorkedOut:
    """The pieces of one build; one without states remembers nothing and keeps nothing.

    Parameters
    ----------
    states : States, optional
        What the notes are now.
    kept : mapping of name → Piece
        Those of an earlier build.
    """

    def __init__(
        self, states: States | None = None, *, kept: Mapping[str, Piece] | None = None
    ) -> None:
        self.answers: Answers | None = None
        """What the notes answer now, once it was held against what they answered then."""
        self.now: dict[str, Piece] = {}
        """The pieces that were asked for, by name."""
        self._states, self._kept = states, kept or {}

    def of_entry(self, name: str, entry: str, *, make: Callable[[], V], beside: str = "") -> V:
        """Return what is worked out of one entry alone.

        Parameters
        ----------
        name : str
            What it is.
        entry : str
            The entry as `kind/id`.
        make : callable
            Works it out; returns nothing that JSON would give back otherwise.
        beside : str
            What it is worked out from besides.
        """
        if self._states is None:
            return make()
        made_from, name = f"{self._states[entry]} {beside}", f"{name} {entry}"
        known = self.now.get(name) or self._kept.get(name)
        if known is None or known[0] != made_from:
            known = made_from, make()
        self.now[name] = known
        return cast(V, known[1])

    def of_questions(self, name: str, catalog: Catalog, *, make: Callable[[Catalog], V]) -> V:
        """Return what is worked out of nothing but what a catalog answers."""
        if self.answers is None:
            return make(catalog)
        known = self.now.get(name) or self._kept.get(name)
        if known is None or not self.answers.stand(known[0]):
            traced = TracedCatalog(catalog)
            value = make(cast(Catalog, traced))
            asked = traced.questions
            if asked is None or None in map(self.answers.to, asked):
                return value
            known = asked, value
        self.now[name] = known
        return cast(V, known[1])


@dataclass(frozen=True)
class KeepingCatalog(Catalog):
    """A catalog that remembers which terms stand in which entry."""

    worked: WorkedOut = field(default_factory=WorkedOut, compare=False, repr=False)

    def terms_in(self, entry: Entry) -> Iterable[str]:
        """Return the terms that stand in an entry's words, each once."""
        return self.worked.of_entry(
            "terms",
            f"{entry.kind}/{entry.id}",
            make=lambda: sorted(super(KeepingCatalog, self).terms_in(entry)),
            beside=self._forms_sum,
        )

    @cached_property
    def _forms_sum(self) -> str:
        return sum_of(json.dumps([*self.all_terms.items()]))
