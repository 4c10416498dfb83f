"""What to do first after a round: what is surely faulty, then what tells most."""

from __future__ import annotations

import pytest

from kb.answers.round_first import URGENCY, round_first
from kb.answers.round_outcome import PlaceAnswer
from kb.answers.statement import Statement

EXCHANGE = Statement(id="round.next-exchanged", figures={"names": []})


def place(outcome: str, *, state: str = "undecided", steps: int = 1) -> PlaceAnswer:
    return PlaceAnswer(
        place=f"place of {outcome}",
        outcome=outcome,
        state=state,
        title=Statement(id=f"round.title-{outcome}"),
        at_c=None,
        centre_c=None,
        statements=(),
        next=tuple(Statement(id=f"round.next-{outcome}") for _ in range(steps)),
    )


def test_the_most_urgent_place_that_asks_for_something_comes_first() -> None:
    places = [place(outcome) for outcome in reversed(URGENCY)]
    first = round_first(places, exchange=None, sure=False)
    assert first is not None
    assert (first.place, first.step.id) == ("place of stands-out", "round.next-stands-out")
    places[-1] = place("stands-out", steps=0)
    first = round_first(places, exchange=None, sure=False)
    assert first is not None and first.step.id == "round.next-stand-out"


@pytest.mark.parametrize(
    ("outcome", "sure", "plugs"),
    [
        ("stands-out", True, True),
        ("stands-out", False, False),
        ("split", False, False),
        ("undecided", False, True),
        ("agree", False, True),
    ],
)
def test_plugs_come_first_where_they_are_surely_exchanged_or_nothing_else_tells(
    outcome: str, sure: bool, plugs: bool
) -> None:
    first = round_first([place(outcome)], exchange=EXCHANGE, sure=sure)
    assert first is not None
    assert (first.step == EXCHANGE, first.place == "") == (plugs, plugs)


def test_where_nothing_was_read_there_is_nothing_to_do() -> None:
    assert round_first([], exchange=None, sure=False) is None
