"""The verdict: its order, its guard, its uncertainty, and what it says when it cannot decide."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm
from uncertainties import ufloat, umath

from kb.numbers.characteristic import Characteristic
from kb.numbers.error_bound import COVERAGE
from kb.numbers.grid import compile_grid
from kb.numbers.measured import Measured
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.platinum import Platinum
from kb.numbers.tolerance import KelvinTolerance, NoTolerance, PlatinumClass
from kb.numbers.verdict import (
    expanded_k,
    guard_banded_decision,
    judge,
    rectangular,
    short_below_ohm,
)

LAW = NtcBeta(r_ref=10e3, b_k=3977)
NTC = Characteristic(law=LAW, tolerance=KelvinTolerance(kelvin=1.0), low_c=-40, high_c=125)
PT = Characteristic(
    law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200
)
BARE = Characteristic(law=LAW, tolerance=NoTolerance(), low_c=-40, high_c=125)


def read(implied_c, t_c=20.0, **halves):
    """A reading that a nominal part gives at `implied_c`."""
    return Measured(r_ohm=LAW.r_ohm(implied_c), t_c=t_c, **halves)


@pytest.mark.published("decision_z")
def test_the_normal_quantiles_of_jcgm_106_are_met(sheet):
    for probability, z in sheet.fields["z_by_probability"].items():
        assert norm.ppf(probability) == pytest.approx(z, abs=0.0051)
    told = sheet.fields["zener"]
    p = norm.cdf((told["limit"] - told["y"]) / told["u"])
    assert p == pytest.approx(told["probability"], abs=0.005)


@pytest.mark.published("decision_guard_bands")
def test_our_guard_is_the_w_equals_u_of_ilac_g8(sheet):
    for w_over_u, risk in sheet.fields["risk_by_w_over_u"].items():
        assert norm.sf(2 * w_over_u) == pytest.approx(risk, abs=0.5e-5)
    told = sheet.fields["worked"]

    def way(value):
        error = value - told["nominal"]
        return int(
            guard_banded_decision(error, limit=told["tolerance"], uncertainty=told["uncertainty"])
        )

    assert [way(told["lower"]), way(told["upper"])] == [1, 1]
    assert [way(told["lower"] - 1), way(told["upper"] + 1)] == [0, 0]
    assert [way(told["conditional_pass"]), way(told["conditional_fail"])] == [0, 0]
    assert way(told["fail"]) == -1


@pytest.mark.published("uncertainty_rectangular")
def test_a_half_width_becomes_a_standard_uncertainty_as_in_the_guide(sheet):
    assert rectangular(1) == pytest.approx(sheet.fields["half_width_1"], rel=1e-15)
    told = sheet.fields["copper"]
    assert rectangular(told["half_width"]) == pytest.approx(told["standard"], abs=0.05e-7)


@pytest.mark.parametrize(
    ("implied_c", "verdict"),
    [
        (20.0, "within"),
        (20.4, "within"),
        (20.6, "undecided"),
        (21.4, "undecided"),
        (21.6, "outside"),
        (18.4, "outside"),
        (19.5, "within"),
    ],
)
def test_the_comparison_is_guarded_both_ways(implied_c, verdict):
    # Limit 1 K; of one rectangle U is its half-width times what it covers: 0.5 K.
    got = judge(NTC, measured=read(implied_c, thermometer_half_k=0.5 / COVERAGE))
    assert got.uncertainty_k == pytest.approx(0.5)
    assert got.limit_k == 1.0
    assert got.verdict == verdict
    assert got.error_k == pytest.approx(implied_c - 20)
    assert got.t_implied_c == pytest.approx(implied_c)


def test_the_uncertainty_agrees_with_an_independent_propagation():
    measured = read(22.0, meter_half_ohm=150.0, thermometer_half_k=0.5, placement_half_k=1.5)
    rng = np.random.default_rng(7)
    r_ohm = measured.r_ohm + 150 * rng.uniform(-1, 1, 400_000)
    seen_k = 1 / (1 / 298.15 + np.log(r_ohm / 10e3) / 3977) - 273.15 - 22.0
    seen_k += 0.5 * rng.uniform(-1, 1, 400_000) + 1.5 * rng.uniform(-1, 1, 400_000)
    r = ufloat(measured.r_ohm, 150 / math.sqrt(3))
    t = ufloat(20.0, 0.5 / math.sqrt(3)) + ufloat(0, 1.5 / math.sqrt(3))
    error = 1 / (1 / 298.15 + umath.log(r / 10e3) / 3977) - 273.15 - t
    got = judge(NTC, measured=measured)
    assert got.error_k == pytest.approx(error.nominal_value, abs=1e-9)
    u_k = math.hypot(*got.terms_k.values())
    assert u_k == pytest.approx(error.std_dev, rel=1e-9)
    # And U covers what draws of the same rectangles say that it covers.
    assert np.mean(np.abs(seen_k) > got.uncertainty_k) == pytest.approx(1 - COVERAGE, abs=0.0015)
    assert got.terms_k["placement"] == pytest.approx(1.5 / math.sqrt(3))


@pytest.mark.parametrize(
    ("halves", "dominant"),
    [
        ({"meter_half_ohm": 500.0, "thermometer_half_k": 0.2, "placement_half_k": 0.2}, "meter"),
        ({"meter_half_ohm": 5.0, "thermometer_half_k": 1, "placement_half_k": 0.2}, "thermometer"),
        ({"meter_half_ohm": 5.0, "thermometer_half_k": 0.2, "placement_half_k": 2.0}, "placement"),
    ],
)
def test_when_it_cannot_decide_it_names_the_largest_term(halves, dominant):
    got = judge(NTC, measured=read(20.95, **halves))
    assert got.verdict == "undecided"
    assert got.dominant == dominant
    assert got.settling.needed_k == pytest.approx(0.05)


def test_it_says_what_alone_would_settle_it():
    got = judge(NTC, measured=read(20.5, thermometer_half_k=0.2, placement_half_k=1.5))
    assert got.verdict == "undecided"
    assert got.settling.terms == ("placement",)
    assert got.settling.meter_can
    # Ice water instead of holding the thermometer on does settle it.
    ice = judge(NTC, measured=read(20.5, thermometer_half_k=0.2, placement_half_k=0.1))
    assert ice.verdict == "within"


def test_a_meter_too_coarse_is_named_as_such():
    got = judge(NTC, measured=read(20.9, meter_half_ohm=600.0))
    assert got.verdict == "undecided"
    assert not got.settling.meter_can
    assert got.settling.meter_k > got.settling.needed_k


@pytest.mark.parametrize("implied_c", [20.0, 25.0])
def test_a_decided_verdict_names_no_term(implied_c):
    got = judge(NTC, measured=read(implied_c))
    assert got.dominant is None
    assert got.settling is None


def test_over_range_is_an_open_circuit():
    got = judge(NTC, measured=Measured(r_ohm=math.inf, t_c=20, meter_span_ohm=20e6))
    assert got.verdict == "open"
    assert got.t_implied_c is None


def test_over_range_of_a_meter_too_small_for_the_sensor_says_nothing():
    # At -30 °C a good part reads some 200 kΩ: on a meter to 200 kΩ that is over range too.
    got = judge(NTC, measured=Measured(r_ohm=math.inf, t_c=-30, meter_span_ohm=200e3))
    assert got.verdict == "undecided"
    assert got.dominant == "meter"
    warmer = Measured(r_ohm=math.inf, t_c=0, meter_span_ohm=200e3)
    assert judge(NTC, measured=warmer).verdict == "open"


def test_a_few_ohms_are_a_short():
    assert judge(NTC, measured=Measured(r_ohm=3, t_c=20)).verdict == "short"
    assert judge(NTC, measured=Measured(r_ohm=0, t_c=20)).verdict == "short"
    assert judge(NTC, measured=Measured(r_ohm=15, t_c=20), short_ohm=20).verdict == "short"
    assert judge(NTC, measured=Measured(r_ohm=15, t_c=20), short_ohm=10).verdict == "off-curve"


def test_the_short_threshold_never_reaches_into_the_curve():
    assert short_below_ohm(NTC) == 10
    assert short_below_ohm(NTC, at_most_ohm=5) == 5
    assert short_below_ohm(NTC, at_most_ohm=1e6) == pytest.approx(NTC.range_ohm[0] / 10)
    winding = Characteristic(law=Platinum(r0=1.0), low_c=0, high_c=100)
    assert short_below_ohm(winding) == pytest.approx(0.1)


def test_a_reading_beyond_the_curves_ends_is_off_the_curve():
    assert judge(NTC, measured=Measured(r_ohm=200, t_c=20)).verdict == "off-curve"
    assert judge(NTC, measured=Measured(r_ohm=1e6, t_c=20)).verdict == "off-curve"


@pytest.mark.parametrize("curve", [NTC, PT], ids=["falling", "rising"])
def test_a_good_part_at_the_very_end_of_its_curve_is_within(curve):
    past_ohm = float(curve.beyond_ohm(curve.high_c + 0.2))
    got = judge(curve, measured=Measured(r_ohm=past_ohm, t_c=curve.high_c, thermometer_half_k=0.1))
    assert got.verdict == "within"
    assert got.error_k == pytest.approx(0.2, abs=1e-6)


def test_the_sensors_allowance_widens_the_limit_and_the_ohms():
    got = judge(NTC, measured=read(22.5), allow_k=3.0)
    assert (got.verdict, got.limit_k) == ("within", 3.0)
    assert got.low_ohm == pytest.approx(LAW.r_ohm(23), rel=1e-9)
    assert got.high_ohm == pytest.approx(LAW.r_ohm(17), rel=1e-9)
    tight = judge(NTC, measured=read(20.5), allow_k=0.1)
    assert tight.limit_k == 1.0


def test_without_any_limit_nothing_is_decided():
    got = judge(BARE, measured=read(20.0))
    assert got.verdict == "undecided"
    assert not got.limit_known
    assert judge(BARE, measured=read(20.0), allow_k=1.0).verdict == "within"
    assert judge(BARE, measured=Measured(r_ohm=math.inf, t_c=20)).verdict == "open"


def test_a_temperature_outside_the_curve_is_refused():
    with pytest.raises(OutOfRange):
        judge(NTC, measured=read(20.0, t_c=130))


@given(st.floats(-5, 5), st.floats(0, 2), st.floats(0, 2), st.floats(0.1, 3))
def test_it_is_symmetric_and_more_uncertainty_never_decides_more(error_k, u1, u2, limit_k):
    assert guard_banded_decision(error_k, limit=limit_k, uncertainty=u1) == guard_banded_decision(
        -error_k, limit=limit_k, uncertainty=u1
    )
    less, more = sorted((u1, u2))
    before = int(guard_banded_decision(error_k, limit=limit_k, uncertainty=less))
    after = int(guard_banded_decision(error_k, limit=limit_k, uncertainty=more))
    assert after in (before, 0)


@given(st.floats(-35, 120), st.floats(-3, 3), st.floats(0, 3), st.floats(0, 3))
def test_more_half_width_never_turns_a_verdict_round(t_c, off_k, one, other):
    implied_c = min(max(t_c + off_k, -40), 125)
    less, more = sorted((one, other))
    before = judge(NTC, measured=read(implied_c, t_c=t_c, placement_half_k=less))
    after = judge(NTC, measured=read(implied_c, t_c=t_c, placement_half_k=more))
    assert after.verdict in (before.verdict, "undecided")
    assert after.uncertainty_k >= before.uncertainty_k


@given(st.floats(-35, 120), st.floats(-4, 4))
def test_the_grid_gives_the_verdict_that_the_curve_gives(t_c, off_k):
    implied_c = min(max(t_c + off_k, -40), 125)
    measured = read(implied_c, t_c=t_c, meter_half_ohm=20, placement_half_k=0.5)
    exact, gridded = judge(NTC, measured=measured), judge(GRID, measured=measured)
    assert gridded.error_k == pytest.approx(exact.error_k, abs=0.002)
    # dT/dR of a grid's straight piece differs from the curve's by under one per cent.
    assert gridded.uncertainty_k == pytest.approx(exact.uncertainty_k, rel=0.01)
    near = abs(abs(exact.error_k) - exact.limit_k) - exact.uncertainty_k
    if abs(near) > 0.01 * exact.uncertainty_k + 0.002:
        assert gridded.verdict == exact.verdict


GRID = compile_grid(NTC)


@pytest.mark.parametrize("terms", [(0.3, 0.4), (0.0, 0.0), (1.0,)])
def test_the_expanded_uncertainty_is_twice_the_root_of_the_squares(terms):
    assert expanded_k(*terms) == pytest.approx(2 * math.hypot(*terms))


def test_many_errors_are_decided_at_once():
    ways = guard_banded_decision(np.array([0.1, 0.9, 3.0]), limit=1.0, uncertainty=0.2)
    assert ways.tolist() == [1, 0, -1]


def test_a_reading_below_zero_is_refused():
    with pytest.raises(ValueError) as caught:
        Measured(r_ohm=-1, t_c=20)
    assert str(caught.value) == "a reading of -1 Ω is not zero or more; write OL for over range"
