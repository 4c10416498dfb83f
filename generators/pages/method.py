"""A method's page: tools, cautions, steps, how to judge, and when to leave it alone."""

from __future__ import annotations

from kb.model import Method

from ..book import Book
from ..html import bullets, el, facts, join, section, steps
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
        section("Used on", bullets(book.link(one) for kind in ("sensors", "parts")
                                   for one in book.users_of(method, kind))),
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
