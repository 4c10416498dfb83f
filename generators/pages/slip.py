"""The fold at the end of every entry's page: tell the keeper that something here is wrong."""

from __future__ import annotations

from kb.answers.statement import Statement
from kb.model import Entry
from kb.words.phrase import sentence

from ..html import Html, el
from ..site_context import SiteContext

UNSAID = "…"
"""What stands in the form where nothing is said yet; `ohmfolio case add` refuses it."""


def slip_fold(context: SiteContext, entry: Entry) -> Html:
    """Return the form of a slip about an entry: text to send, which a script helps to fill in."""
    read = context.notes.texts[(entry.kind, entry.id)]
    form = {
        "entry": f"{entry.kind}/{entry.id}",
        "wrong": UNSAID,
        "better": UNSAID,
        "by": UNSAID,
        "on": UNSAID,
        "version": read.version,
    }
    waiting = len(context.catalog.open_slips(entry))
    return el(
        "details",
        el("summary", el("h2", _words("title"))),
        el("p", _words("open", count=waiting)) if waiting else None,
        el("p", _words("send", file=read.file), class_="ohm-no-js ohm-slip-send"),
        el("pre", "".join(f"{name}: {words}\n" for name, words in form.items())),
        el("script", data_later=f"{context.root}assets/slip.js"),
        class_="ohm-fold ohm-slip",
        open=True,
    )


def _words(name: str, **figures: object) -> str:
    return sentence(Statement(id=f"slip-page.{name}", figures=figures))
