"""What the rules over all entries ask of each: kept, it answers for an entry that is not read."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import astuple, dataclass

from kb.made_pages import case_photo_path, drawing_photo_path
from kb.model import Case, Drawing, Entry, Lesson, Source
from kb.model.shape import references

Key = tuple[str, str]
"""Kind and id of an entry."""


@dataclass(frozen=True)
class Outline:
    """An entry as a rule over all of them sees it."""

    names: tuple[str, ...]
    """What it names, each as `kind/id`; a lesson's pages too."""
    families: tuple[str, ...]
    was: tuple[str, ...]
    """The ids that it had."""
    photos: tuple[str, ...]
    """Where its photos lie in the site."""
    last_day: str
    """The latest day that it names, as YYYY-MM-DD; nothing where it names none."""
    shares: tuple[str, ...]
    """What nobody else may have, each led by the name of its rule and a line's end."""

    def row(self) -> list[object]:
        """Return its fields as they are kept."""
        return [*astuple(self)]

    @classmethod
    def of_row(cls, row: list[list[str] | str]) -> Outline:
        """Return the outline that was kept.

        Raises
        ------
        TypeError, ValueError
            When it is none.
        """
        names, families, was, photos, last_day, shares = row
        if not isinstance(last_day, str):
            raise TypeError(last_day)
        return cls(
            tuple(names), tuple(families), tuple(was), tuple(photos), last_day, tuple(shares)
        )


def outline_of(entry: Entry, *, shares: tuple[str, ...]) -> Outline:
    """Return the outline of an entry, with what it shares by the rules that ask."""
    names = [f"{kind}/{entry_id}" for _, kind, entry_id in references(entry)]
    if isinstance(entry, Lesson):
        names += [page for _, page in entry.pages()]
    return Outline(
        names=tuple(dict.fromkeys(names)),
        families=tuple(entry.family_ids),
        was=tuple(entry.was),
        photos=tuple(_photos(entry)),
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
