"""What waits for the keeper, for the whole team to see: most used first."""

from __future__ import annotations

from collections.abc import Iterable

from kb.due import Due
from kb.made_pages import DUE
from kb.words.catalogue import template
from kb.words.phrase import in_words, number_of, sentence

from ..components import fold
from ..html import Html, bullets, el, join
from ..kind_words import noun_of
from ..page import Page
from ..site_context import SiteContext

OPEN = 10
"""So many stand open; the rest is a tap away."""


def make_due(context: SiteContext) -> Page:
    """Return the page of what waits for the keeper."""
    catalog = context.catalog
    # What concerns no entry, such as a line of team.yaml, is for the keeper alone.
    waiting = [item for item in context.waiting if item.entry is not None]
    limit = catalog.team.check_again_after_days
    body = join(
        [
            el("p", in_words("due-page.lead"), class_="ohm-lead"),
            el("p", in_words("due-page.counts-for", days=limit)),
            _counts(waiting),
            _lines(context, waiting[:OPEN]),
            _others(context, waiting[OPEN:]),
        ]
    )
    return Page(
        path=f"{DUE}.md",
        title=in_words("due-page.title"),
        kind="due",
        summary=in_words("due-page.summary"),
        trail=((in_words("shared.home"), "index.html"),),
        body=body,
    )


def _counts(waiting: list[Due]) -> Html:
    if not waiting:
        return el("p", in_words("due-page.nothing"))
    reasons = sorted({item.reason for item in waiting})
    return bullets(
        f"{template(f'due-reason.{reason}')}: {sum(item.reason == reason for item in waiting)}"
        for reason in reasons
    )


def _others(context: SiteContext, others: list[Due]) -> Html:
    title = in_words("due-page.others", count=len(others))
    return fold(title, _lines(context, others), id_=f"the-other-{len(others)}")


def _lines(context: SiteContext, waiting: Iterable[Due]) -> Html:
    return bullets(
        join(
            [
                context.link(item.entry),
                f" ({noun_of(item.entry.kind)}",
                f", {number_of('past-job', count=item.jobs)}" if item.jobs else None,
                f"): {sentence(item.why)}",
            ]
        )
        for item in waiting
        if item.entry is not None
    )
