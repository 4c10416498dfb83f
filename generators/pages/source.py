"""A source's page: where facts come from, how they reached us, and which entries rest on it."""

from __future__ import annotations

from kb.model import Entry, Instrument, Source

from ..components import draft_badge, other_names, source_line
from ..html import Html, bullets, el, facts, join, section
from ..page import Page
from ..site_context import SiteContext


def make_source(context: SiteContext, source: Source) -> Page:
    """Return the page of one source."""
    body = join(
        [
            draft_badge(source),
            el("p", "Common practice, no published source.", class_="ohm-lead")
            if source.practice
            else None,
            other_names(source),
            _facts(context, source),
            section(
                "Rests on it",
                bullets(
                    join([f"{entry.noun}: ", context.link(entry)])
                    for entry in context.catalog.users_of(source, Entry)
                ),
            ),
            source_line(context, source),
        ]
    )
    return Page(
        path=f"sources/{source.id}.md",
        title=source.name,
        kind="source",
        summary=source.title or source.practice or "Our own measurement",
        trail=(("Sources", "sources/index.html"),),
        body=body,
    )


def _facts(context: SiteContext, source: Source) -> Html:
    """Return what is known of it, published, measured or practised."""
    measured = source.measured
    return facts(
        [
            ("Title", source.title),
            ("Publisher", source.publisher),
            ("Edition", source.edition),
            ("Year", str(source.year) if source.year else None),
            ("Where", source.where),
            ("How it reached us", source.obtained),
            ("Practice", source.practice),
            ("Measured by", measured.who if measured else None),
            ("On", measured.when.isoformat() if measured else None),
            ("With", context.link_to(Instrument, measured.instrument) if measured else None),
            ("How", measured.how if measured else None),
        ]
    )
