"""Slips of the team: each is about an entry that there is, and names nobody."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import KINDS
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest

from .people import named_in


def slips_name_an_entry(notes: Notes) -> Iterator[Problem]:
    """Warn of each open slip about an entry that is gone: `due` has no place to show it."""
    for file, slip in notes.slips.items():
        kind, entry_id = slip.about
        if slip.settled is not None or (kind in KINDS and notes.knows(kind, entry_id)):
            continue
        if kind in KINDS:
            message = f"there is no {KINDS[kind].noun} '{entry_id}'"
            hint = nearest(entry_id, notes.ids(kind))
        else:
            message, hint = f"there is no kind '{kind}'", nearest(kind, KINDS)
        yield notes.slip_texts[file].problem(
            ("entry",), "unknown-entry", message, hint=hint, warning=True
        )


def slips_name_nobody(notes: Notes) -> Iterator[Problem]:
    """Yield what must not be kept of anybody: addresses, telephone numbers, people."""
    for file in notes.slips:
        yield from named_in(
            notes.slip_texts[file],
            why="a slip is about an entry alone",
            hint="take it out; whoever saw it is named by initials",
        )
