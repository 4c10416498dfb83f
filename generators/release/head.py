"""What a release says of itself: number, date, title, the keeper's words, how much is in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from kb.model import Entry
from kb.notes.load import Notes


@dataclass(frozen=True)
class Head:
    """The few facts of a release that a phone shows; no clock is asked for any of them."""

    number: int
    date: str
    """Year-month-day; empty when neither the keeper nor any entry gives one."""
    title: str
    words: tuple[str, ...]
    team: str
    entries: int
    pages: int
    stale_after_days: int
    offline: bool = True
    """False lets every phone go."""
    since: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    """Earlier release → how many changes since it, and how many of them are about safety."""

    def as_dict(self) -> dict[str, object]:
        """Return it as the list of the release holds it."""
        return {
            "number": self.number,
            "date": self.date,
            "title": self.title,
            "words": list(self.words),
            "team": self.team,
            "entries": self.entries,
            "pages": self.pages,
            "stale_after_days": self.stale_after_days,
            "offline": self.offline,
            "since": {name: dict(told) for name, told in sorted(self.since.items())},
        }


def make_head(
    notes: Notes, *, pages: int, highest_number: int, since: Mapping[str, Mapping[str, int]]
) -> Head:
    """Return what the release of these notes says of itself.

    Parameters
    ----------
    notes : Notes
    pages : int
    highest_number : int
        Of the earlier releases; without `release.yaml` this one gets the next.
    since : mapping of earlier release → counts of changes
    """
    assert notes.team is not None  # check refuses notes without a team
    told = notes.release
    return Head(
        number=told.number if told else highest_number + 1,
        date=told.date.isoformat() if told else newest_date(notes),
        title=(told.title or "") if told else "",
        words=tuple(told.words) if told else (),
        team=notes.team.name,
        entries=sum(notes.counts().values()),
        pages=pages,
        stale_after_days=notes.team.stale_after_days,
        offline=told.offline if told else True,
        since=since,
    )


def newest_date(notes: Notes) -> str:
    """Return the newest day that any entry names: checked on, or a job's date."""
    return max(
        (
            day
            for kind in notes.entries
            for one in notes.of_kind(kind).values()
            for day in _days(one)
        ),
        default="",
    )


def _days(entry: Entry) -> Iterator[str]:
    if entry.checked:
        yield entry.checked.on.isoformat()
    on = getattr(entry, "on", None)
    if on is not None:
        yield on.isoformat()
