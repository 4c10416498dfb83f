"""Windings, insulation and PTC loops on every limit itself."""

from __future__ import annotations

import math

import pytest

from kb.numbers.insulation import brought_to_c, judge_insulation
from kb.numbers.loop_verdict import judge_loop
from kb.numbers.measured import Measured
from kb.numbers.switching_ptc import SwitchingPtc
from kb.numbers.winding_balance import winding_balance
from kb.numbers.winding_value import winding_value

from .straight_line import HALF_OF_U_2


def balance(*r_ohm, allowed_share=0.125, half_ohm=0.0):
    names = "abcdef"[: len(r_ohm)]
    return winding_balance(
        dict(zip(names, r_ohm, strict=True)),
        half_widths_ohm=dict.fromkeys(names, half_ohm),
        t_c=20.0,
        allowed_share=allowed_share,
    )


def test_a_departure_of_just_the_allowed_share_is_within():
    # 3.5 and 4.5 Ω are an eighth of their mean of 4 Ω off.
    got = balance(3.5, 4.5)
    assert (got.state, got.worst_share, got.mean_at_20_ohm) == ("within", 0.125, 4.0)
    assert [one.off_share for one in got.windings.values()] == [-0.125, 0.125]
    assert balance(3.5, 4.5, allowed_share=0.1249).state == "outside"


def test_the_uncertainty_of_a_departure_is_that_of_a_difference_from_a_mean():
    # u = 1 Ω each: of two, u² (1 − 1/2) of the mean; of three, u² (1 − 1/3).
    for count in (2, 3, 6):
        got = balance(*[10.0] * count, half_ohm=math.sqrt(3))
        uncertainty_share = 2 * math.sqrt(1 - 1 / count) / 10
        assert [one.uncertainty_share for one in got.windings.values()] == pytest.approx(
            [uncertainty_share] * count
        )


def test_the_worst_winding_is_the_state_of_all():
    # The mean is 8 Ω: a quarter, nothing and a quarter off.
    assert balance(6.0, 8.0, 10.0).state == "outside"
    assert {name: one.state for name, one in balance(6.0, 8.0, 10.0).windings.items()} == {
        "a": "outside",
        "b": "within",
        "c": "outside",
    }
    # U of a few per cent: the one on the mean is within, the others are too close to call.
    close = balance(7.0, 8.0, 9.0, half_ohm=0.25)
    assert [one.state for one in close.windings.values()] == ["undecided", "within", "undecided"]
    assert close.state == "undecided"
    assert balance(7.0, 9.0, allowed_share=None).state == ""


def test_an_open_winding_leaves_the_others_uncompared():
    got = balance(math.inf, 8.0)
    assert (got.state, got.mean_at_20_ohm, got.worst_share) == ("open", None, None)
    assert [one.state for one in got.windings.values()] == ["open", ""]
    assert [one.r_ohm for one in got.windings.values()] == [math.inf, 8.0]
    assert got.windings["b"].at_20_ohm == 8.0


def value(r_ohm, **changed):
    given = {
        "half_ohm": 0.0,
        "t_c": 20.0,
        "part_ohm": 4.0,
        "part_c": 20.0,
        "allowed_share": 0.125,
        "t_half_k": 0.0,
    }
    return winding_value(r_ohm, **(given | changed))


def test_a_winding_off_by_just_the_makers_tolerance_is_within():
    assert [value(r_ohm).state for r_ohm in (4.5, 3.5, 4.501, 3.499)] == [
        "within",
        "within",
        "outside",
        "outside",
    ]
    open_ = value(math.inf)
    assert (open_.at_20_ohm, open_.off_share, open_.uncertainty_share) == (math.inf, math.inf, 0.0)


def test_the_meters_half_width_is_brought_to_twenty_degrees_too():
    hot = value(4.0 * 304.5 / 254.5, t_c=70.0, half_ohm=0.1)
    assert hot.uncertainty_share == pytest.approx(2 * 0.1 * 254.5 / 304.5 / 4 / math.sqrt(3))
    kelvin = value(4.0 * 304.5 / 254.5, t_c=70.0, t_half_k=2.0)
    assert kelvin.uncertainty_share == pytest.approx(2 * 2.0 / 304.5 / math.sqrt(3))


def insulation(r_ohm, *, t_c=40.0, material="thermoplastic", **figures):
    return judge_insulation(r_ohm, t_c=t_c, material=material, **figures)


def test_insulation_on_its_limit_is_enough():
    assert insulation(5e6).state == "within"
    assert insulation(4.999e6).state == "outside"
    # ± 10 % of 5 MΩ is U = 0.577 MΩ; of 4.5 MΩ it is 0.52 MΩ.
    states = [insulation(r * 1e6, percent=10).state for r in (5.7, 5.6, 4.5, 4.4)]
    assert states == ["within", "undecided", "undecided", "outside"]


