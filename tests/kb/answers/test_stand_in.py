"""Stand-in resistors, a curve both ways and two curves side by side, on the floor of answers."""

from __future__ import annotations

import pytest

from kb.answers.comparison import compare_curves
from kb.answers.curve_lookup import ohm_at, temperature_of
from kb.answers.loop_limits import loop_limits
from kb.answers.stand_in import BoardSide, StandInQuestion, answer_stand_in
from kb.answers.statement import Refusal
from kb.numbers.characteristic import Characteristic
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum
from kb.numbers.switching_ptc import SwitchingPtc
from kb.numbers.tolerance import NoTolerance, SpreadTolerance
from kb.words.catalogue import cautions

TEN = Characteristic(
    law=NtcBeta(r_ref=10e3, b_k=3500),
    low_c=-40,
    high_c=105.3,
    tolerance=SpreadTolerance(r_fraction=0.01, at_c=25.0, b_fraction=0.01, b_k=3500),
)
METAL = Characteristic(law=Platinum(r0=100), low_c=-50, high_c=300, tolerance=NoTolerance())


def asked(at: str, *, series: str = "E24", **more: object):
    return answer_stand_in(StandInQuestion(curve=TEN, curve_id="ten", at=at, series=series, **more))


def refusal(ask: object, *words: object, **more: object) -> Refusal:
    with pytest.raises(Refusal) as refused:
        ask(*words, **more)
    return refused.value


def test_the_nearest_leads_and_its_own_tolerance_is_said_in_kelvin():
    answer = asked("25")
    assert answer.headline.id == "stand-in.best"
    assert answer.singles[0].stand_in.parts_ohm == (10e3,)
    # 5 % of 10 kΩ through B/T²: 0.05 · 298.15² / 3500 = 1.27 K, a little more on the warm side.
    assert answer.spread_k == pytest.approx(0.05 * 298.15**2 / 3500, rel=0.04)
    assert answer.spread.figures["tolerance_share"] == 0.05


@pytest.mark.parametrize(("series", "digits"), [("E12", 2), ("E24", 2), ("E96", 3)])
def test_values_are_said_as_they_are_printed_on_the_parts(series, digits):
    (part,) = asked("25", series=series).headline.figures["resistors"].figures.values()
    assert part.id == f"stand-in.printed-{digits}"


def test_with_the_boards_side_known_the_volts_are_there():
    answer = asked("25", board=BoardSide(supply_v=5.0, pull_up_ohm=10e3))
    assert answer.volts == pytest.approx(2.5)
    assert answer.headline.id == "stand-in.best-volts"
    assert answer.board.figures == {"supply_v": 5.0, "pull_up_ohm": 10e3}
    assert asked("25").board is None


def test_isolating_comes_first_and_no_caution_is_missing():
    answer = asked("25")
    assert answer.cautions[0] == "stand-in-plug"
    shown_here = {caution.id for caution in cautions().values() if "stand-in" in caution.where}
    assert set(answer.cautions) == shown_here


@pytest.mark.parametrize("ask", [asked, lambda at: ohm_at(at, curve=TEN, curve_id="ten")])
@pytest.mark.parametrize(
    ("at", "why", "missing"),
    [
        ("", "curve.temperature-missing", True),
        ("warm", "field.unreadable", False),
        ("105.4", "curve.beyond", False),
        ("-41", "curve.beyond", False),
    ],
)
def test_a_temperature_without_an_answer_is_refused_alike(ask, at, why, missing):
    refused = refusal(ask, at)
    assert (refused.statement.id, refused.field, refused.missing) == (why, "at", missing)


@pytest.mark.parametrize("at", ["105.3", "221.54F", "221.54 °F", "105,3 ℃", "-40F"])
def test_an_end_of_the_range_holds_in_every_spelling(at):
    assert ohm_at(at, curve=TEN, curve_id="ten").r_ohm > 0


@pytest.mark.parametrize(("at", "unit"), [("20", "F"), ("20C", "C"), ("20 ℃", "C"), ("70°F", "F")])
def test_an_answer_comes_back_in_the_unit_typed(at, unit):
    assert ohm_at(at, curve=TEN, curve_id="ten", unit="F").unit == unit


def test_a_reading_stands_for_a_temperature_or_for_none():
    found = temperature_of("10k", curve=TEN, curve_id="ten")
    assert (found.t_c, found.digits) == (pytest.approx(25), 4)
    ask = {"curve": TEN, "curve_id": "ten"}
    assert refusal(temperature_of, "OL", **ask).statement.id == "curve.over-range"
    assert refusal(temperature_of, "1", **ask).statement.id == "curve.off"
    assert refusal(temperature_of, "", **ask).missing


def test_metal_gets_a_digit_more_and_an_unknown_tolerance_no_band():
    found = ohm_at("25", curve=METAL, curve_id="metal")
    assert (found.digits, found.low_ohm, found.tol_k) == (5, None, None)
    assert found.statements[0].id == "curve.no-tolerance"


def test_a_loop_has_limits_or_none_and_below_the_standard_a_refusal():
    loop = SwitchingPtc(trip_c=120, in_series=3)
    assert loop_limits("100", loop=loop).most_ohm == 750
    assert loop_limits("120", loop=loop).statement.id == "curve.limit-none"
    assert loop_limits("257F", loop=loop).least_ohm == 3990
    assert refusal(loop_limits, "-21", loop=loop).statement.id == "field.beyond-loop"


def test_two_curves_side_by_side():
    other = Characteristic(
        law=NtcBeta(r_ref=12e3, b_k=3500), low_c=0, high_c=80, tolerance=NoTolerance()
    )
    found = compare_curves("25", curve=TEN, other=other)
    assert found.here.other_ohm == pytest.approx(12e3)
    assert (found.difference.id, found.board.id) == ("pair.difference-higher", "pair.board-cold")
    beyond = refusal(compare_curves, "-1", curve=TEN, other=other)
    assert (beyond.statement.id, beyond.statement.figures["low_c"]) == ("pair.beyond", 0)


def test_a_curve_beside_itself_is_no_different():
    found = compare_curves("25", curve=TEN, other=TEN)
    assert (found.difference.id, found.board.id) == ("pair.no-difference", "pair.board-right")


def test_curves_that_share_no_temperature_are_refused_before_a_temperature_is_asked():
    high = Characteristic(law=Platinum(r0=100), low_c=200, high_c=300, tolerance=NoTolerance())
    assert refusal(compare_curves, "", curve=TEN, other=high).statement.id == "pair.no-shared"
