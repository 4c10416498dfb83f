"""A motor's PTC loop from the typed text to the answer: what holds where nobody took a temperature."""

from __future__ import annotations

import pytest

from kb.answers.instruments import Tools
from kb.answers.loop import LoopQuestion, answer_loop
from kb.answers.statement import Refusal
from kb.numbers.switching_ptc import SwitchingPtc
from kb.words.phrase import sentence

BARE = Tools(meter=None, thermometer=None, placement="held-on")
PERFECT = Tools(meter=None, thermometer=None, placement="ice-water")


def _asked(reading: str, *, at: str = ""):
    return answer_loop(
        LoopQuestion(
            loop=SwitchingPtc(trip_c=120.0, in_series=3),
            reading=reading,
            at=at,
            tools=BARE,
            short_ohm=20.0,
        )
    )


@pytest.mark.parametrize(
    ("reading", "state", "said"),
    [
        (
            "180",
            "within",
            "180.0 Ω is what a sound loop reads in a cold motor, at any temperature from −20 °C to "
            "100 °C.",
        ),
        ("5", "short", "5.000 Ω: loop or lead is bridged, so nothing protects the motor."),
        ("15", "short", "15.00 Ω: loop or lead is bridged, so nothing protects the motor."),
        (
            "45",
            "undecided",
            "45.00 Ω is less than a loop of 3 usually reads, at least 60 Ω: an element or the lead "
            "may be bridged, and then the motor has less protection. Read the elements one by one "
            "where they come out, or another motor's loop.",
        ),
        (
            "5k",
            "undecided",
            "5.000 kΩ is more than a sound loop reads in a cold motor; in a hot one it may have "
            "tripped. Give the motor's temperature, or let it cool and read again.",
        ),
        (
            "OL",
            "undecided",
            "OL is more than a sound loop reads in a cold motor; in a hot one it may have tripped. "
            "Give the motor's temperature, or let it cool and read again.",
        ),
    ],
)
def test_without_a_temperature_it_is_told_what_holds_in_a_cold_motor(reading, state, said):
    answer = _asked(reading)
    assert (answer.state, answer.t_c) == (state, None)
    assert sentence(answer.headline).replace("\u00a0", " ") == said


@pytest.mark.parametrize("at", ["-20", "20", "100"])
def test_what_is_said_without_a_temperature_holds_at_all_of_a_cold_motors(at):
    bare = Tools(meter=None, thermometer=None, placement="ice-water")
    question = LoopQuestion(
        loop=SwitchingPtc(trip_c=120.0, in_series=3),
        reading="180",
        at=at,
        tools=bare,
        short_ohm=20.0,
    )
    assert answer_loop(question).state == "within"
    assert _asked("5k", at=at).state == "outside"


def test_the_wires_come_off_first_and_the_maker_stands_last():
    assert _asked("180").cautions == ("loop-wires-off", "loop-test-voltage", "maker-first")


def test_without_a_reading_nothing_is_told():
    with pytest.raises(Refusal) as refused:
        _asked(" ")
    assert (refused.value.field, refused.value.missing) == ("reading", True)


@pytest.mark.parametrize(
    ("reading", "at", "why", "field"),
    [
        ("300", "20", "loop.within", "when_good"),
        ("2k", "20", "loop.outside-high", "when_bad"),
        ("5k", "140", "loop.outside-low", "when_bad"),
        ("OL", "20", "loop.open", "when_open"),
        ("OL", "140", "loop.over-range", ""),
        ("1.0", "20", "loop.short", "when_short"),
        ("700", "119", "loop.switching", ""),
    ],
)
def test_a_loop_has_a_reason_and_a_next_step_too(reading, at, why, field):
    question = LoopQuestion(
        loop=SwitchingPtc(trip_c=120.0, in_series=3),
        reading=reading,
        at=at,
        tools=PERFECT,
        short_ohm=5.0,
        instructions=("when_good", "when_bad", "when_open", "when_short"),
    )
    answer = answer_loop(question)
    assert (answer.headline.id, answer.instruction) == (why, field)


def test_a_loop_below_the_standards_range_is_refused():
    question = LoopQuestion(
        loop=SwitchingPtc(trip_c=120.0), reading="300", at="-21", tools=PERFECT, short_ohm=5.0
    )
    with pytest.raises(Refusal) as refused:
        answer_loop(question)
    assert (refused.value.field, refused.value.statement.id) == ("at", "field.beyond-loop")
