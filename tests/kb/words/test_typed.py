"""What cannot be read: the page says of it what check says, in each language."""

from __future__ import annotations

import numpy as np
import pytest

from kb.answers.statement import Statement
from kb.answers.typed import unreadable
from kb.answers.winding_headline import _spread
from kb.numbers.insulation import parse_insulation
from kb.numbers.notation import Unreadable, parse_reading, parse_t_c
from kb.words.catalogue import speaking, words
from kb.words.phrase import phrase
from tests.site.vector_texts import notation

BY_HAND = ("10m", "12,000", "1,234,567", "-5", "warm", "1e999", "25", "45K", "-460F", "{typed}")


def refused() -> list[Unreadable]:
    """Return how every reason is met, many by chance and each by hand."""
    found = []
    rng = np.random.default_rng(3)
    asked = [notation(rng) for _ in range(600)]
    answers = [answer for question, answer in asked if question["name"] != "parseOhm"]
    parsers = (parse_reading, parse_t_c, parse_insulation)
    answers += [lambda t=text, p=parse: p(t) for text in BY_HAND for parse in parsers]
    for answer in answers:
        try:
            answer()
        except Unreadable as error:
            found.append(error)
    return found


def test_the_catalogue_says_what_the_error_says():
    met = refused()
    assert {error.why for error in met} == set(words()["unreadable"])
    for error in met:
        assert phrase(unreadable(error, field="at").statement) == str(error)


def test_in_german_too_what_was_typed_and_what_would_work_are_said():
    with speaking("german"):
        for error in refused():
            text = phrase(unreadable(error, field="at").statement)
            assert all(figure in text for figure in error.figures.values())
            assert "write" not in text.replace(error.figures["typed"], "")


@pytest.mark.parametrize(
    ("worst_share", "text"),
    [
        (0.0, "alike to the last digit"),
        (2.2e-16, "alike to the last digit"),
        (0.0004, "less than 0.05 % from their mean"),
        (0.0005, "up to 0.050 % from their mean"),
        (0.024, "up to 2.4 % from their mean"),
    ],
)
def test_how_far_readings_lie_from_their_mean_is_told_in_words(worst_share, text):
    assert phrase(_spread(worst_share)).replace("\u00a0", " ") == text


def test_a_reason_stands_inside_of_the_refusal():
    with pytest.raises(Unreadable) as caught:
        parse_reading("12,000")
    figures = {"typed": "12,000", "whole": "12000", "point": "12.000"}
    why = Statement(id="unreadable.thousands-or-point", figures=figures)
    assert unreadable(caught.value, field="reading").statement.figures == {"why": why}
