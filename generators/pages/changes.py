"""The page that says what changed since each earlier release, the keeper's words on top."""

from __future__ import annotations

from itertools import groupby

from kb.release_format.record import Record
from kb.words.phrase import counted

from ..components import sentence
from ..html import Child, Html, bullets, el, join
from ..page import Page
from ..release.changes import LEVELS, Change
from ..release.coming_release import Coming


def make_changes(coming: Coming) -> Page:
    """Return the page What changed; it stands at the site's root."""
    head = coming.head
    newest_first = list(reversed(coming.before))
    body = join(
        [
            el(
                "p",
                f"Release {head.number}",
                f" of {head.date}" if head.date else None,
                f": {head.title}" if head.title else None,
                ".",
                class_="ohm-lead",
            ),
            bullets(head.words) if head.words else None,
            [
                _since(record, coming.changes[record.name], first=i == 0)
                for i, record in enumerate(newest_first)
            ]
            or el("p", "Nothing was published before this release: there is nothing to compare."),
        ]
    )
    return Page(
        path="changes.md",
        title="What changed",
        kind="changes",
        summary="What is different from earlier releases, safety first.",
        trail=(("Home", "index.html"),),
        body=body,
    )


def _since(record: Record, changes: list[Change], *, first: bool) -> Html:
    date = record.release_list.release.date
    title = f"Since release {record.number}{f' of {date}' if date else ''}"
    groups: list[Child] = [
        join([el("h3", LEVELS[level]), bullets(_line(change) for change in group)])
        for level, group in groupby(changes, key=lambda change: change.level)
    ] or [el("p", "The notes say the same.")]
    if first:
        return el("section", el("h2", title), groups, id=f"since-{record.name}")
    return el(
        "details",
        el("summary", f"{title}: {counted(len(changes), noun='change')}"),
        groups,
        id=f"since-{record.name}",
    )


def _line(change: Change) -> Html:
    text = sentence(change.text)
    if not change.href:
        return join([text])
    return join([text, " ", el("a", "See it", href=change.href, aria_label=f"See {change.name}")])
