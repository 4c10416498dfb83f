"""Work out what the release of some notes says of itself."""

from __future__ import annotations

from collections.abc import Mapping

from kb.catalog import Catalog
from kb.release_format.head import Head


def make_head(
    catalog: Catalog, *, pages: int, highest_number: int, since: Mapping[str, dict[str, int]]
) -> Head:
    """Return what the release of these notes says of itself.

    Parameters
    ----------
    catalog : Catalog
    pages : int
    highest_number : int
        Of the earlier releases; without `release.yaml` this one gets the next.
    since : mapping of earlier release → counts of changes
    """
    notes, team, keeper = catalog.notes, catalog.team, catalog.notes.release
    day = keeper.date if keeper else catalog.newest_day
    return Head(
        number=keeper.number if keeper else highest_number + 1,
        date=day.isoformat() if day else "",
        title=(keeper.title or "") if keeper else "",
        words=tuple(keeper.words) if keeper else (),
        team=team.name,
        entries=sum(notes.counts().values()),
        pages=pages,
        stale_after_days=team.stale_after_days,
        offline=keeper.offline if keeper else True,
        since=dict(since),
    )
