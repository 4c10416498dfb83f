"""Home: Find stands in the frame above it; below it, the families and every other way in."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import KINDS, Case, Family

from ..components import card, cards
from ..html import Html, bullets, el, join, section
from ..page import Page
from ..site_context import SiteContext
from .lists import short_maker


def make_home(context: SiteContext, *, own_pages: list[tuple[str, str]]) -> Page:
    """Return the home page; `own_pages` are the hand-written ones, (title, href)."""
    newest = sorted(context.catalog.all(Case).values(), key=reading_order)[:5]
    body = join(
        [
            el(
                "p",
                "Type what the machine shows: a code as text, or its blinks such as ",
                el("kbd", "4 long 2 short"),
                ". A sensor's label, a plug's mark or a part number work too.",
                class_="ohm-lead",
            ),
            _families(context),
            _everything_else(context),
            _read(own_pages),
            section(
                "Newest jobs",
                bullets(join([f"{case.on.isoformat()}: ", context.link(case)]) for case in newest),
            ),
        ]
    )
    return Page(
        path="index.md",
        title=context.catalog.team.title,
        kind="home",
        summary=f"{context.catalog.team.name}: codes, sensors and what they should read.",
        body=body,
    )


def _families(context: SiteContext) -> Html:
    """Return the families as cards."""
    families = sorted(context.catalog.all(Family).values(), key=reading_order)
    return section(
        "Families",
        cards(
            [
                card(
                    context.href(family),
                    kind=short_maker(family),
                    title=family.name,
                    note=family.does,
                )
                for family in families
            ]
        ),
    )


def _everything_else(context: SiteContext) -> Html:
    """Return the way to every other list, with how much is in it."""
    return section(
        "Everything else",
        cards(
            [
                card(
                    "which.html",
                    kind="Work it out",
                    title="Which curve is this?",
                    note="From readings of an unmarked sensor.",
                ),
                *[
                    card(
                        f"{model.kind}/index.html",
                        kind=str(len(context.catalog.all(model))),
                        title=model.list_title,
                        note=model.list_lead,
                    )
                    for model in sorted(KINDS.values(), key=lambda kind: kind.home_place)
                    if model is not Family
                ],
            ]
        ),
    )


def _read(own_pages: list[tuple[str, str]]) -> Html:
    """Return what is there to read through."""
    return section(
        "Read",
        bullets(
            el("a", title, href=href)
            for title, href in [
                *own_pages,
                ("What changed", "changes.html"),
                ("About the numbers", "numbers.html"),
            ]
        ),
    )
