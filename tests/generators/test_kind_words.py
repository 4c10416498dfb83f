"""What pages call a kind, in English, is what commands call it."""

from __future__ import annotations

import pytest

from generators.kind_words import list_lead, list_title, noun_of
from kb.catalog import spoken
from kb.model import KINDS
from kb.model.code import Blinks, Shown
from kb.words.catalogue import speaking


@pytest.mark.parametrize("kind", KINDS)
def test_the_english_catalogue_says_what_the_model_declares(kind):
    model = KINDS[kind]
    declared = (model.noun, model.list_title, model.list_lead)
    assert (noun_of(kind), list_title(kind), list_lead(kind)) == declared


def test_a_kind_has_another_name_in_another_language():
    with speaking("german"):
        assert (noun_of("curves"), list_title("curves")) == ("Kennlinie", "Kennlinien")


@pytest.mark.parametrize(
    ("long", "short", "german"), [(4, 2, "4 lang 2 kurz"), (3, 0, "3 lang"), (0, 3, "3 kurz")]
)
def test_blinks_are_spoken_in_the_language_in_force(long, short, german):
    way = Shown(blinks=Blinks(lamp="lamp on the board", long=long, short=short))
    assert spoken(way) == way.spoken()
    with speaking("german"):
        assert spoken(way) == german


def test_a_code_in_letters_is_spoken_alike_everywhere():
    with speaking("german"):
        assert spoken(Shown(text="E71")) == "E71"