def test_insulation_at_limit_plus_uncertainty_is_within():
    # The tester's percentage is chosen so that U is the distance to the limit.
    r_ohm = 8e6
    percent = 100 * (r_ohm - 5e6) * math.sqrt(3) / 2 / r_ohm
    assert insulation(r_ohm, percent=percent * (1 - 1e-12)).state == "within"
    assert insulation(r_ohm, percent=percent * (1 + 1e-12)).state == "undecided"


def test_a_limit_like_the_standards_is_judged_once():
    assert [check.whose for check in insulation(5e6, part_min_ohm=5e6).checks] == ["part"]
    other = insulation(5e6, part_min_ohm=5e6, part_limit_c=20.0)
    assert [check.whose for check in other.checks] == ["part", "IEEE 43"]
    assert other.checks[0].reading_ohm == pytest.approx(20e6)
    assert (other.checks[0].limit_ohm, other.checks[0].limit_c) == (5e6, 20.0)


@pytest.mark.parametrize(
    ("t_c", "beyond"), [(9.99, "cold"), (10.0, ""), (85.0, ""), (85.01, "hot")]
)
def test_both_ends_of_the_correction_still_have_one(t_c, beyond):
    got = insulation(5e6, t_c=t_c)
    assert got.beyond == beyond
    assert (got.at_40_ohm is None) == bool(beyond)


def test_beyond_the_correction_only_what_is_certain_is_said():
    states = [insulation(r, t_c=0.0).state for r in (4e6, 5e6, 50e6)]
    assert states == ["outside", "undecided", "undecided"]
    states = [insulation(r, t_c=90.0).state for r in (4e6, 5e6, 50e6)]
    assert states == ["undecided", "within", "within"]
    assert insulation(4e6, t_c=0.0).checks[0].reading_ohm == 4e6


def test_insulation_goes_there_and_back_between_any_two_temperatures():
    cold_ohm = brought_to_c(1e6, from_c=40.0, to_c=20.0, material="thermoplastic")
    assert cold_ohm == pytest.approx(4e6)
    assert brought_to_c(cold_ohm, from_c=20.0, to_c=40.0, material="thermoplastic") == (
        pytest.approx(1e6)
    )


def loop(r_ohm, t_c=20.0, **halves):
    return judge_loop(
        SwitchingPtc(trip_c=120.0, in_series=3),
        measured=Measured(r_ohm=r_ohm, t_c=t_c, **halves),
        short_ohm=5.0,
    )


@pytest.mark.parametrize(
    ("r_ohm", "t_c", "verdict"),
    [
        (748.0, 20.0, "within"),
        (748.125, 20.0, "undecided"),
        (752.0, 20.0, "undecided"),
        (752.125, 20.0, "outside"),
        (3992.0, 125.0, "within"),
        (3991.875, 125.0, "undecided"),
        (3988.0, 125.0, "undecided"),
        (3987.875, 125.0, "outside"),
        (62.0, 20.0, "within"),
        (17.875, 20.0, "short"),
        (4.99, 20.0, "short"),
    ],
)
def test_a_loop_on_limit_less_and_plus_uncertainty(r_ohm, t_c, verdict):
    got = loop(r_ohm, t_c, meter_half_ohm=HALF_OF_U_2)
    assert (got.verdict, got.uncertainty_ohm) == (verdict, 2.0)
    assert got.dominant == ("meter" if verdict == "undecided" else None)


def test_of_two_equal_doubts_of_temperature_the_thermometer_is_named():
    got = loop(1000.0, 114.0, thermometer_half_k=1.0, placement_half_k=1.0)
    assert (got.verdict, got.dominant) == ("undecided", "thermometer")


def test_a_loop_over_range_has_no_uncertainty_of_its_own():
    assert (loop(math.inf).verdict, loop(math.inf).uncertainty_ohm) == ("open", None)
    assert loop(math.inf).high_ohm == 750.0
    assert (loop(1000.0, 120.0).low_ohm, loop(1000.0, 120.0).dominant) == (None, None)


def test_near_the_coldest_promise_the_thermometer_may_reach_past_it():
    got = loop(100.0, -20.0, thermometer_half_k=5.0)
    assert (got.verdict, got.high_ohm) == ("within", 750.0)


def test_a_loop_needs_one_element_at_least_and_one_is_enough():
    assert SwitchingPtc(trip_c=120.0, in_series=1).limits_ohm(20.0) == (0, 250)
