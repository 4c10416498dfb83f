"""The part page's winding form: every pair of leads read, held against each other and the maker."""

from __future__ import annotations

import json

from kb.instruments import meters
from kb.model import Part

from ..book import Book
from ..html import Html, el
from .fields import answer, choice, clear_key, options, plain_field, stepped_field
from .scripts import JUDGING

WINDING_SCRIPTS = (
    *JUDGING, "winding", "winding-value", "kept", "fields", "verdict-words", "verdict-box",
    "winding-form",
)
CONSTANTS = {"copper": 234.5, "aluminium": 225.0}
"""Which of the constants in `kb.numbers.winding_metal` is used for which metal."""


def winding_form(book: Book, part: Part) -> Html:
    """Return the form for a part's windings; the part must have some."""
    windings = part.windings
    assert windings is not None  # the page asks only for parts with windings
    pairs = list(windings.pairs)
    told = {
        "pairs": [{"leads": pair, "ohm": windings.pairs[pair]} for pair in pairs],
        "at_c": windings.at_c,
        "tolerance_percent": windings.tolerance_percent,
        "balance_percent": windings.balance_percent,
        "constant": CONSTANTS[windings.metal],
        "metal": windings.metal,
    }
    return el(
        "form",
        el("p", "Isolated, drained, proved dead, leads off. Cold right through: a winding still "
                "warm reads high. Short the meter's leads first and take off what they read, or let "
                "the page do it.", class_="ohm-note"),
        stepped_field("winding-at", "Temperature of the winding", value="20"),
        [plain_field(f"winding-{i}", pair) for i, pair in enumerate(pairs, start=1)],
        el("p", "Ohms, as 0.48, 38.4 or 1.62k; OL for over range.", class_="ohm-hint"),
        choice("winding-meter", "Meter", options(meters(book.notes))),
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
