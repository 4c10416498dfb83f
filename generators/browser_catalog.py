"""Write the catalogue for the browser: words, placements, limits and cautions, as a module."""

from __future__ import annotations

import json

from kb.answers.reading import INSTRUCTIONS
from kb.numbers.at_rest import SPREAD_HALF_K
from kb.numbers.explanations import SERIES_SHARE_MAX
from kb.numbers.placement import PLACEMENTS
from kb.numbers.verdict import SHORT_OHM
from kb.numbers.winding_value import TEMPERATURE_HALF_K
from kb.words.catalogue import words

MODULE = "catalog.js"
"""Where the page's modules import it from, in `assets/`; the linker is handed its text."""


def catalog_module_text() -> str:
    """Return the module: the page's rules and words come from where the commands' come from."""
    exports = {
        ("WORDS", "Object<string, Object<string, *>>"): words(),
        ("PLACEMENTS", "Object<string, number>"): {
            name: place.half_width_k for name, place in PLACEMENTS.items()
        },
        ("INSTRUCTIONS", "Object<string, string[]>"): INSTRUCTIONS,
        ("LIMITS", "Object<string, number>"): {
            "short_ohm": SHORT_OHM,
            "spread_half_k": SPREAD_HALF_K,
            "series_share_max": SERIES_SHARE_MAX,
            "winding_half_k": TEMPERATURE_HALF_K,
        },
    }
    lines = [
        f"/** @type {{{kind}}} */\nexport const {name} = {_packed(value)};\n"
        for (name, kind), value in exports.items()
    ]
    return "// Written by the build from kb/words and kb/numbers.\n" + "".join(lines)


def _packed(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
