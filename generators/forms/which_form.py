"""An unmarked sensor: from one to five readings, which curve is it?"""

from __future__ import annotations

from kb.catalog import reading_order, shown_name
from kb.model import Curve, Sensor
from kb.words.phrase import in_words

from ..html import Html, el
from ..in_words import words_around
from ..site_context import SiteContext
from .fields import answer, clear_key, how_taken, instruments_fold, ohm_hint, packed, typed_input

PAIRS = 5


def which_form(context: SiteContext) -> Html:
    """Return the form; its results lead to the curves' pages."""
    curves = {
        curve.id: {
            "name": curve.name,
            "href": context.href(curve),
            "on": [shown_name(sensor) for sensor in context.catalog.users_of(curve, Sensor)],
        }
        for curve in sorted(context.notes.of(Curve).values(), key=reading_order)
        if context.catalog.characteristic(curve.id)
    }
    return el(
        "form",
        el("ol", [_pair(i) for i in range(1, PAIRS + 1)], class_="ohm-pairs"),
        el("p", in_words("which-form.hint", hint=ohm_hint()), class_="ohm-hint", id="pair-hint"),
        el(
            "div",
            el("button", in_words("which-form.more"), type="button", data_more=True),
            class_="ohm-keys",
        ),
        how_taken("which-how"),
        instruments_fold(context.catalog),
        answer("which-how", "meter", "thermometer"),
        el("div", class_="ohm-more"),
        clear_key(),
        class_="ohm-calc",
        data_calc="which",
        data_curves=packed(curves),
        hidden=True,
        autocomplete="off",
    )


def _pair(number: int) -> Html:
    return el(
        "li",
        el(
            "div",
            el(
                "label",
                words_around("which-form.at", unit=el("span", "°C", data_unit=True)),
                for_=f"t-{number}",
            ),
            typed_input(f"t-{number}", as_typed=False),
            class_="ohm-field",
        ),
        el(
            "div",
            el("label", in_words("which-form.shows"), for_=f"r-{number}"),
            typed_input(f"r-{number}", described="pair-hint"),
            class_="ohm-field",
        ),
        hidden=number > 1,
    )
