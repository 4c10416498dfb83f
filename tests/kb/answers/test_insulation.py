"""Insulation from the typed text to the answer: refused first, over range counted once."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kb.answers.insulation import InsulationQuestion, answer_insulation
from kb.answers.insulation_tested import InsulationFacts, InsulationVoltage, NamedTester
from kb.answers.part_cautions import (
    CautionFacts,
    MachineFacts,
    insulation_essentials,
    winding_essentials,
    with_methods,
)
from kb.answers.statement import Refusal
from kb.words.phrase import phrase, sentence

MOTOR = InsulationFacts(name="Motor", min_ohm=2e6, test_volts=500.0, wound=True)
SHORT_TESTER = NamedTester(
    id="short", name="Short tester", voltages=[InsulationVoltage(volts=500, max_ohm=2e8, percent=3)]
)
TWO_VOLTS = NamedTester(
    id="two",
    name="Two-volt tester",
    voltages=[
        InsulationVoltage(volts=250, max_ohm=1e6, percent=3),
        InsulationVoltage(volts=400, max_ohm=1e9, percent=3),
    ],
)


def _asked(reading: str, *, volts: str = "500", at: str = "40", **more: object):
    facts = {"part": MOTOR, "testers": (SHORT_TESTER, TWO_VOLTS), **more}
    return answer_insulation(InsulationQuestion(reading=reading, volts=volts, at=at, **facts))


def _refusal(**typed: object) -> Refusal:
    with pytest.raises(Refusal) as refused:
        _asked(**{"reading": "9M", **typed})
    return refused.value


@pytest.mark.parametrize("reading", ["OL", "250M", "200.1M"])
def test_beyond_the_testers_end_it_counts_as_that_end(reading):
    answer = _asked(reading)
    assert (answer.state, answer.over_range, answer.r_ohm) == ("within", True, math.inf)
    assert answer.verdict.at_40_ohm == 2e8
    assert sentence(answer.headline).replace("\u00a0", " ") == (
        "The part's own limit is met, more than 200 MΩ at 40 °C."
    )


def test_at_the_testers_end_it_is_a_figure():
    answer = _asked("200M")
    assert (answer.state, answer.over_range, answer.r_ohm) == ("within", False, 2e8)


@pytest.mark.parametrize("reading", ["OL", "250M"])
def test_over_range_may_be_too_little_to_tell_and_is_never_too_low(reading):
    answer = _asked(reading, part=replace(MOTOR, min_ohm=3e8))
    assert (answer.state, answer.over_range) == ("undecided", True)
    assert {check.state for check in answer.verdict.checks} == {"undecided", "within"}
    assert answer.headline.id == "insulation.over-range-brought"
    assert "insulation.damp" not in [note.id for note in answer.notes]


def test_the_testers_end_itself_meets_a_limit_of_the_same_where_no_temperature_counts():
    as_read = replace(MOTOR, min_ohm=2e8, wound=False)
    assert _asked("OL", part=as_read).state == "within"
    # A winding's temperature is known to ± 2 K, and moves what over range stands for.
    assert _asked("OL", part=replace(MOTOR, min_ohm=2e8)).state == "undecided"


def test_of_a_tester_that_nobody_knows_over_range_tells_nothing():
    answer = _asked("OL", testers=())
    assert (answer.state, answer.headline.id) == ("undecided", "insulation.over-range-unknown")


def test_the_tester_is_the_only_one_of_that_voltage_or_the_one_named():
    assert _asked("9M").read.figures["instrument"] == "Short tester"
    both = (SHORT_TESTER, replace(SHORT_TESTER, id="other", name="Other tester"))
    assert _asked("9M", testers=both).read.id == "insulation.read-unknown-at"
    assert _asked("9M", testers=both, tester="other").read.figures["instrument"] == "Other tester"
    assert _refusal(volts="250", tester="short").statement.id == "insulation.lacks-voltage"


def test_what_may_hurt_is_refused_before_anything_else_is_read():
    assert _refusal(reading="", part=replace(MOTOR, board=True)).statement.id == "insulation.board"
    refusal = _refusal(reading="", at="", volts="500.5")
    assert (refusal.statement.id, refusal.field) == ("insulation.too-high", "volts")
    assert not refusal.missing


@pytest.mark.parametrize("volts", ["0", "-500", "abc", "5OO", "1e400"])
def test_what_is_no_voltage_is_refused(volts):
    assert _refusal(volts=volts).statement.id == "insulation.no-voltage"


def test_the_voltage_is_asked_first_then_the_reading_then_the_temperature():
    for typed, statement_id in (
        ({"volts": " ", "reading": "", "at": ""}, "insulation.volts-missing"),
        ({"reading": " ", "at": ""}, "insulation.reading-missing"),
        ({"at": " ", "reading": "3M"}, "insulation.temperature-missing"),
    ):
        refusal = _refusal(**typed)
        assert (refusal.statement.id, refusal.missing) == (statement_id, True)


def test_below_the_parts_voltage_a_good_figure_proves_less():
    assert "insulation.below-voltage" in [note.id for note in _asked("9M", volts="400 V").notes]
    assert "insulation.below-voltage" not in [note.id for note in _asked("9M").notes]


@pytest.mark.parametrize("limit_c", [9.9, 85.1])
def test_a_limit_where_no_correction_holds_is_looked_up_again(limit_c):
    refusal = _refusal(part=replace(MOTOR, limit_c=limit_c))
    assert refusal.statement.id == "insulation.limit-uncorrected"


@pytest.mark.parametrize(
    ("at", "beyond"), [("9.9", "cold"), ("10", ""), ("85", ""), ("85.1", "hot"), ("50F", "")]
)
def test_a_correction_holds_from_10_to_85_degrees(at, beyond):
    assert _asked("9M", at=at).verdict.beyond == beyond


def test_a_part_without_a_motor_winding_is_held_to_its_limit_as_read():
    answer = _asked("3M", at="5", part=replace(MOTOR, wound=False))
    assert (answer.state, answer.verdict.at_40_ohm, answer.verdict.beyond) == ("within", None, "")
    assert [check.id for check in answer.checks] == ["insulation.part-within"]


@pytest.mark.parametrize(
    ("reading", "state", "said"),
    [
        (
            "9M",
            "",
            "9.00 MΩ meets the part's own limit at any temperature from 10 °C up. Colder than that, the "
            "cold flatters.",
        ),
        (
            "OL",
            "",
            "More than 200 MΩ meets the part's own limit at any temperature from 10 °C up. Colder than "
            "that, the cold flatters.",
        ),
        (
            "100k",
            "",
            "100 kΩ is less than the part's own limit at any temperature up to 85 °C. Hotter than that, "
            "heat lowers it: let it cool, and read again.",
        ),
        ("0", "outside", "0 Ω to earth is too little at any temperature."),
    ],
)
def test_without_a_temperature_it_is_told_what_holds_whatever_it_is(reading, state, said):
    answer = _asked(reading, at="")
    assert (answer.state, answer.t_c, answer.verdict.checks) == (state, None, ())
    assert sentence(answer.headline).replace("\u00a0", " ") == said
    waits = "insulation.without-temperature" in [note.id for note in answer.notes]
    assert waits == (state == "")
    assert "no temperature taken" in sentence(answer.read)


@pytest.mark.parametrize(
    ("at", "state"), [("10", "within"), ("85", "within"), ("9.9", "undecided")]
)
def test_what_is_said_without_a_temperature_holds_at_its_ends(at, state):
    assert _asked("9M", at=at).state == state


def test_nothing_at_all_is_outside_however_hot_the_winding_is():
    answer = _asked("0", at="95")
    assert (answer.state, answer.headline.id) == ("outside", "insulation.outside-nothing")
    assert _asked("10k", at="95").state == "undecided"


def test_a_part_without_a_motor_winding_needs_no_temperature():
    answer = _asked("3M", at="", part=replace(MOTOR, wound=False))
    assert (answer.state, answer.t_c) == ("within", None)
    assert [check.id for check in answer.checks] == ["insulation.part-within"]


def test_of_a_tester_that_nobody_knows_over_range_tells_nothing_at_any_temperature():
    answer = _asked("OL", at="", testers=())
    assert (answer.state, answer.headline.id) == ("undecided", "insulation.over-range-unknown")


def test_isolating_stands_first_and_the_maker_last():
    machine = MachineFacts(
        name="Unit", isolate_at="there", drain_at="here", drain_min=10, drained_below_volts=30
    )
    facts = CautionFacts(
        machines=[machine, replace(machine, name="Other", no_charge="no capacitor")],
        methods=["Mind the step.", "Mind the step."],
        disconnect="All leads.",
        test_volts=500,
    )
    said = [phrase(caution).replace("\u00a0", " ") for caution in insulation_essentials(facts)]
    assert said[:4] == [
        "Unit: isolate, lock off, prove dead (there). Wait 10 min, then measure below 30 V (here). "
        "Still above: never short it; cover on, keep off, wait again, then ring.",
        "Other: isolate, lock off, prove dead (there). Nothing is stored: no capacitor. Measure "
        "all the same below 30 V (here).",
        "Disconnect first: All leads.",
        "At most 500 V.",
    ]
    whole = [phrase(caution) for caution in with_methods(winding_essentials(facts), facts=facts)]
    assert whole[-2:] == [
        "Mind the step.",
        "The maker's instructions, local codes and licensed practice come first.",
    ]
