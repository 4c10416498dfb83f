"""What to do after a reading, before anything is replaced."""

from __future__ import annotations

from kb.answers.instruments import Tools
from kb.answers.reading import answer_reading
from tests.kb.answers.test_reading import PERFECT, STRAPPED, ask


def test_an_exchanged_plug_of_the_same_curve_is_looked_for_unless_something_else_explains_it():
    def tells(reading: str, *, tools: Tools = STRAPPED) -> list[str]:
        question = ask(reading, tools=tools, twins=("R2",), pull_up_ohm=10e3)
        return [tell.id for tell in answer_reading(question).next.first]

    assert tells("8k") == ["tell.several-leak", "tell.same-curve"]
    assert tells("10k") == []
    assert tells("5k") == ["tell.plugged-in"]
    # In a bath one sees which sensor it is.
    assert tells("8k", tools=PERFECT) == ["tell.several-leak"]
