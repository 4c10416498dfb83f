"""Every word that a field chooses from has words on a page, in every language."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, get_args, get_origin

import pytest

from kb.model.curve import Curve
from kb.words.catalogue import languages, words_of
from tests.unplaced_words import blocks, types_in

SECTIONS = {
    "Sensor.reach": "value-reach",
    "Code.stops": "value-stops short-stops",
    "Part.is_a": "value-part",
    "Setting.is_a": "value-setting",
    "Instrument.is_a": "value-instrument value-instrument-of-team",
    "Method.judges": "value-judges",
    "Method.live": "value-live short-live",
    "Windings.metal": "value-metal",
    "Windings.connection": "connection",
    "Insulation.coils": "value-coils",
    "Tolerance.build": "value-build",
    "Reading.after": "value-after",
    "Reading.how": "placement",
    "Look.how": "placement",
    "law": "law short-law",
}
"""Field → the sections that say its words."""
AMONG_OTHERS = {
    "Refit.is_a": ("count", "refit-{}"),
    "Insulation.material": ("insulation", "material-{}"),
    "Practise.drill": ("lesson-page", "drill-{}"),
}
"""Field → the section where its words stand beside others, and what each is called there."""
SILENT = {"Windings.connection unknown"} | {
    f"Suspect.practice {kind}" for kind in ("wet plug", "unplugged", "exchanged")
}
"""What no page says."""
SIGNS = {"Rating.category", "Tolerance.platinum_class", "NickelCurve.ppm_per_k"} | {
    "WindingCurve.constant"
}
"""Fields whose words are alike in every language: classes, numbers."""


def choices() -> Iterator[tuple[str, str]]:
    """Yield each field that chooses from words, with each of its words."""
    for model in blocks():
        for name, field in model.model_fields.items():
            for kind in types_in(field.annotation):
                if get_origin(kind) is Literal:
                    place = "law" if issubclass(model, Curve) and name == "law" else ""
                    yield from (
                        (place or f"{model.__name__}.{name}", str(w)) for w in get_args(kind)
                    )


CHOICES = sorted(set(choices()))


@pytest.mark.parametrize("language", languages())
def test_every_word_that_a_field_chooses_from_has_words(language):
    words = words_of(language)
    missing = [
        f"[{section}] {word}"
        for field, word in CHOICES
        if field not in SIGNS and f"{field} {word}" not in SILENT
        for section, key in places(field, word)
        if not words.get(section, {}).get(key)
    ]
    assert missing == []


def places(field: str, word: str) -> list[tuple[str, str]]:
    """Return the sections and keys where a word of a field stands."""
    if field in AMONG_OTHERS:
        section, key = AMONG_OTHERS[field]
        return [(section, key.format(word))]
    if field not in SECTIONS:
        pytest.fail(f"{field} chooses from words: write what a page says for them in values.toml")
    return [(section, word) for section in SECTIONS[field].split()]


def test_a_field_that_is_gone_has_no_words_left():
    fields = {field for field, _ in CHOICES}
    assert {*SECTIONS, *AMONG_OTHERS, *SIGNS} <= fields
    for field, sections in SECTIONS.items():
        for section in sections.split():
            # Others hold what only a page asks, too: a sister is no placement of a past job.
            if not section.startswith(("value-", "short-")):
                continue
            assert words_of("english")[section].keys() <= {w for f, w in CHOICES if f == field}
