"""A term's page: what it means in a sentence, more of it, and where the notes use it."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Entry, Term
from kb.words.phrase import in_words

from ..components import draft_badge, fold, other_names, siblings, source_line
from ..html import Html, bullets, el, join, section
from ..kind_words import list_title
from ..page import Page
from ..site_context import SiteContext

FEW = 8
"""So many uses of a kind stand open; more are folded."""


def make_term(context: SiteContext, term: Term) -> Page:
    """Return the page of one term."""
    others = sorted(context.catalog.all(Term).values(), key=reading_order)
    body = join(
        [
            draft_badge(term),
            el("p", term.means, class_="ohm-lead"),
            other_names(term),
            [el("p", words) for words in term.more],
            section(
                in_words("term-page.see"),
                bullets(context.link_to(Term, other) for other in term.see),
                id_="see-also",
            ),
            _used(context, term),
            source_line(context, term),
            siblings(context, term, entries=others),
        ]
    )
    return Page(
        path=f"terms/{term.id}.md",
        title=term.name,
        kind="term",
        summary=term.means,
        trail=((in_words("term-page.all"), "terms/index.html"),),
        body=body,
    )


def _used(context: SiteContext, term: Term) -> Html:
    """Return the entries whose words have the term, kind by kind."""
    by_kind: dict[str, list[Entry]] = {}
    for entry in context.catalog.mentioning(term.id):
        by_kind.setdefault(entry.kind, []).append(entry)
    return section(
        in_words("term-page.used"),
        [
            _of_kind(kind, bullets(context.link(entry) for entry in entries), len(entries))
            for kind, entries in by_kind.items()
        ],
        id_="where-it-is-used",
    )


def _of_kind(kind: str, links: Html, count: int) -> Html:
    title = f"{list_title(kind)} ({count})"
    if count > FEW:
        return fold(title, links, id_=f"used-in-{kind}")
    return join([el("h3", title), links])
