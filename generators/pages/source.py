"""A source's page: where facts come from, how they reached us, and which entries rest on it."""

from __future__ import annotations

from kb.model import Entry, Instrument, Source
from kb.words.phrase import in_words

from ..components import draft_badge, other_names, source_line
from ..html import Child, Html, bullets, el, facts, join, section
from ..in_words import words_around
from ..kind_words import noun_of
from ..page import Page
from ..site_context import SiteContext


def make_source(context: SiteContext, source: Source) -> Page:
    """Return the page of one source."""
    body = join(
        [
            draft_badge(source),
            el("p", in_words("source-page.practice-only"), class_="ohm-lead")
            if source.practice
            else None,
            other_names(source),
            _facts(context, source),
            section(
                in_words("source-page.rests"),
                bullets(
                    words_around(
                        "source-page.rests-entry",
                        noun=noun_of(entry.kind),
                        link=context.link(entry),
                    )
                    for entry in context.catalog.users_of(source, Entry)
                ),
                id_="rests-on-it",
            ),
            source_line(context, source),
        ]
    )
    return Page(
        path=f"sources/{source.id}.md",
        title=source.name,
        kind="source",
        summary=source.title or source.practice or in_words("source-page.our-own"),
        trail=((in_words("source-page.all"), "sources/index.html"),),
        body=body,
    )


def _facts(context: SiteContext, source: Source) -> Html:
    """Return what is known of it, published, measured or practised."""
    measured = source.measured
    rows: dict[str, Child] = {
        "title": source.title,
        "publisher": source.publisher,
        "edition": source.edition,
        "year": str(source.year) if source.year else None,
        "where": source.where,
        "obtained": source.obtained,
        "practice": source.practice,
    }
    if measured:
        rows |= {
            "measured-by": measured.who,
            "on": measured.when.isoformat(),
            "with": context.link_to(Instrument, measured.instrument),
            "how": measured.how,
        }
    return facts((in_words(f"source-page.{key}"), value) for key, value in rows.items())
