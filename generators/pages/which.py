"""Which curve is this? A page of its own for a sensor that nobody has marked."""

from __future__ import annotations

from kb.model import Curve

from ..forms.scripts import form_scripts
from ..forms.which_form import which_form
from ..html import Html, bullets, el, join, section
from ..page import Page
from ..site_context import SiteContext


def make_which(context: SiteContext) -> Page:
    """Return the page that finds the curve of an unmarked sensor."""
    curves = [
        curve_id
        for curve_id in context.catalog.all(Curve)
        if context.catalog.characteristic(curve_id)
    ]
    body = join(
        [
            el(
                "p",
                "A sensor out of an unlabelled bag, or a machine without papers: measure it at one "
                "to five temperatures, and see which of our curves it can be.",
                class_="ohm-lead",
            ),
            which_form(context) if curves else el("p", "No curve is noted yet."),
            el(
                "p",
                "Without scripts: hold a reading against the tables of the ",
                el("a", "curves", href=f"{context.root}curves/index.html"),
                ".",
                class_="ohm-no-js",
            ),
            _advice(),
            form_scripts(context, forms=["which"], curve_ids=curves),
        ]
    )
    return Page(
        path="which.md",
        title="Which curve is this?",
        kind="which",
        summary="Find the curve of an unmarked sensor from one to five readings.",
        trail=(("Curves", "curves/index.html"),),
        body=body,
    )


def _advice() -> Html:
    return section(
        "How to measure it",
        bullets(
            [
                "The sensor on its own: unplugged, out of the machine where you can.",
                "Ice water first: ice and a little water in a cup, stirred. It is 0\u00a0°C, and "
                "no thermometer is needed to know it within a tenth of a degree.",
                "Then something far away: hand-warm water at about 40\u00a0°C with the thermometer "
                "beside it. Two readings far apart tell more than five close together.",
                "The same resistance at 25\u00a0°C says little: many curves cross there.",
            ]
        ),
    )
