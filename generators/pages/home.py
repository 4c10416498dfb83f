"""Home is a tool: Find stands in the frame above it, then open jobs, families, and the ways in."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.made_pages import DRILLS, DUE, FIELDS, GUIDE, SECOND_READER, STOP, STYLE
from kb.model import KINDS, Case, Family
from kb.words.catalogue import name_of
from kb.words.phrase import in_words
from kb.words.spoken_blinks import spoken_blinks

from ..components import fold, lines
from ..forms.fields import packed
from ..html import Html, bullets, el, join, section
from ..in_words import words_around
from ..kind_signs import kind_sign
from ..kind_words import list_title
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
                words_around("home.find", blinks=el("kbd", spoken_blinks(4, short=2))),
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
        summary=in_words("home.summary", team=context.catalog.team.name),
        body=body,
    )


def _families(context: SiteContext) -> Html:
    """Return the families, a line each."""
    families = sorted(context.catalog.all(Family).values(), key=reading_order)
    return section(
        list_title("families"),
        lines((context.href(family), family.name, short_maker(family)) for family in families),
        id_="families",
    )


def _ways() -> Html:
    """Return what is looked for from anywhere."""
    ways = [
        ("stop", f"{STOP}.html"),
        ("safety", "safety.html"),
        ("learn", "lessons/index.html"),
        ("changes", "changes.html"),
        ("which", "which.html"),
        ("drills", f"{DRILLS}.html"),
    ]
    links = [el("a", in_words(f"home.{way}"), href=href) for way, href in ways]
    return el(
        "nav", links, class_="ohm-jumps ohm-ways-in", aria_label=in_words("home.from-anywhere")
    )


def _everything_else(context: SiteContext) -> Html:
    """Return the way to every other list, with how much is in it."""
    return fold(
        in_words("home.everything-else"),
        lines(
            (
                f"{model.kind}/index.html",
                join([kind_sign(model.kind), list_title(model.kind)]),
                str(len(context.catalog.all(model))),
            )
            for model in sorted(KINDS.values(), key=lambda kind: kind.home_place)
            if model is not Family
        ),
        id_="everything-else",
    )


def _read(own_pages: list[tuple[str, str]]) -> Html:
    """Return what is there to read through."""
    return fold(
        in_words("home.read"),
        bullets(
            el("a", title, href=href)
            for title, href in [
                *own_pages,
                (in_words("home.numbers"), "numbers.html"),
                (in_words("home.second-reader"), f"{SECOND_READER}.html"),
                (in_words("due-page.title"), f"{DUE}.html"),
                (name_of("guide", name="page", form="title"), f"{GUIDE}.html"),
                (in_words("home.fields"), f"{FIELDS}.html"),
                (in_words("home.style"), f"{STYLE}.html"),
            ]
        ),
        id_="read",
    )


def _newest(context: SiteContext) -> Html:
    """Return the newest past jobs."""
    newest = sorted(context.catalog.all(Case).values(), key=reading_order)[:NEWEST]
    return fold(
        in_words("home.newest"),
        bullets(join([f"{case.on.isoformat()}: ", context.link(case)]) for case in newest),
        id_="newest-jobs",
    )
