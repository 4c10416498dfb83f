"""The glossary: every term with its meaning, in a sentence, one below the other."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Term
from kb.words.phrase import in_words

from ..html import Html, el, join
from ..kind_words import list_lead, list_title
from ..page import Page
from ..site_context import SiteContext


def make_glossary(context: SiteContext) -> Page:
    """Return the list of terms."""
    terms = sorted(context.catalog.all(Term).values(), key=reading_order)
    rows = [
        el("div", el("dt", context.link(term)), el("dd", term.means, _also(term))) for term in terms
    ]
    body = join(
        [
            el("p", list_lead(Term.kind), class_="ohm-lead"),
            el("dl", rows, class_="ohm-glossary") if rows else el("p", in_words("shared.nothing")),
        ]
    )
    return Page(
        path=f"{Term.kind}/index.md",
        title=list_title(Term.kind),
        kind="path",
        summary=list_lead(Term.kind),
        body=body,
        trail=((list_title("lessons"), "lessons/index.html"),),
    )


def _also(term: Term) -> Html | None:
    """Return what it is also called, small: whoever looks for it finds it here too."""
    if not term.aka:
        return None
    return el("span", in_words("shared.also-called", names=", ".join(term.aka)), class_="ohm-note")
