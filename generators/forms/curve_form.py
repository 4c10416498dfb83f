"""The curve page's forms: both ways at one temperature, a fine table, another curve beside it."""

from __future__ import annotations

from kb.catalog import reading_order
from kb.model import Curve
from kb.words.phrase import in_words

from ..html import Html, el
from ..site_context import SiteContext
from .fields import answer, ohm_hint, plain_field, stepped_field


def curve_form(context: SiteContext, *, curve: Curve) -> Html:
    """Return the form that turns temperature into resistance, and back."""
    return el(
        "form",
        stepped_field("at", label=in_words("curve-form.at"), value="20"),
        plain_field("reading", label=in_words("curve-form.reading"), hint=ohm_hint()),
        answer("at", "reading"),
        class_="ohm-calc",
        data_calc="both-ways",
        data_curve=curve.id,
        hidden=True,
        autocomplete="off",
    )


def fine_table(curve: Curve) -> Html:
    """Return where the page builds its table of every degree, when somebody asks for it."""
    return el(
        "details",
        el("summary", in_words("curve-form.every-degree")),
        class_="ohm-fine",
        data_calc="fine-table",
        data_curve=curve.id,
        data_name=curve.name,
        hidden=True,
    )


def compare_form(context: SiteContext, *, curve: Curve) -> Html:
    """Return the form that holds the curve against another; nothing where there is no other."""
    others = [
        entry
        for entry in sorted(context.notes.of(Curve).values(), key=reading_order)
        if entry.id != curve.id and context.catalog.characteristic(entry.id)
    ]
    if not others:
        return Html("")
    # The grid of the other curve comes to the page only when it is chosen.
    choices = [
        el(
            "option",
            entry.name,
            value=entry.id,
            data_later=f"{context.root}assets/curves/{entry.id}.js",
        )
        for entry in others
    ]
    return el(
        "form",
        el(
            "div",
            el("label", in_words("curve-form.other"), for_="other"),
            el(
                "select",
                el("option", in_words("curve-form.choose"), value=""),
                choices,
                id="other",
                name="other",
            ),
            class_="ohm-field",
        ),
        stepped_field("compare-at", label=in_words("curve-form.compare-at"), value="20"),
        answer("other", "compare-at"),
        class_="ohm-calc",
        data_calc="compare",
        data_curve=curve.id,
        data_name=curve.name,
        hidden=True,
        autocomplete="off",
    )
