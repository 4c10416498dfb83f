"""The practice machine: a whole job with a hidden fault, found by measuring."""

from __future__ import annotations

from kb.made_pages import PRACTICE
from kb.words.phrase import in_words

from ..html import Html, el, join
from ..page import Page
from ..site_context import SiteContext


def make_practice(context: SiteContext) -> Page:
    """Return the page of the practice machine; what answers on it comes with its scripts."""
    body = join(
        [
            el("p", _words("lead"), class_="ohm-lead"),
            el(
                "div",
                class_="ohm-practice",
                data_practice=True,
                data_root=context.root,
                hidden=True,
            ),
            el("p", _words("no-scripts"), class_="ohm-no-js"),
            _scripts(context),
        ]
    )
    return Page(
        path=f"{PRACTICE}.md",
        title=_words("title"),
        kind="practice",
        summary=_words("summary"),
        trail=((in_words("lesson-page.all"), "lessons/index.html"),),
        body=body,
    )


def _scripts(context: SiteContext) -> Html:
    curves = [f"curves/{curve_id}" for curve_id in sorted(context.catalog.computing_curves)]
    names = [*curves, "team", "practice-notes", "practice"]
    return join([el("script", src=f"{context.root}assets/{name}.js", defer=True) for name in names])


def _words(name: str) -> str:
    return in_words(f"practice-page.{name}")
