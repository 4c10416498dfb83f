"""Dates that are still to come: a year that is mistyped would keep a phone from calling itself old.

Only `check` and what publishes ask: what a build makes must not depend on the clock.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from kb.model import Case, Entry, Source
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import Path

from .kept_notes import KeptNotes

TO_COME = "to-come"
_HINT = "look at the year, or at this machine's clock"


def dates_to_come(notes: Notes, *, today: datetime.date) -> Iterator[Problem]:
    """Warn of each job, measurement, check or release that is dated later than today."""
    for entry in _perhaps_later(notes, today):
        for path, on in _dated(entry):
            if on > today:
                yield notes.problem(entry, path, TO_COME, _still(on), hint=_HINT, warning=True)
    if notes.release is not None and notes.release_text is not None and notes.release.date > today:
        message = _still(notes.release.date)
        yield notes.release_text.problem(("date",), TO_COME, message, hint=_HINT, warning=True)


def years_to_come(notes: Notes, *, today: datetime.date) -> Iterator[Problem]:
    """Warn of each publication that is said to be of a year to come."""
    for source in _perhaps_later(notes, today):
        if not isinstance(source, Source):
            continue
        if source.year is not None and source.year > today.year:
            yield notes.problem(
                source,
                ("year",),
                "year-to-come",
                f"{source.year} is still to come",
                hint=_HINT,
                warning=True,
            )


def _perhaps_later(notes: Notes, today: datetime.date) -> Iterator[Entry]:
    """Yield the entries that may name a later day: of notes that are kept, no others are read."""
    if isinstance(notes, KeptNotes):
        for (kind, entry_id), outline in notes.outlines.items():
            if outline.last_day > today.isoformat():
                yield notes.of_kind(kind)[entry_id]
        return
    for kind in notes.entries:
        yield from notes.of_kind(kind).values()


def _still(on: datetime.date) -> str:
    return f"{on.isoformat()} is still to come, and a phone would never call its copy old"


def _dated(entry: Entry) -> Iterator[tuple[Path, datetime.date]]:
    if entry.checked is not None:
        yield ("checked", "on"), entry.checked.on
    if isinstance(entry, Case):
        yield ("on",), entry.on
    if isinstance(entry, Source) and entry.measured is not None:
        yield ("measured", "when"), entry.measured.when
