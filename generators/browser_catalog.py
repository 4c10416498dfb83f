"""Write the catalogue for the browser: words, placements, limits and cautions, as a module."""

from __future__ import annotations

import json
from collections.abc import Mapping

from kb.answers.blinks import COUNT_WORDS, FILLERS, GENERAL, MOST_BLINKS
from kb.answers.code_lookup import FITS, MOST_LISTED, MOST_NEAR
from kb.answers.family_words import KINDS, LONGEST_NAME, SHORTEST_SLIP_OF_A_NAME
from kb.answers.normal_form import ALIKE, SHORTEST_SLIP, SIGNS
from kb.answers.reading_next import INSTRUCTIONS
from kb.answers.reading_settling import MINUTES
from kb.answers.round_rows import MIDDLE_K
from kb.answers.which import AWAY_K
from kb.answers.winding_reading import COLDEST_C, HOTTEST_C
from kb.numbers import dew_point
from kb.numbers.at_rest import FEWEST, SPREAD_HALF_K
from kb.numbers.curve_pair import ALIKE_K
from kb.numbers.e_series import DECADES, PRINTED_DIGITS, TOLERANCE
from kb.numbers.insulation import HIGH_C, LOW_C
from kb.numbers.insulation_trend import LEAST_RATIO, RATIO_BELOW_OHM
from kb.numbers.placement import PLACEMENTS
from kb.numbers.verdict import SHORT_OHM
from kb.numbers.winding_value import TEMPERATURE_HALF_K
from kb.words.catalogue import Words, cautions, words

MODULE = "catalog.js"
"""Where the page's modules import it from, in `assets/`; the linker is handed its text."""
SPELLINGS = "spellings.js"
"""The same of how codes and blinks are read: of its own, as Find comes late."""

_SPELLINGS = (
    "{signs: Object<string, string>, alike: Object<string, string>, "
    "counts: Object<string, number>, fillers: string[], general: string[], kinds: string[]}"
)
_ADD_WORDS = """\
/** @param {Object<string, Object<string, *>>} sections added to what came before */
export function addWords(sections) {
  Object.keys(sections).forEach((name) => {
    WORDS[name] = Object.assign(WORDS[name] || {}, sections[name]);
  });
}
"""


def catalog_module_text() -> str:
    """Return the whole catalogue as one module."""
    return rules_module_text(page_words())


def page_words() -> Words:
    """Return the words, of a caution those alone: where it stands and whence, only tests ask."""
    brief = {name: {"words": caution.words} for name, caution in cautions().items()}
    return {**words(), "caution": brief}


def rules_modules() -> dict[str, str]:
    """Return the modules that the build writes, by path in `assets/`: rules, and spellings.

    Which words a page is sent beside them, `script_words` finds.
    """
    return {MODULE: rules_module_text(), SPELLINGS: spellings_module_text()}


def rules_module_text(sections: Words | None = None) -> str:
    """Return the module of the rules, from where the commands have them, with words or without."""
    exports = {
        ("WORDS", "Object<string, Object<string, *>>"): sections or {},
        ("PLACEMENTS", "Object<string, number>"): {
            name: place.half_width_k for name, place in PLACEMENTS.items()
        },
        ("MINUTES", "Object<string, number>"): MINUTES,
        ("INSTRUCTIONS", "Object<string, string[]>"): INSTRUCTIONS,
        ("FITS", "Object<string, number>"): FITS,
        ("LIMITS", "Object<string, number>"): _limits(),
        ("SERIES", "Object<string, {values: number[], tolerance_share: number, digits: number}>"): {
            name: {
                "values": values,
                "tolerance_share": TOLERANCE[name],
                "digits": PRINTED_DIGITS[name],
            }
            for name, values in DECADES.items()
        },
    }
    return _exporting(exports) + _ADD_WORDS


def _exporting(exports: Mapping[tuple[str, str], object]) -> str:
    """Return a module of constants, by name and type."""
    lines = [
        f"/** @type {{{kind}}} */\nexport const {name} = {_packed(value)};\n"
        for (name, kind), value in exports.items()
    ]
    return "// Written by the build from kb/words, kb/answers and kb/numbers.\n" + "".join(lines)


def _limits() -> dict[str, float]:
    """Return what the page counts and compares with."""
    return {
        "short_ohm": SHORT_OHM,
        "spread_half_k": SPREAD_HALF_K,
        "winding_half_k": TEMPERATURE_HALF_K,
        "winding_coldest_c": COLDEST_C,
        "winding_hottest_c": HOTTEST_C,
        "dew_low_c": dew_point.LOW_C,
        "dew_high_c": dew_point.HIGH_C,
        "dew_margin_k": dew_point.MARGIN_K,
        "ratio_below_ohm": RATIO_BELOW_OHM,
        "least_ratio": LEAST_RATIO,
        "insulation_low_c": LOW_C,
        "insulation_high_c": HIGH_C,
        "most_blinks": MOST_BLINKS,
        "most_listed": MOST_LISTED,
        "most_near": MOST_NEAR,
        "shortest_slip": SHORTEST_SLIP,
        "shortest_slip_of_a_name": SHORTEST_SLIP_OF_A_NAME,
        "longest_name": LONGEST_NAME,
        "fewest_at_rest": FEWEST,
        "middle_k": MIDDLE_K,
        "away_k": AWAY_K,
        "alike_k": ALIKE_K,
    }


def spellings_module_text() -> str:
    """Return how codes, blinks and names of families are read, as a module."""
    return _exporting({("SPELLINGS", _SPELLINGS): _spellings()})


def _spellings() -> dict[str, object]:
    """Return how codes, blinks and names of families are read."""
    return {
        "signs": SIGNS,
        "alike": ALIKE,
        "counts": COUNT_WORDS,
        "fillers": FILLERS,
        "general": GENERAL,
        "kinds": KINDS,
    }


def _packed(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
