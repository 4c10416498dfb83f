"""What waits for the keeper, for the whole team to see: most used first."""

from __future__ import annotations

from collections.abc import Iterable

from kb.due import Due
from kb.made_pages import DUE
from kb.words.catalogue import template
from kb.words.phrase import counted, sentence

from ..components import fold
from ..html import Html, bullets, el, join
from ..page import Page
from ..site_context import SiteContext

TITLE = "What is due"
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
            el(
                "p",
                "What these notes still lack, first what most past jobs came by. Where you know "
                "better, tell the keeper: a photo of the plate is a beginning.",
                class_="ohm-lead",
            ),
            el("p", f"A check counts for {limit} days, here up to the newest day in the notes."),
            _counts(waiting),
            _lines(context, waiting[:OPEN]),
            fold(f"The other {len(waiting) - OPEN}", _lines(context, waiting[OPEN:]))
            if len(waiting) > OPEN
            else None,
        ]
    )
    return Page(
        path=f"{DUE}.md",
        title=TITLE,
        kind="due",
        summary="What waits for the keeper, most used first.",
        trail=(("Home", "index.html"),),
        body=body,
    )


def _counts(waiting: list[Due]) -> Html:
    if not waiting:
        return el("p", "Nothing is due.")
    reasons = sorted({item.reason for item in waiting})
    return bullets(
        f"{template(f'due-reason.{reason}')}: {sum(item.reason == reason for item in waiting)}"
        for reason in reasons
    )


def _lines(context: SiteContext, waiting: Iterable[Due]) -> Html:
    return bullets(
        join(
            [
                context.link(item.entry),
                f" ({item.entry.noun}",
                f", {counted(item.jobs, noun='past job')}" if item.jobs else None,
                f"): {sentence(item.why)}",
            ]
        )
        for item in waiting
        if item.entry is not None
    )
