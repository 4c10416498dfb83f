"""A machine at rest: the one that stands out is named, with or without a thermometer."""

from __future__ import annotations

import math

import pytest

from kb.numbers.at_rest import Resting, at_rest
from kb.numbers.characteristic import Characteristic
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum
from kb.numbers.tolerance import PlatinumClass, SpreadTolerance

NTC = Characteristic(
    law=NtcBeta(r_ref=10e3, b_k=3977),
    tolerance=SpreadTolerance(r_fraction=0.01),
    low_c=-40,
    high_c=125,
)
PT = Characteristic(
    law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200
)


def at(curve, t_c):
    r_ohm = curve.r_ohm(t_c)
    return Resting(curve=curve, r_ohm=r_ohm, meter_half_ohm=0.005 * r_ohm)


def states(got):
    return {name: one.state for name, one in got.standing.items()}


def test_one_of_five_stands_out_and_does_not_move_the_centre():
    readings = {"a": at(NTC, 18.0), "b": at(PT, 18.3), "c": at(NTC, 17.8), "d": at(NTC, 18.1)}
    got = at_rest(readings | {"bad": at(NTC, 35.0)})
    assert got.centre_c == pytest.approx(18.1, abs=0.01)
    assert not got.by_thermometer
    assert states(got) == dict.fromkeys("abcd", "agrees") | {"bad": "stands-out"}
    assert got.standing["bad"].off_k == pytest.approx(16.9, abs=0.01)


def test_with_a_thermometer_all_may_stand_out():
    got = at_rest({"a": at(NTC, 28.0), "b": at(NTC, 28.2)}, t_c=18.0, thermometer_half_k=0.5)
    assert got.by_thermometer
    assert states(got) == {"a": "stands-out", "b": "stands-out"}


def test_two_that_differ_accuse_nobody():
    assert states(at_rest({"a": at(NTC, 18.0), "b": at(NTC, 30.0)})) == {
        "a": "undecided",
        "b": "undecided",
    }


def test_one_alone_says_nothing():
    assert states(at_rest({"a": at(NTC, 18.0)})) == {"a": "undecided"}


def test_what_cannot_be_read_is_named_and_left_out_of_the_centre():
    readings = {name: at(NTC, 18.0) for name in "abc"} | {
        "open": Resting(curve=NTC, r_ohm=math.inf),
        "short": Resting(curve=NTC, r_ohm=2.0),
        "far": Resting(curve=NTC, r_ohm=100.0),
    }
    got = at_rest(readings)
    assert states(got) == dict.fromkeys("abc", "agrees") | {
        "open": "open",
        "short": "short",
        "far": "off-curve",
    }
    assert got.centre_c == pytest.approx(18.0)


def test_between_agreeing_and_standing_out_it_says_undecided():
    readings = {name: at(NTC, 18.0) for name in "abcde"} | {"x": at(NTC, 19.5)}
    one = at_rest(readings).standing["x"]
    assert max(one.limit_k, one.uncertainty_k) < 1.5 < one.limit_k + one.uncertainty_k
    assert one.state == "undecided"


def test_over_range_on_a_meter_that_cannot_reach_a_good_part_is_not_called_open():
    """The curve goes up to more than 100 kΩ: a meter that ends there cannot tell."""
    readings = {
        "far": Resting(curve=NTC, r_ohm=math.inf, meter_span_ohm=100e3),
        "near": Resting(curve=NTC, r_ohm=math.inf, meter_span_ohm=40e6),
    }
    assert NTC.range_ohm[1] > 100e3
    standing = at_rest(readings, t_c=20).standing
    assert {name: one.state for name, one in standing.items()} == {
        "far": "undecided",
        "near": "open",
    }


def test_the_teams_own_short_threshold_counts_here_too():
    readings = {"wet": Resting(curve=NTC, r_ohm=6.0)}
    assert at_rest(readings, t_c=20).standing["wet"].state == "short"
    assert at_rest(readings, t_c=20, short_ohm=5).standing["wet"].state == "off-curve"
