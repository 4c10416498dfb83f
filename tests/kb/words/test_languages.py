"""Every language says everything, with the same figures in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import get_args

import pytest

from kb.model.team import Team
from kb.words.catalogue import (
    ENGLISH,
    PLACEHOLDER,
    language,
    languages,
    speaking,
    template,
    words,
    words_of,
)

OTHERS = [name for name in languages() if name != ENGLISH]


def leaves(value: object, *, at: str = "") -> Iterator[tuple[str, object]]:
    """Yield every text of a catalogue by where it stands."""
    if isinstance(value, Mapping):
        for name, inner in value.items():
            yield from leaves(inner, at=f"{at}.{name}".strip("."))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from leaves(inner, at=f"{at}.{number}")
    else:
        yield at, value


@pytest.mark.parametrize("other", OTHERS)
def test_no_word_is_missing_and_none_is_left_over(other):
    assert {at for at, _ in leaves(words_of(other))} == {at for at, _ in leaves(words_of(ENGLISH))}


@pytest.mark.parametrize("other", OTHERS)
def test_placeholders_agree(other):
    english = dict(leaves(words_of(ENGLISH)))
    differing = [
        at
        for at, text in leaves(words_of(other))
        if isinstance(text, str) and figures(text) != figures(str(english.get(at, "")))
    ]
    assert differing == []


def figures(text: str) -> set[str]:
    return {f"{name}:{spec}" for name, spec in PLACEHOLDER.findall(text)}


@pytest.mark.parametrize("other", OTHERS)
def test_nothing_but_names_and_figures_is_left_in_english(other):
    """A sentence of four words that is the same in both was not translated."""
    english = dict(leaves(words_of(ENGLISH)))
    same = [
        at
        for at, text in leaves(words_of(other))
        if isinstance(text, str)
        and text == english.get(at)
        and len([word for word in PLACEHOLDER.sub("", text).split() if word.isalpha()]) > 3
    ]
    assert same == []


def test_a_team_can_choose_every_language_and_no_other():
    chosen = Team.model_fields["language"].annotation
    assert sorted(get_args(chosen)) == sorted(languages())


def test_a_language_is_spoken_for_as_long_as_the_block_lasts():
    assert language() == ENGLISH
    with speaking("german"):
        assert template("language.name") == "Deutsch"
        assert words() is words_of("german")
    assert template("language.name") == "English"


def test_nobody_speaks_what_has_no_words():
    with (
        pytest.raises(LookupError, match="there are no words in klingon; there are english"),
        speaking("klingon"),
    ):
        pass
