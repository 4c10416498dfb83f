"""What the rules over all entries ask of each: kept, it answers for an entry that is not read."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kb.made_pages import case_photo_path, drawing_photo_path
from kb.model import Case, Drawing, Entry, Lesson, Source
from kb.model.shape import references

Key = tuple[str, str]
"""Kind and id of an entry."""


class Outline(NamedTuple):
    """An entry as a rule over all of them sees it."""

    names: Sequence[str]
    """What it names, each as `kind/id`; a lesson's pages too."""
    families: Sequence[str]
    was: Sequence[str]
    """The ids that it had."""
    photos: Sequence[str]
    """Where its photos lie in the site."""
    last_day: str
    """The latest day that it names, as YYYY-MM-DD; nothing where it names none."""
    shares: Sequence[str]
    """What nobody else may have, each led by the name of its rule and a line's end."""


def outline_of(entry: Entry, *, shares: list[str]) -> Outline:
    """Return the outline of an entry, with what it shares by the rules that ask."""
    names = [f"{kind}/{entry_id}" for _, kind, entry_id in references(entry)]
    if isinstance(entry, Lesson):
        names += [page for _, page in entry.pages()]
    return Outline(
        names=list(dict.fromkeys(names)),
        families=list(entry.family_ids),
        was=list(entry.was),
        photos=list(_photos(entry)),
        last_day=max((day.isoformat() for day in _days(entry)), default=""),
        shares=shares,
    )


def _photos(entry: Entry) -> Iterator[str]:
    if isinstance(entry, Drawing) and entry.photo:
        yield drawing_photo_path(entry)
    if isinstance(entry, Case):
        for i in range(len(entry.photos)):
            yield case_photo_path(entry, number=i + 1)


def _days(entry: Entry) -> Iterator[datetime.date]:
    """Yield each day that may be still to come; a year's first, which is then to come too."""
    if entry.checked is not None:
        yield entry.checked.on
    if isinstance(entry, Case):
        yield entry.on
    if isinstance(entry, Source):
        if entry.measured is not None:
            yield entry.measured.when
        if entry.year is not None:
            yield datetime.date(min(max(entry.year, 1), 9999), 1, 1)
