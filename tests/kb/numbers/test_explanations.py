"""Other explanations: offered where they fit, with their number, and not where they do not."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.characteristic import Characteristic
from kb.numbers.divider import parallel_ohm
from kb.numbers.explanations import explain
from kb.numbers.measured import Measured
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum
from kb.numbers.tolerance import PlatinumClass, SpreadTolerance

SPREAD = SpreadTolerance(r_fraction=0.01)
TEN = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3977), tolerance=SPREAD, low_c=-40, high_c=125)
FIVE = Characteristic(law=NtcBeta(r_ref=5e3, b_k=3470), tolerance=SPREAD, low_c=-40, high_c=125)
PT = Characteristic(
    law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200
)


def read(r_ohm, t_c=5.0):
    return Measured(
        r_ohm=r_ohm,
        t_c=t_c,
        meter_half_ohm=0.01 * r_ohm,
        thermometer_half_k=0.3,
        placement_half_k=0.5,
    )


def kinds(found):
    return [one.kind for one in found]


def test_a_slip_of_unit_is_found_both_ways():
    nominal = TEN.r_ohm(5.0)
    low = explain(TEN, measured=read(nominal / 1000))
    high = explain(TEN, measured=read(nominal * 1000))
    assert kinds(low) == kinds(high) == ["unit-slip"]
    assert low[0].figures == {"times": 1000.0}
    assert high[0].figures == {"times": 0.001}


def test_a_decimal_point_misread_is_found():
    found = explain(TEN, measured=read(TEN.r_ohm(5.0) * 10))
    assert kinds(found) == ["factor-ten"]
    assert found[0].figures == {"times": 0.1}


def test_still_plugged_in_is_found_with_the_sensors_own_resistance():
    seen = parallel_ohm(TEN.r_ohm(5.0), other_ohm=10e3)
    found = explain(TEN, measured=read(seen), pull_up_ohm=10e3)
    assert kinds(found) == ["plugged-in"]
    assert found[0].figures["sensor_ohm"] == pytest.approx(TEN.r_ohm(5.0))
    assert explain(TEN, measured=read(seen)) == ()


@pytest.mark.parametrize("r_ohm", [9810.0, 9.99e3, 10e3, 10.1e3])
def test_a_reading_of_the_pull_up_itself_is_the_board_and_an_open_sensor(r_ohm):
    found = explain(TEN, measured=read(r_ohm), pull_up_ohm=10e3)
    assert kinds(found) == ["board-alone"]
    assert (found[0].t_implied_c, found[0].error_k) == (None, None)
    assert found[0].figures == {"pull_up_ohm": 10e3}
    assert explain(TEN, measured=read(r_ohm)) == ()


def test_how_near_to_the_pull_up_is_the_pull_up_itself_hangs_on_the_meter():
    # ± 1 % of the pull-up, 100 Ω (common practice, no source), and the meter's own ± 50 Ω.
    def told(r_ohm: float) -> list[str]:
        measured = Measured(r_ohm=r_ohm, t_c=5.0, meter_half_ohm=50.0, thermometer_half_k=0.3)
        return kinds(explain(TEN, measured=measured, pull_up_ohm=10e3))

    assert told(9851.0) == told(10149.0) == ["board-alone"]
    assert "board-alone" not in told(9849.0) + told(10151.0)


def test_a_reading_near_the_pull_up_says_little_about_the_sensor():
    # 42 kΩ beside 10 kΩ reads 8.1 kΩ: 1 % of that is 5 % of the sensor, so 4 % off still fits.
    sensor_ohm = TEN.r_ohm(-4.5) * 1.04
    seen = parallel_ohm(sensor_ohm, other_ohm=10e3)
    exact = Measured(r_ohm=seen, t_c=-4.5, meter_half_ohm=0.01 * seen)
    assert kinds(explain(TEN, measured=exact, pull_up_ohm=10e3)) == ["plugged-in"]
    better = Measured(r_ohm=seen, t_c=-4.5, meter_half_ohm=0.001 * seen)
    assert explain(TEN, measured=better, pull_up_ohm=10e3) == ()


def test_another_curve_is_found_and_named():
    found = explain(TEN, measured=read(FIVE.r_ohm(5.0)), others={"five": FIVE, "ten": TEN})
    assert kinds(found) == ["other-curve"]
    assert found[0].figures == {"curve": "five"}
    assert found[0].t_implied_c == pytest.approx(5.0)


def test_a_constant_resistance_in_series_is_found():
    found = explain(PT, measured=read(PT.r_ohm(5.0) + 60))
    assert kinds(found) == ["series-resistance"]
    assert found[0].figures["series_ohm"] == pytest.approx(60)


def test_a_contact_worse_than_half_the_sensor_is_not_believed():
    assert explain(PT, measured=read(PT.r_ohm(5.0) * 1.6)) == ()


def test_nothing_is_offered_that_does_not_fit():
    odd = TEN.r_ohm(5.0) * 0.45
    assert explain(TEN, measured=read(odd), pull_up_ohm=1e6, others={"five": PT}) == ()


@given(st.floats(1, 1e7), st.floats(-20, 80))
def test_whatever_is_offered_fits_within_limit_and_uncertainty(r_ohm, t_c):
    others = {"five": FIVE, "pt": PT}
    for one in explain(TEN, measured=read(r_ohm, t_c), pull_up_ohm=12e3, others=others):
        if one.kind == "board-alone":
            continue
        # The widest: 1 % part and 1 % meter stretched at most ten times, 0.3 and 0.5 K beside it.
        assert abs(one.error_k) < 25
        if one.kind != "plugged-in":
            assert abs(one.error_k) < 6


@pytest.mark.parametrize("r_ohm", [0.0, math.inf])
def test_open_and_dead_short_have_no_other_reading(r_ohm):
    assert explain(TEN, measured=Measured(r_ohm=r_ohm, t_c=5.0)) == ()


def test_a_reading_that_stands_as_it_is_has_no_other_explanation():
    """Within or not decided: nobody's slip, although another curve would fit too."""
    stands = Measured(r_ohm=float(TEN.r_ohm(20)), t_c=20, placement_half_k=2.0)
    assert explain(TEN, measured=stands, pull_up_ohm=1e6, others={"twin": TEN, "five": FIVE}) == ()
