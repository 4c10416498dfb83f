"""A curve with its tolerance and range: there and back, ordered, and silent outside."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.characteristic import Characteristic
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.platinum import Platinum
from kb.numbers.tolerance import PlatinumClass, SpreadTolerance
from kb.numbers.winding_metal import WindingMetal

CURVES = [
    Characteristic(
        law=NtcBeta(r_ref=10e3, b_k=3977),
        tolerance=SpreadTolerance(r_fraction=0.01, b_fraction=0.0075, b_k=3977),
        low_c=-40,
        high_c=125,
        id="ntc",
    ),
    Characteristic(
        law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200, id="pt"
    ),
    Characteristic(law=WindingMetal(r_ref=2.4), low_c=-20, high_c=180, id="winding"),
]


@given(st.sampled_from(CURVES), st.floats(0, 1))
def test_it_goes_there_and_back_and_its_band_holds_the_nominal(curve, share):
    t_c = curve.low_c + share * (curve.high_c - curve.low_c)
    r_ohm = curve.r_ohm(t_c)
    assert curve.t_c(r_ohm) == pytest.approx(t_c, abs=1e-8)
    assert curve.low_ohm(t_c) <= r_ohm <= curve.high_ohm(t_c)
    assert curve.tol_k(t_c) >= 0


@given(st.sampled_from(CURVES), st.floats(0, 1), st.floats(0.001, 1))
def test_it_only_falls_or_only_rises(curve, share, step):
    low_c = curve.low_c + share * (curve.high_c - curve.low_c)
    high_c = min(low_c + step, curve.high_c)
    rises = curve.r_ohm(high_c) - curve.r_ohm(low_c)
    assert rises <= 0 if curve.falling else rises >= 0


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: curve.id)
def test_the_band_does_not_break_off_at_the_ends(curve):
    ends = np.array([curve.low_c, curve.low_c + 1e-6, curve.high_c - 1e-6, curve.high_c])
    for ask in (curve.low_ohm, curve.high_ohm, curve.tol_k):
        cold, cold_in, hot_in, hot = ask(ends)
        assert cold == pytest.approx(cold_in, rel=1e-5)
        assert hot == pytest.approx(hot_in, rel=1e-5)


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: curve.id)
@pytest.mark.parametrize("ask", ["r_ohm", "low_ohm", "high_ohm", "tol_k", "slope_ohm_per_k"])
def test_outside_its_range_nothing_is_answered(curve, ask):
    for t_c in (curve.low_c - 0.01, curve.high_c + 0.01, float("nan")):
        with pytest.raises(OutOfRange):
            getattr(curve, ask)(t_c)


def test_a_resistance_outside_its_range_is_not_answered():
    with pytest.raises(OutOfRange) as caught:
        CURVES[0].t_c(100)
    assert str(caught.value).startswith("100 Ω is outside 350.")
    assert "where curve ntc holds" in str(caught.value)


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: curve.id)
def test_single_values_stay_single_and_arrays_keep_their_shape(curve):
    for ask in (curve.r_ohm, curve.low_ohm, curve.high_ohm, curve.tol_k, curve.slope_ohm_per_k):
        assert type(ask(20)) is float
        assert ask(np.full((2, 2), 20.0)).shape == (2, 2)


def test_a_range_wider_than_the_law_is_refused():
    with pytest.raises(OutOfRange) as caught:
        Characteristic(law=Platinum(r0=100), low_c=-250, high_c=100)
    assert str(caught.value).startswith("-250 °C is outside -200 to 850 °C, where the law holds")


def test_a_range_that_runs_backwards_is_refused():
    with pytest.raises(ValueError) as caught:
        Characteristic(law=Platinum(r0=100), low_c=100, high_c=0)
    assert str(caught.value) == "a range runs from low to high, not from 100 to 0 °C"
