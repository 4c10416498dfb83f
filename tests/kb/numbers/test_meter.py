"""A meter's error: percent of reading plus digits, on the range that shows it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.measured import taken
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.meter_reach import meter_reach
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.platinum import Platinum
from kb.numbers.thermometer import Thermometer
from kb.numbers.tolerance import PlatinumClass, SpreadTolerance

METER = Meter(
    ranges=(
        OhmRange(span_ohm=600, resolution_ohm=0.1, percent=0.9, digits=3),
        OhmRange(span_ohm=6e3, resolution_ohm=1, percent=0.9, digits=2),
        OhmRange(span_ohm=60e3, resolution_ohm=10, percent=0.9, digits=2),
    ),
    leads_ohm=0.2,
)


@pytest.mark.published("meter_accuracy")
def test_published_examples_of_percent_and_digits_are_met(sheet):
    for told in sheet.fields["examples"]:
        one = OhmRange(
            span_ohm=1e3,
            resolution_ohm=told["resolution"],
            percent=told["percent"],
            digits=told["digits"],
        )
        assert one.half_width_ohm(told["reading"]) == pytest.approx(told["half_width"], rel=1e-12)


@pytest.mark.parametrize(
    ("r_ohm", "half_ohm"),
    [(110, 0.99 + 0.3), (600, 5.4 + 0.3), (600.1, 5.4009 + 2), (32_650, 293.85 + 20)],
)
def test_the_smallest_range_that_shows_the_reading_counts(r_ohm, half_ohm):
    assert METER.half_width_ohm(r_ohm) == pytest.approx(half_ohm)


def test_over_range_has_no_half_width():
    assert METER.half_width_ohm(60_001) == math.inf
    assert METER.range_for(60_001) is None
    assert METER.half_width_ohm(np.array([[110, 7e4]])).shape == (1, 2)


@pytest.mark.parametrize(("r_ohm", "digit_ohm"), [(600, 0.1), (600.1, 1), (6001, 10)])
def test_one_digit_is_that_of_the_range_that_shows_the_reading(r_ohm, digit_ohm):
    assert METER.digit_ohm(r_ohm) == digit_ohm
    assert METER.digit_ohm(60_001) == math.inf


def test_readings_beside_each_other_on_one_range_leave_one_digit():
    assert METER.beside_half_ohm([110, 111, 599]) == [0.1, 0.1, 0.1]


def test_over_two_ranges_nothing_cancels_and_the_whole_accuracy_counts():
    assert METER.beside_half_ohm([599, 601]) == pytest.approx([5.391 + 0.3, 5.409 + 2])


def test_the_leads_are_taken_off_the_reading():
    measured = taken(110.0, t_c=25, meter=METER, placement="strapped")
    assert measured.r_ohm == pytest.approx(109.8)
    assert measured.meter_half_ohm == pytest.approx(1.29)
    assert measured.placement_half_k == PLACEMENTS["strapped"].half_width_k
    assert taken(0.1, t_c=25, meter=METER).r_ohm == 0


def test_a_reading_past_the_meters_span_counts_as_over_range():
    measured = taken(70e3, t_c=25, meter=METER)
    assert measured.r_ohm == math.inf
    # The span is that of the sensor: its leads of 0.2 Ω are taken off like those of a reading.
    assert measured.meter_span_ohm == 60e3 - 0.2


def test_a_thermometer_adds_percent_and_half_a_digit():
    one = Thermometer(accuracy_k=0.5, percent=1, resolution_k=0.1, low_c=-50, high_c=300)
    assert one.half_width_k(-20) == pytest.approx(0.5 + 0.2 + 0.05)
    assert one.half_width_k([0, 100]) == pytest.approx([0.55, 1.55])
    with pytest.raises(OutOfRange):
        one.half_width_k(301)


def test_placements_run_from_the_closest_to_the_loosest():
    halves = [one.half_width_k for one in PLACEMENTS.values()]
    assert halves == sorted(halves)
    assert list(PLACEMENTS) == ["ice-water", "strapped", "held-on", "air"]


def test_an_unknown_placement_is_refused_with_the_known_ones():
    with pytest.raises(ValueError) as caught:
        taken(1e4, t_c=25, placement="near")
    assert str(caught.value) == ("placement 'near' is not one of ice-water, strapped, held-on, air")


def test_a_meter_reaches_as_far_as_its_span_and_its_percent():
    ntc = Characteristic(
        law=NtcBeta(r_ref=10e3, b_k=3977),
        tolerance=SpreadTolerance(r_fraction=0.01, b_fraction=0.0075, b_k=3977),
        low_c=-40,
        high_c=125,
    )
    reach = meter_reach(METER, curve=ntc, t_c=[-20, 0, 25], allow_k=0.5)
    assert reach.over_range.tolist() == [True, False, False]
    assert reach.can_judge.tolist() == [False, True, True]
    # Against the part's own 0.23 K at 25 °C alone this meter is too coarse.
    assert meter_reach(METER, curve=ntc, t_c=[25]).too_coarse.tolist() == [True]
    slope = abs(ntc.slope_ohm_per_k(25))
    assert reach.half_k[2] == pytest.approx((0.009 * 10_000.2 + 20) / slope, rel=1e-6)


def test_a_usual_meter_is_too_coarse_for_a_good_pt100():
    pt100 = Characteristic(
        law=Platinum(r0=100), tolerance=PlatinumClass(grade="A"), low_c=-30, high_c=150
    )
    reach = meter_reach(METER, curve=pt100, t_c=[0, 100])
    assert not reach.over_range.any()
    assert reach.too_coarse.all()
    # ± (0.9 % + 3 digits) of 100.2 Ω is 1.2 Ω, over 0.39 Ω/K.
    assert reach.half_k[0] == pytest.approx(3.07, abs=0.01)
    assert not meter_reach(METER, curve=pt100, t_c=[0], allow_k=5).too_coarse.any()


def test_ranges_out_of_order_are_refused():
    with pytest.raises(ValueError) as caught:
        Meter(ranges=METER.ranges[::-1])
    assert str(caught.value) == (
        "a meter's ranges rise from smallest to largest span; here [60000.0, 6000.0, 600]"
    )
