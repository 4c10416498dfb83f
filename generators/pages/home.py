"""Home: Find stands in the frame above it; below it, the families and every other way in."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import KINDS, Case, Family

from ..components import card, cards
from ..html import bullets, el, join, section
from ..page import Page
from ..site_context import SiteContext
from .lists import short_maker


def make_home(context: SiteContext, *, own_pages: list[tuple[str, str]]) -> Page:
    """Return the home page; `own_pages` are the hand-written ones, (title, href)."""
    notes = context.notes
    families = sorted(notes.of(Family).values(), key=reading_order)
    newest = sorted(notes.of(Case).values(), key=reading_order)[:5]
    body = join(
        [
            el(
                "p",
                "Type what the machine shows: a code as text, or its blinks such as ",
                el("kbd", "4 long 2 short"),
                ". A sensor's label, a plug's mark or a part number work too.",
                class_="ohm-lead",
            ),
            section(
                "Families",
                cards(
                    [
                        card(context.href(one), short_maker(one), one.name, one.does)
                        for one in families
                    ]
                ),
            ),
            section(
                "Everything else",
                cards(
                    [
                        card(
                            "which.html",
                            "Work it out",
                            "Which curve is this?",
                            "From readings of an unmarked sensor.",
                        ),
                        *[
                            card(
                                f"{model.kind}/index.html",
                                str(len(notes.of(model))),
                                model.list_title,
                                model.list_lead,
                            )
                            for model in sorted(KINDS.values(), key=lambda kind: kind.home_place)
                            if model is not Family
                        ],
                    ]
                ),
            ),
            section(
                "Read",
                bullets(
                    el("a", title, href=href)
                    for title, href in [
                        *own_pages,
                        ("What changed", "changes.html"),
                        ("About the numbers", "numbers.html"),
                    ]
                ),
            ),
            section(
                "Newest jobs",
                bullets(join([f"{one.on.isoformat()}: ", context.link(one)]) for one in newest),
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
