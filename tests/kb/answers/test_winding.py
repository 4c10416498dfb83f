"""Windings from the typed text to the answer: which are equal, what zero and over range mean."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kb.answers.instruments import Kit, NamedMeter
from kb.answers.statement import Refusal
from kb.answers.winding import WindingQuestion, answer_windings, winding_refusals
from kb.answers.winding_reading import WindingFacts
from kb.numbers.meter import Meter, OhmRange
from kb.words.phrase import sentence


def _meter(name: str, *, span_ohm: float = 400.0, digit_ohm: float = 0.1) -> NamedMeter:
    used = OhmRange(span_ohm=span_ohm, resolution_ohm=digit_ohm, percent=0.5, digits=3)
    return NamedMeter(id=name.lower(), name=name, meter=Meter(ranges=(used,)))


POCKET, BENCH = _meter("Pocket"), _meter("Bench", span_ohm=4000.0, digit_ohm=0.001)
FAN = WindingFacts(
    pairs={"U-V": 96.0, "V-W": 96.0, "W-U": 96.0, "C-S": 131.0},
    tolerance_share=0.1,
    balance_share=0.03,
)


def _asked(*readings: tuple[str, str], part: WindingFacts = FAN, **typed: object):
    question = WindingQuestion(
        part=part, readings=readings, **{"meter": POCKET, "kit": Kit(), **typed}
    )
    return answer_windings(question)


def _said(answer: object) -> str:
    return sentence(answer.headline).replace("\u00a0", " ")


def test_windings_of_one_value_are_balanced_whatever_else_the_part_has():
    answer = _asked(("U-V", "96"), ("V-W", "96"), ("W-U", "131"))
    assert answer.state == "outside"
    assert [list(balance.windings) for balance in answer.balances] == [["U-V", "V-W", "W-U"]]
    assert _said(answer) == (
        "W-U is +22 % off the mean, and 3.0 % is allowed. Look at V, which the two lower pairs share: "
        "wound in a star, its turns are shorted; in a delta, W-U itself has a bad joint."
    )


def test_a_low_pair_sends_to_the_joint_that_the_two_others_share_first():
    answer = _asked(("U-V", "96"), ("V-W", "96.1"), ("W-U", "69"))
    assert _said(answer) == (
        "W-U is −21 % off the mean, and 3.0 % is allowed. Remake the joint of V first, which the two "
        "higher pairs share, and read again: wound in a star, it is that; in a delta, turns of W-U "
        "are shorted."
    )


def test_where_the_two_others_read_what_their_entry_gives_the_pair_apart_is_the_bad_one():
    answer = _asked(("U-V", "96"), ("V-W", "96"), ("W-U", "131"), at="20")
    assert _said(answer).startswith("W-U is +22 % off the mean, and 3.0 % is allowed; W-U is +36 %")


def test_of_two_windings_nobody_can_tell_which_is_bad():
    answer = _asked(("U-V", "96"), ("V-W", "110"))
    assert _said(answer) == (
        "U-V is −6.8 % off the mean, and 3.0 % is allowed; V-W is +6.8 % off the mean, and 3.0 % is "
        "allowed."
    )


def test_windings_that_should_differ_are_held_against_nothing_but_their_entry():
    answer = _asked(("U-V", "96"), ("C-S", "131"), at="20")
    assert answer.balances == ()
    assert _said(answer) == "Each reads what the entry gives."
    assert answer.unread == ("V-W", "W-U")


def test_a_pair_of_leads_is_found_however_it_is_typed():
    assert list(_asked((" w - u ", "96")).pairs) == ["W-U"]


@pytest.mark.parametrize(
    ("readings", "statement_id"),
    [
        ((("U-X", "96"),), "winding.no-such-pair"),
        ((("U-V", "96q"),), "field.unreadable"),
        ((("U-V", ""), ("V-W", " ")), "winding.nothing-read"),
    ],
)
def test_what_cannot_be_compared_is_refused(readings, statement_id):
    with pytest.raises(Refusal) as refused:
        _asked(*readings)
    assert refused.value.statement.id == statement_id
    assert refused.value.missing == (statement_id == "winding.nothing-read")


def test_every_reading_that_is_refused_is_found_at_once():
    question = WindingQuestion(
        part=FAN, readings=(("U-V", "9q"), ("V-W", "96"), ("W-U", "-1")), meter=POCKET
    )
    assert [refusal.field for refusal in winding_refusals(question)] == ["U-V", "W-U"]


@pytest.mark.parametrize("at", ["-40", "150", "302F", "−40"])
def test_a_winding_is_judged_from_minus_40_to_150_degrees(at):
    assert _asked(("U-V", "96"), at=at).t_c in (-40.0, 150.0)


@pytest.mark.parametrize(
    ("at", "statement_id"),
    [
        ("150.1", "winding.too-hot"),
        ("900", "winding.too-hot"),
        ("-40.1", "winding.too-cold"),
        ("-234.5", "winding.too-cold"),
        ("warm", "field.unreadable"),
    ],
)
def test_a_temperature_beyond_is_refused_with_words(at, statement_id):
    with pytest.raises(Refusal) as refused:
        _asked(("U-V", "96"), at=at)
    assert (refused.value.statement.id, refused.value.field) == (statement_id, "at")


def test_without_a_temperature_only_balance_is_judged():
    answer = _asked(("U-V", "96"), ("V-W", "96"))
    assert (answer.state, answer.t_c) == ("within", None)
    assert {reading.state for reading in answer.pairs.values()} == {""}
    assert "winding.without-temperature" in [note.id for note in answer.notes]


WIRE = WindingFacts(
    pairs={"1-2": 100.0}, tolerance_share=0.1, metal="heating wire", constant=9980.0
)


def test_a_heater_is_right_at_every_temperature_and_says_so():
    answer = _asked(("1-2", "100"), part=WIRE)
    assert (answer.state, answer.pairs["1-2"].state, answer.t_c) == ("within", "within", None)
    assert (
        _said(answer)
        == "Each reads what the entry gives, at any temperature from −40 °C to 150 °C."
    )
    assert "winding.without-temperature" not in [note.id for note in answer.notes]
    # Close to its limit the wire's own 2 % decides.
    assert _asked(("1-2", "108.5"), part=WIRE).state == ""
    assert _asked(("1-2", "108.5"), part=WIRE, at="150").state == "within"


@pytest.mark.parametrize(("reading", "way"), [("300", "hot"), ("40", "cold")])
def test_far_off_is_outside_at_every_temperature(reading, way):
    part = WindingFacts(pairs={"1-2": 96.0}, tolerance_share=0.1)
    answer = _asked(("1-2", reading), part=part)
    assert answer.state == "outside"
    assert _said(answer) == (
        f"1-2 reads {reading}{'' if way == 'hot' else '.0'} Ω, and a sound one reads 66.03 to 159.5 Ω "
        "at any temperature from −40 °C to 150 °C."
    )
    for at in ("-40", "20", "150"):
        assert _asked(("1-2", reading), part=part, at=at).state == "outside"


def test_what_depends_on_the_temperature_has_no_verdict_without_one():
    part = WindingFacts(pairs={"1-2": 96.0}, tolerance_share=0.1)
    answer = _asked(("1-2", "120"), part=part)
    assert (answer.state, answer.headline.id) == ("", "winding.needs-temperature")
    assert "winding.without-temperature" in [note.id for note in answer.notes]


def test_one_that_depends_on_the_temperature_is_not_called_right_with_another():
    part = replace(WIRE, pairs={"1-2": 100.0, "3-4": 50.0})
    answer = _asked(("1-2", "100"), ("3-4", "54.3"), part=part)
    assert [reading.state for reading in answer.pairs.values()] == ["within", ""]
    assert (answer.state, answer.headline.id) == ("", "winding.needs-temperature")


def test_nothing_is_a_short_where_the_meter_would_show_a_sound_winding():
    answer = _asked(("U-V", "0"), ("V-W", "96"), ("W-U", "96"))
    assert (answer.state, answer.pairs["U-V"].state) == ("short", "short")
    assert [list(balance.windings) for balance in answer.balances] == [["V-W", "W-U"]]
    # ± 3 digits of 0.1 Ω: a winding of 0.3 Ω may hide behind them.
    part = WindingFacts(pairs={"U-V": 0.3}, tolerance_share=0.1)
    assert _asked(("U-V", "0"), part=part).headline.id == "winding.nothing-one"


@pytest.mark.parametrize("reading", ["OL", "400.1", "1k"])
def test_over_range_is_open_where_the_meter_reaches_a_sound_winding(reading):
    answer = _asked(("U-V", reading), ("V-W", "96"))
    assert (answer.state, answer.pairs["U-V"].r_ohm) == ("open", math.inf)


def test_a_heater_has_no_protector_inside_that_may_be_open():
    answer = _asked(("U-V", "OL"))
    assert _said(answer) == (
        "U-V is over range: the wire inside it or its lead is broken. Read it again at its own tails."
    )
    motor = _asked(("U-V", "OL"), part=replace(FAN, wound=True))
    assert motor.headline.id == "winding.open-one"


def test_the_meters_end_itself_is_a_figure():
    assert _asked(("U-V", "400")).pairs["U-V"].r_ohm == 400.0


def test_over_range_where_a_sound_winding_may_be_beyond_names_a_meter_that_reaches_it():
    part = WindingFacts(pairs={"U-V": 390.0}, tolerance_share=0.1)
    answer = _asked(("U-V", "OL"), part=part, at="20", kit=Kit(meters=(POCKET, BENCH)))
    assert (answer.state, answer.headline.id) == ("undecided", "winding.over-range-one")
    assert [way.id for way in answer.better] == ["bench"]
    assert answer.balances == ()


def test_the_meters_that_read_closer_are_part_of_the_answer():
    part = WindingFacts(pairs={"U-V": 1.0, "V-W": 1.0}, balance_share=0.02)
    readings = (("U-V", "1.0"), ("V-W", "1.0"))
    answer = _asked(*readings, part=part, kit=Kit(meters=(POCKET, BENCH)))
    assert (answer.state, [way.id for way in answer.better]) == ("undecided", ["bench"])
    alone = _asked(*readings, part=part, kit=Kit(meters=(POCKET,)))
    assert "winding.no-better" in [statement.id for statement in alone.advice]
    assert _asked(*readings, part=part, meter=BENCH, kit=Kit(meters=(POCKET,))).better == ()
