"""A method's page: tools, cautions, steps, how to judge, and when to leave it alone."""

from __future__ import annotations

from kb.model import Method

from ..book import Book, reading_order
from ..html import Html, bullets, el, facts, join, section, steps
from ..page import Page
from ..said import draft_badge, method_cautions, other_names, source_line


def make_method(book: Book, method: Method) -> Page:
    """Return the page of one method."""
    body = join([
        draft_badge(method),
        facts([
            ("Judges", method.judges),
            ("Machine", "dead and locked off" if method.live == "dead" else "live"),
            ("Takes", f"{method.minutes:g} min" if method.minutes else None),
        ]),
        other_names(method),
        method_cautions(book, method),
        section("Not when", bullets(method.not_when)),
        section("Have in hand", bullets(method.tools)),
        section("Steps", steps(method.steps)),
        section("How to judge", el("p", method.judge)),
        section("What it cannot tell", bullets(method.limits)),
        _used_on(book, method),
        source_line(book, method),
    ])
    return Page(
        path=f"methods/{method.id}.md",
        title=method.name,
        kind="method",
        summary=f"Judges {method.judges}",
        trail=(("Methods", "methods/index.html"),),
        body=body,
    )


def _used_on(book: Book, method: Method) -> Html:
    """Return what it is used on, family by family: many machines have a T5."""
    families: dict[str, list[Html]] = {}
    for kind in ("sensors", "parts"):
        for one in sorted(book.users_of(method, kind), key=reading_order):
            family = getattr(one, "family", None) or one.families[0]
            families.setdefault(family, []).append(book.link(one))
    return section("Used on", facts(
        (book.get("families", family).name, bullets(links)) for family, links in families.items()
    ))
