"""The page that says what changed since each earlier release, the keeper's words on top."""

from __future__ import annotations

from itertools import groupby

from kb.release_format.head import Head
from kb.release_format.record import Record
from kb.words.phrase import in_words, number_of

from ..components import sentence
from ..html import Child, Html, bullets, el, join
from ..page import Page
from ..release.changes import Change, level_name
from ..release.coming_release import Coming


def make_changes(coming: Coming) -> Page:
    """Return the page What changed; it stands at the site's root."""
    head = coming.head
    newest_first = list(reversed(coming.before))
    body = join(
        [
            el("p", _release(head), class_="ohm-lead"),
            bullets(head.words) if head.words else None,
            [
                _since(record, coming.changes[record.name], first=i == 0)
                for i, record in enumerate(newest_first)
            ]
            or el("p", _words("none")),
        ]
    )
    return Page(
        path="changes.md",
        title=_words("title"),
        kind="changes",
        summary=_words("summary"),
        trail=((_words("home"), "index.html"),),
        body=body,
    )


def _since(record: Record, changes: list[Change], *, first: bool) -> Html:
    date = record.release_list.release.date
    number = str(record.number)
    title = _words("since", number=number)
    if date:
        title = _words("since-dated", number=number, date=date)
    groups: list[Child] = [
        join([el("h3", level_name(level)), bullets(_line(change) for change in group)])
        for level, group in groupby(changes, key=lambda change: change.level)
    ] or [el("p", _words("same"))]
    if first:
        return el("section", el("h2", title), groups, id=f"since-{record.name}")
    return el(
        "details",
        el(
            "summary",
            _words("since-count", since=title, changes=number_of("change", count=len(changes))),
        ),
        groups,
        id=f"since-{record.name}",
    )


def _line(change: Change) -> Html:
    text = sentence(change.text)
    if not change.href:
        return join([text])
    aloud = _words("see-aloud", name=change.name)
    return join([text, " ", el("a", _words("see"), href=change.href, aria_label=aloud)])


def _release(head: Head) -> str:
    """Return which release this is: its day and its title where it has them."""
    form = "release" + ("-dated" if head.date else "") + ("-titled" if head.title else "")
    return _words(form, number=str(head.number), date=head.date, title=head.title)


def _words(name: str, /, **figures: object) -> str:
    return in_words(f"changes-page.{name}", **figures)
