"""Home is a tool: Find stands in the frame above it, then open jobs, families, and the ways in."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.made_pages import DUE, FIELDS, GUIDE, SECOND_READER, STOP
from kb.model import KINDS, Case, Family
from kb.words.catalogue import name_of

from ..components import fold, lines
from ..forms.fields import packed
from ..html import Html, bullets, el, join, section
from ..page import Page
from ..site_context import SiteContext
from .lists import short_maker

NEWEST = 5
"""Past jobs that home shows."""


def make_home(context: SiteContext, *, own_pages: list[tuple[str, str]]) -> Page:
    """Return the home page; `own_pages` are the hand-written ones, (title, href)."""
    body = join(
        [
            el(
                "p",
                "Find takes a code, blinks such as ",
                el("kbd", "4 long 2 short"),
                ", a label, a plug's mark, a part number.",
                class_="ohm-hint",
            ),
            # A script fills these with what this phone knows; there is nothing to say without it.
            el(
                "section",
                class_="ohm-js",
                data_ohm_jobs=True,
                data_families=packed(
                    {
                        name: family.name
                        for family in context.catalog.all(Family).values()
                        for name in (family.id, *family.was)
                    }
                ),
                hidden=True,
            ),
            _families(context),
            el("section", class_="ohm-js", data_ohm_last_opened=True, hidden=True),
            _ways(),
            _everything_else(context),
            _read(own_pages),
            _newest(context),
            el("script", src=f"{context.root}assets/home.js", defer=True),
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
    """Return the families, a line each."""
    families = sorted(context.catalog.all(Family).values(), key=reading_order)
    return section(
        "Families",
        lines((context.href(family), family.name, short_maker(family)) for family in families),
    )


def _ways() -> Html:
    """Return what is looked for from anywhere."""
    ways = [
        ("Stop and ring", f"{STOP}.html"),
        ("Safety", "safety.html"),
        ("What changed", "changes.html"),
        ("Which curve is this?", "which.html"),
    ]
    links = [el("a", words, href=href) for words, href in ways]
    return el("nav", links, class_="ohm-jumps ohm-ways-in", aria_label="From anywhere")


def _everything_else(context: SiteContext) -> Html:
    """Return the way to every other list, with how much is in it."""
    return fold(
        "Everything else",
        lines(
            (f"{model.kind}/index.html", model.list_title, str(len(context.catalog.all(model))))
            for model in sorted(KINDS.values(), key=lambda kind: kind.home_place)
            if model is not Family
        ),
    )


def _read(own_pages: list[tuple[str, str]]) -> Html:
    """Return what is there to read through."""
    return fold(
        "Read",
        bullets(
            el("a", title, href=href)
            for title, href in [
                *own_pages,
                ("About the numbers", "numbers.html"),
                ("For the second reader", f"{SECOND_READER}.html"),
                ("What is due", f"{DUE}.html"),
                (name_of("guide", name="page", form="title"), f"{GUIDE}.html"),
                ("Fields, for the keeper", f"{FIELDS}.html"),
            ]
        ),
    )


def _newest(context: SiteContext) -> Html:
    """Return the newest past jobs."""
    newest = sorted(context.catalog.all(Case).values(), key=reading_order)[:NEWEST]
    return fold(
        "Newest jobs",
        bullets(join([f"{case.on.isoformat()}: ", context.link(case)]) for case in newest),
    )
