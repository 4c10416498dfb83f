"""Volts at the plug and the controller's figure: worked by hand, and whose fault it is."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kb.answers.controller_figure import ControllerQuestion, answer_controller
from kb.answers.instruments import Kit, NamedMeter, Tools
from kb.answers.live_rating import unrated_meter
from kb.answers.plug_volts import PlugQuestion, answer_plug_volts
from kb.answers.sensor_facts import SensorFacts
from kb.answers.statement import Refusal
from kb.numbers.characteristic import Characteristic
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.plug_volts import VOLTMETER_OHM, sensor_at_plug
from kb.numbers.tolerance import KelvinTolerance
from kb.words.phrase import phrase

CURVE = Characteristic(
    law=NtcBeta(r_ref=10e3, at_c=25.0, b_k=3435.0),
    tolerance=KelvinTolerance(kelvin=0.5),
    low_c=-40.0,
    high_c=110.0,
)
SENSOR = SensorFacts(
    curve=CURVE, curve_id="ten", allow_k=3.0, meets_c=(-20.0, 60.0), pull_up_ohm=10e3, supply_v=5.0
)
STRAPPED = Tools(meter=None, thermometer=None, placement="strapped")


def test_half_the_supply_is_a_sensor_as_large_as_the_pull_up():
    plug = sensor_at_plug(2.5, half_v=0.02, supply_v=5.0, supply_half_v=0.1, pull_up_ohm=10e3)
    # The voltmeter's 10 MΩ beside it comes off again.
    assert plug.r_ohm == pytest.approx(10e3 * VOLTMETER_OHM / (VOLTMETER_OHM - 10e3))
    # dR/dU is Rp U0/(U0 − U)² = 8 kΩ/V, dR/dU0 is half of it, and the pull-up is good to 1 %.
    by_hand = math.hypot(8e3 * 0.02, 4e3 * 0.1, 0.01 * 10e3)
    assert plug.half_ohm == pytest.approx(by_hand * (plug.r_ohm / 10e3) ** 2)


def volts(typed: str, **more: str):
    return answer_plug_volts(PlugQuestion(sensor=SENSOR, volts=typed, tools=STRAPPED, **more))


@pytest.mark.parametrize(
    ("typed", "at", "state", "next_id"),
    [
        ("2.50", "25", "within", "volts.next-within"),
        ("−2.50", "25", "within", "volts.next-within"),
        ("2500 mV", "25", "within", "volts.next-within"),
        ("1.20", "25", "outside", "volts.next-wrong"),
        ("5.00", "", "open", "volts.next-wrong"),
        ("0.00", "", "short", "volts.next-wrong"),
    ],
)
def test_volts_get_a_verdict_and_what_follows(typed, at, state, next_id):
    answer = volts(typed, at=at, supply="5.00")
    assert (answer.state, answer.next.id) == (state, next_id)
    assert "live-work" in answer.cautions


@pytest.mark.parametrize(
    ("supply", "next_id"),
    [("4.50", "volts.next-wrong"), ("4.49", "volts.next-supply"), ("5.51", "volts.next-supply")],
)
def test_a_board_that_feeds_something_else_comes_before_its_sensor(supply, next_id):
    assert volts("1.00", at="25", supply=supply).next.id == next_id


@pytest.mark.parametrize(
    ("typed", "supply", "why"),
    [
        ("", "", "volts.missing"),
        ("much", "", "volts.unreadable"),
        ("7.00", "", "volts.above-supply"),
        ("2.50", "0.00", "volts.no-supply"),
    ],
)
def test_volts_that_cannot_be_are_refused(typed, supply, why):
    with pytest.raises(Refusal) as refused:
        volts(typed, at="25", supply=supply)
    assert refused.value.statement.id == why


def test_a_board_that_nobody_knows_is_not_invented():
    bare = SensorFacts(curve=CURVE, curve_id="ten")
    with pytest.raises(Refusal) as refused:
        answer_plug_volts(PlugQuestion(sensor=bare, volts="2.5", at="25", tools=STRAPPED))
    assert refused.value.statement.id == "volts.no-board"


@pytest.mark.parametrize(
    ("shown", "reading", "state", "whose"),
    [
        ("26", "", "agrees", None),
        ("35", "", "stands-out", "controller.next-read"),
        # 6.88 kΩ stands for 35 °C: the board shows what the sensor says.
        ("35", "6.88k", "stands-out", "controller.follows-sensor"),
        ("35", "10k", "stands-out", "controller.board-differs"),
        ("35", "20k", "stands-out", "controller.both-differ"),
        ("35", "OL", "stands-out", "controller.sensor-faulty"),
    ],
)
def test_a_controllers_figure_says_whose_fault_it_is(shown, reading, state, whose):
    answer = answer_controller(
        ControllerQuestion(sensor=SENSOR, shown=shown, at="25", reading=reading, tools=STRAPPED)
    )
    assert (answer.state, answer.whose and answer.whose.id) == (state, whose)


def named_meter(name: str, *, rated_v: float) -> NamedMeter:
    ranges = (OhmRange(span_ohm=40e3, resolution_ohm=10.0, percent=0.9, digits=3),)
    return NamedMeter(id=name.lower(), name=name, meter=Meter(ranges=ranges), rated_v=rated_v)


POCKET = named_meter("Pocket", rated_v=1000.0)
WORN = named_meter("Worn", rated_v=0.0)


def unrated(meter: NamedMeter, *, kit=(POCKET, WORN), live_v=620.0, typed=()):
    tools = Tools(meter=meter, thermometer=None, placement="strapped")
    sensor = replace(SENSOR, live_v=live_v)
    return unrated_meter(sensor, tools=tools, kit=Kit(meters=kit), typed=typed)


def test_a_meter_without_a_rating_is_named_with_the_volts_that_can_stand_there_and_another():
    assert unrated(WORN).id == "volts.unrated"
    assert phrase(unrated(WORN)).replace("\u00a0", " ") == (
        "Worn is not rated for the 620 V that can stand in this machine (category III). "
        "Put it down; use Pocket."
    )
    assert unrated(WORN, kit=(WORN,)).id == "volts.unrated-all"


@pytest.mark.parametrize(("live_v", "fits"), [(1000.0, True), (1000.1, False), (None, True)])
def test_a_rating_holds_up_to_the_volts_of_the_machine(live_v, fits):
    assert (unrated(POCKET, live_v=live_v) is None) is fits
    # Where nobody says what stands there, it is what feeds such machines.
    assert (unrated(named_meter("Small", rated_v=399.0), live_v=None) is None) is False


@pytest.mark.parametrize(
    ("typed", "fits"),
    [(("5",), True), (("-1001", ""), False), (("", "1000.5"), False), (("much", "9e9"), True)],
)
def test_more_volts_than_the_notes_know_count_once_they_are_found(typed, fits):
    assert (unrated(POCKET, typed=typed) is None) is fits


def test_no_meter_named_is_none_that_could_be_wrong():
    assert unrated_meter(SENSOR, tools=STRAPPED, kit=Kit()) is None
