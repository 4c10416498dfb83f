"""Platinum against the published tables and somebody else's library."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rtd_sensor import pt100, pt1000

from kb.numbers.out_of_range import OutOfRange
from kb.numbers.platinum import Platinum

# 31.335046 by the equation; the transcription prints 31.33, as if rounded from 31.335.
ROUNDED_TWICE = {("platinum_pt100_printed", -170.0): 0.0051}


@pytest.mark.published("platinum_pt100_[pe]*")
def test_every_printed_pt100_value_is_met_within_half_its_last_digit(sheet, t_c):
    half = ROUNDED_TWICE.get((sheet.name, t_c), sheet.half_digit(t_c))
    assert Platinum(r0=100).r_ohm(t_c) == pytest.approx(float(sheet.printed[t_c]), abs=half)


@pytest.mark.published("platinum_pt1000_equation")
def test_every_pt1000_value_is_met_within_half_its_last_digit(sheet, t_c):
    half = sheet.half_digit(t_c)
    assert Platinum(r0=1000).r_ohm(t_c) == pytest.approx(float(sheet.printed[t_c]), abs=half)


@pytest.mark.published("platinum_pt100_inverse")
def test_the_temperature_of_a_printed_resistance_is_met(sheet):
    for r_ohm, t_c in sheet.points:
        # 24.987998 is given as 24.98799: cut off, not rounded, so one whole digit is allowed there.
        within = 1e-5 if r_ohm == 109.73 else 0.5e-5
        assert Platinum(r0=100).t_c(r_ohm) == pytest.approx(t_c, abs=within)
        assert Platinum(r0=100).t_c(r_ohm) == pytest.approx(
            pt100.resistance_to_celsius(r_ohm), abs=1e-9
        )


def test_a_dense_grid_agrees_with_an_independent_library():
    t_c = np.linspace(-200, 850, 2101)
    theirs = np.array([pt100.celsius_to_resistance(float(t)) for t in t_c])
    assert Platinum(r0=100).r_ohm(t_c) == pytest.approx(theirs, rel=1e-13)
    inverse = np.array([pt100.resistance_to_celsius(float(r)) for r in theirs[1:-1]])
    assert Platinum(r0=100).t_c(theirs[1:-1]) == pytest.approx(inverse, abs=1e-8)


def test_pt1000_agrees_with_an_independent_library():
    t_c = np.linspace(-200, 850, 211)
    theirs = np.array([pt1000.celsius_to_resistance(float(t)) for t in t_c])
    assert Platinum(r0=1000).r_ohm(t_c) == pytest.approx(theirs, rel=1e-13)


@given(st.floats(-200, 850), st.sampled_from([100.0, 500.0, 1000.0]))
def test_celsius_to_resistance_and_back_returns_the_temperature(t_c, r0):
    law = Platinum(r0=r0)
    assert law.t_c(law.r_ohm(t_c)) == pytest.approx(t_c, abs=1e-9)


@given(st.floats(-199, 849))
def test_the_slope_is_that_of_the_resistance(t_c):
    law = Platinum(r0=100)
    step = (law.r_ohm(t_c + 0.01) - law.r_ohm(t_c - 0.01)) / 0.02
    assert law.slope_ohm_per_k(t_c) == pytest.approx(step, rel=1e-6)


def test_arrays_keep_their_shape_and_numbers_stay_numbers():
    law = Platinum(r0=100)
    assert type(law.r_ohm(25)) is float
    assert type(law.t_c(110)) is float
    assert law.r_ohm(np.zeros((2, 3))).shape == (2, 3)
    assert law.t_c(np.array([[18.6, 100.0], [110.0, 390.0]])).shape == (2, 2)


def test_outside_its_range_there_is_no_answer():
    with pytest.raises(OutOfRange) as caught:
        Platinum(r0=100).r_ohm([20.0, 851.0])
    assert str(caught.value) == (
        "851 °C is outside -200 to 850 °C, where platinum holds; it is never extrapolated: "
        "give a value inside, or use a curve that reaches further"
    )
    told = caught.value
    assert (told.value, told.low, told.high, told.unit) == (851.0, -200.0, 850.0, "°C")
    with pytest.raises(OutOfRange):
        Platinum(r0=100).t_c(400.0)


def test_not_a_number_is_outside_every_range():
    with pytest.raises(OutOfRange):
        Platinum(r0=100).r_ohm(float("nan"))


def test_a_nominal_of_zero_is_refused():
    with pytest.raises(ValueError) as caught:
        Platinum(r0=0)
    assert str(caught.value) == "r0 0 Ω must be above zero"
