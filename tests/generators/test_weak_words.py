"""What rests on memory or on practice says so in every language, and is found by it."""

from __future__ import annotations

import pytest

from generators.weak_words import is_marked
from kb.words.catalogue import ENGLISH, languages, speaking, words_of
from tests.kb.words.test_languages import OTHERS, leaves


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize(
    "text", ["From memory.", "It is common practice.", "Aus dem Gedächtnis.", "Gängige Praxis."]
)
def test_a_mark_is_found_in_a_site_of_any_language(language, text):
    with speaking(language):
        assert is_marked(text)


@pytest.mark.parametrize("text", ["A memory chip.", "Practise it.", "Die Praxis ist zu."])
def test_words_that_only_resemble_a_mark_are_none(text):
    assert not is_marked(text)


@pytest.mark.parametrize("other", OTHERS)
def test_what_says_so_in_english_says_so_in_every_language(other):
    translated = dict(leaves(words_of(other)))
    lost = [
        (at, translated[at])
        for at, text in leaves(words_of(ENGLISH))
        if isinstance(text, str)
        and is_marked(text)
        and not is_marked(str(translated.get(at, text)))
    ]
    assert lost == []
