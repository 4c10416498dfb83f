"""Dates that are still to come. Only `check` asks: a build must not depend on the clock."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from kb.model import Case, Source
from kb.notes.load import Notes
from kb.notes.problem import Problem


def dates_to_come(notes: Notes, *, today: datetime.date) -> Iterator[Problem]:
    """Warn of each job, measurement or check that is dated later than today."""
    for kind in notes.entries:
        for entry in notes.of_kind(kind).values():
            dated: list[tuple[tuple[str, ...], datetime.date]] = []
            if entry.checked is not None:
                dated.append((("checked", "on"), entry.checked.on))
            if isinstance(entry, Case):
                dated.append((("on",), entry.on))
            if isinstance(entry, Source) and entry.measured is not None:
                dated.append((("measured", "when"), entry.measured.when))
            for path, on in dated:
                if on > today:
                    yield notes.problem(
                        entry,
                        path,
                        "to-come",
                        f"{on.isoformat()} is still to come",
                        hint="look at the year, or at this machine's clock",
                        warning=True,
                    )
