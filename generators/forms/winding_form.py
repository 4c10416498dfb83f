"""The part page's winding form: every pair of leads read, held against each other and the maker."""

from __future__ import annotations

from kb.answers.part_cautions import winding_essentials
from kb.answers.winding_reading import WindingFacts
from kb.answers.winding_unnamed import UNNAMED, may_be_unnamed
from kb.model import Part
from kb.model.windings import Windings
from kb.part_facts import caution_facts, winding_facts
from kb.words.phrase import in_words, phrase

from ..components import caution_box
from ..html import Html, el
from ..site_context import SiteContext
from .fields import answer, choice, options, packed, placed_field, typed_input
from .visit_fields import visit_head, visit_keys


def winding_form(context: SiteContext, *, part: Part, windings: Windings) -> Html:
    """Return the form for a part's windings."""
    dangers = caution_facts(context.catalog, part=part, judging="windings")
    facts = winding_facts(part, windings=windings)
    return el(
        "form",
        caution_box(
            [phrase(caution) for caution in winding_essentials(dangers)],
            title=in_words("winding-form.before"),
        ),
        visit_head("winding"),
        placed_field(
            "winding-at", label=in_words("form-field.winding-at"), how="winding-how", ice=False
        ),
        el("ol", [_pair(i, pair) for i, pair in enumerate(windings.pairs, 1)], class_="ohm-round"),
        el("p", in_words("winding-form.hint"), class_="ohm-hint", id="winding-hint"),
        choice(
            "winding-meter",
            label=in_words("form-field.meter"),
            options=options(context.catalog.meters()),
        ),
        answer("winding-at", "winding-meter"),
        _unnamed(facts),
        el("div", class_="ohm-more"),
        visit_keys(),
        class_="ohm-calc",
        data_calc="winding",
        data_part=part.id,
        data_families=" ".join(part.families),
        data_facts=packed(_facts(facts)),
        hidden=True,
        autocomplete="off",
    )


def _unnamed(facts: WindingFacts) -> Html:
    """Return where three leads are read whose names nobody knows, folded."""
    if not may_be_unnamed(facts):
        return Html("")
    return el(
        "details",
        el("summary", in_words("winding-form.unnamed")),
        el("p", in_words("winding-form.unnamed-how"), class_="ohm-hint"),
        el(
            "ol",
            [_pair(i, pair) for i, pair in enumerate(UNNAMED, len(facts.pairs) + 1)],
            class_="ohm-round",
        ),
        class_="ohm-unnamed",
    )


def _facts(facts: WindingFacts) -> dict[str, object]:
    """Return what decides on a part's windings, in the page's names."""
    return {
        "pairs": facts.pairs,
        "atC": facts.at_c,
        "toleranceShare": facts.tolerance_share,
        "balanceShare": facts.balance_share,
        "metal": facts.metal,
        "constant": facts.constant,
        "wound": facts.wound,
        "insulated": facts.insulated,
        "connection": facts.connection,
    }


def _pair(number: int, leads: str) -> Html:
    name = f"winding-{number}"
    return el(
        "li",
        el("label", el("strong", leads), for_=name),
        typed_input(name, described="winding-hint", as_typed=False),
        el("p", id=f"{name}-says", class_="ohm-round-state"),
    )
