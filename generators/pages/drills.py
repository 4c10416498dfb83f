"""Drills: questions made from the notes, answered by the numbers."""

from __future__ import annotations

from kb.made_pages import DRILLS
from kb.words.phrase import in_words

from ..html import Html, el, join
from ..page import Page
from ..site_context import SiteContext


def make_drills(context: SiteContext) -> Page:
    """Return the page of drills; what makes and marks them comes with its script."""
    body = join(
        [
            el("p", _words("lead"), class_="ohm-lead"),
            el("div", class_="ohm-drills", data_drills=True, hidden=True),
            el("p", _words("no-scripts"), class_="ohm-no-js"),
            _scripts(context),
        ]
    )
    return Page(
        path=f"{DRILLS}.md",
        title=_words("title"),
        kind="drills",
        summary=_words("summary"),
        trail=((in_words("lesson-page.all"), "lessons/index.html"),),
        body=body,
    )


def _scripts(context: SiteContext) -> Html:
    names = ("team", "drills")
    return join([el("script", src=f"{context.root}assets/{name}.js", defer=True) for name in names])


def _words(name: str) -> str:
    return in_words(f"drills-page.{name}")
