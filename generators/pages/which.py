"""Which curve is this? A page of its own for a sensor that nobody has marked."""

from __future__ import annotations

from kb.model import Curve
from kb.words.phrase import in_words

from ..forms.scripts import form_scripts
from ..forms.which_form import which_form
from ..html import Html, bullets, el, join, section
from ..in_words import words_around
from ..page import Page
from ..site_context import SiteContext


def make_which(context: SiteContext) -> Page:
    """Return the page that finds the curve of an unmarked sensor."""
    curves = [
        curve_id
        for curve_id in context.catalog.all(Curve)
        if context.catalog.characteristic(curve_id)
    ]
    curves_link = el("a", _words("no-scripts-link"), href=f"{context.root}curves/index.html")
    body = join(
        [
            el("p", _words("lead"), class_="ohm-lead"),
            which_form(context) if curves else el("p", _words("none")),
            el("p", words_around("which-page.no-scripts", link=curves_link), class_="ohm-no-js"),
            _advice(),
            form_scripts(context, forms=["which"], curve_ids=curves),
        ]
    )
    return Page(
        path="which.md",
        title=_words("title"),
        kind="which",
        summary=_words("summary"),
        trail=((_words("curves"), "curves/index.html"),),
        body=body,
    )


def _advice() -> Html:
    return section(
        _words("how"),
        bullets(_words(f"how-{name}") for name in ("alone", "ice", "far", "alike")),
        id_="how-to-measure-it",
    )


def _words(name: str) -> str:
    return in_words(f"which-page.{name}")
