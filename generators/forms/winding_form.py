"""The part page's winding form: every pair of leads read, held against each other and the maker."""

from __future__ import annotations

import json

from kb.model import Part
from kb.numbers.winding_metal import OF_METAL

from ..components import caution_box
from ..html import Html, el
from ..site_context import SiteContext
from .fields import answer, choice, clear_key, options, stepped_field


def winding_form(context: SiteContext, part: Part) -> Html:
    """Return the form for a part's windings; the part must have some."""
    windings = part.windings
    assert windings is not None  # the page asks only for parts with windings
    pairs = list(windings.pairs)
    told = {
        "pairs": [{"leads": pair, "ohm": windings.pairs[pair]} for pair in pairs],
        "at_c": windings.at_c,
        "tolerance_percent": windings.tolerance_percent,
        "balance_percent": windings.balance_percent,
        "constant": OF_METAL[windings.metal],
        "metal": windings.metal,
    }
    return el(
        "form",
        caution_box(
            [
                "Isolated, locked off, drained, proved dead, and every lead off.",
                "Cold right through: a winding that is still warm reads high.",
            ],
            title="Before you read the windings",
        ),
        stepped_field("winding-at", "Temperature of the winding", value="20"),
        el("ol", [_pair(i, pair) for i, pair in enumerate(pairs, start=1)], class_="ohm-round"),
        el(
            "p",
            "Ohms as the meter shows them, such as 0.48, 38.4 or 1.62k, or OL for over range. "
            "Leads zeroed, or their reading taken off: the page takes off nothing. All on one "
            "range of one meter within a minute.",
            class_="ohm-hint",
            id="winding-hint",
        ),
        choice("winding-meter", "Meter", options(context.catalog.meters())),
        answer("winding-at", "winding-meter"),
        el("div", class_="ohm-more"),
        clear_key(),
        class_="ohm-calc",
        data_calc="winding",
        data_part=part.id,
        data_windings=json.dumps(told, ensure_ascii=False, separators=(",", ":")),
        hidden=True,
        autocomplete="off",
    )


def _pair(number: int, leads: str) -> Html:
    name = f"winding-{number}"
    return el(
        "li",
        el("label", el("strong", leads), for_=name),
        el(
            "input",
            id=name,
            name=name,
            type="text",
            inputmode="text",
            autocomplete="off",
            aria_describedby="winding-hint",
        ),
        el("p", id=f"{name}-says", class_="ohm-round-state"),
    )
