"""A statement in words: each figure by the unit in its name, in the reader's unit."""

from __future__ import annotations

import math

import pytest

from kb.answers.statement import Statement
from kb.words import phrase as phrase_room
from kb.words.catalogue import speaking
from kb.words.phrase import Voice, capital, listed, ohm_span, phrase, sentence

CELSIUS = Voice()


@pytest.fixture
def say(monkeypatch):
    """Return a template's words with these figures, whatever the catalogue has."""
    real = phrase_room.template

    def said(template, voice=CELSIUS, **figures):
        monkeypatch.setattr(
            phrase_room, "template", lambda id_: template if id_ == "any.thing" else real(id_)
        )
        return phrase(Statement(id="any.thing", figures=figures), voice=voice).replace(
            "\u00a0", " "
        )

    return said


@pytest.mark.parametrize(
    ("template", "figures", "celsius", "fahrenheit"),
    [
        ("{t_c}", {"t_c": -0.04}, "0.0 °C", "31.9 °F"),
        ("{t_c:0}", {"t_c": 19.5}, "20 °C", "67 °F"),
        ("{error_k}", {"error_k": -7.6}, "7.6 K", "14 °F"),
        ("{error_k:+}", {"error_k": -7.6}, "−7.6 K", "−14 °F"),
        ("{error_k:+}", {"error_k": 0.42}, "+0.42 K", "+0.76 °F"),
        ("{r_ohm}", {"r_ohm": 6320.0}, "6.320 kΩ", "6.320 kΩ"),
        ("{r_ohm:2}", {"r_ohm": 6320.0}, "6.3 kΩ", "6.3 kΩ"),
        ("{r_ohm}", {"r_ohm": math.inf}, "OL", "OL"),
        ("{band_ohm}", {"band_ohm": (11950.0, 12230.0)}, "11.95 to 12.23 kΩ", "11.95 to 12.23 kΩ"),
        ("{band_ohm}", {"band_ohm": (11950.0, 11950.0)}, "11.95 kΩ", "11.95 kΩ"),
        ("{plug_v}", {"plug_v": 2.471}, "2.47 V", "2.47 V"),
        ("{supply_v:1}", {"supply_v": 5.0}, "5.0 V", "5.0 V"),
        ("{off_share}", {"off_share": 0.0235}, "2.4 %", "2.4 %"),
        ("{off_share:+}", {"off_share": 0.0235}, "+2.4 %", "+2.4 %"),
        ("{in_series}", {"in_series": 3}, "3", "3"),
        ("{name} and {name}", {"name": "R4"}, "R4 and R4", "R4 and R4"),
    ],
)
def test_the_unit_in_a_figures_name_says_how_it_is_printed(
    say, template, figures, celsius, fahrenheit
):
    assert say(template, **figures) == celsius
    assert say(template, Voice(unit="F"), **figures) == fahrenheit


def test_metal_gets_a_digit_more_where_the_voice_says_so(say):
    assert say("{r_ohm}", Voice(digits=5), r_ohm=103.9025) == "103.90 Ω"


@pytest.mark.parametrize(
    ("items", "joiner", "words"),
    [
        ([], "and", ""),
        (["a"], "and", "a"),
        (["a", "b"], "and", "a and b"),
        (["a", "b", "c"], "and", "a, b and c"),
        (["a", "b", "c"], "or-else", "a; or b; or c"),
        (["a", "b", "c"], "comma", "a, b, c"),
    ],
)
def test_a_list_is_joined_as_the_language_joins_it(items, joiner, words):
    assert listed(items, joiner=joiner) == words


def test_a_list_in_a_sentence_names_its_joiner_and_may_hold_statements(say):
    assert say("by {ways:or-else}.", ways=["this", "that"]) == "by this; or that."
    assert say("{temperatures_c}", temperatures_c=[1.0, 2.0]) == "1.0 °C and 2.0 °C"


def test_a_figure_that_is_missing_is_named(say):
    with pytest.raises(LookupError, match=r"^'any\.thing' has no figure 'error_k'$"):
        say("{t_c} and {error_k}", t_c=1.0)


def test_a_sentence_of_its_own_begins_large():
    statement = Statement(id="reading.short", figures={"shown_ohm": 2.0})
    assert phrase(statement).startswith("2.0")
    assert capital("over range") == "Over range"
    assert sentence(Statement(id="settling.nothing")).startswith("Nothing the team")


def test_a_span_is_said_in_the_language_in_force():
    assert ohm_span(11950.0, high_ohm=12230.0) == "11.95 to 12.23\u00a0kΩ"
    with speaking("german"):
        assert ohm_span(11950.0, high_ohm=12230.0) == "11.95 bis 12.23\u00a0kΩ"
