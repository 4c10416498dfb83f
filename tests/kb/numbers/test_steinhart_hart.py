"""Steinhart–Hart: a worked example, an independent library, there and back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from thermistor_utils.SH_converter import SH_converter

from kb.numbers.steinhart_hart import SteinhartHart

LAW = SteinhartHart(a=1.1291483e-3, b=2.3412455e-4, c=8.767421e-8)


@pytest.mark.published("steinhart_hart_three_points")
def test_the_worked_coefficients_meet_their_points_and_values(sheet):
    coefficients = {name.lower(): value for name, value in sheet.fields["coefficients"].items()}
    law = SteinhartHart(**coefficients)
    for t_c, r_ohm in sheet.fields["points"].items():
        assert law.r_ohm(t_c) == pytest.approx(r_ohm, rel=1e-8)
    assert law.t_c(97006.9) == pytest.approx(sheet.fields["t_c_of_97006_9"], abs=0.5e-6)
    assert law.r_ohm(-20) == pytest.approx(sheet.fields["r_ohm_at_minus_20"], abs=0.5e-3)


def test_a_dense_grid_agrees_with_an_independent_library():
    theirs = SH_converter(LAW.a, LAW.b, LAW.c)
    t_c = np.linspace(-60, 200, 521)
    # Their two cube roots cancel without the Newton step: they are good to some 1e-9.
    assert LAW.r_ohm(t_c) == pytest.approx([theirs.resistance(float(t)) for t in t_c], rel=1e-8)
    r_ohm = np.geomspace(100, 1e6, 401)
    assert LAW.t_c(r_ohm) == pytest.approx([theirs.temperature(float(r)) for r in r_ohm], abs=1e-9)


@given(st.floats(-100, 400))
def test_temperature_to_resistance_and_back_returns_the_temperature(t_c):
    assert LAW.t_c(LAW.r_ohm(t_c)) == pytest.approx(t_c, abs=1e-9)


@given(st.floats(-99, 399))
def test_the_slope_is_that_of_the_resistance(t_c):
    step = (LAW.r_ohm(t_c + 0.01) - LAW.r_ohm(t_c - 0.01)) / 0.02
    assert LAW.slope_ohm_per_k(t_c) == pytest.approx(step, rel=1e-5)


def test_without_a_third_coefficient_it_is_a_b_value():
    law = SteinhartHart(a=1 / 298.15 - np.log(10e3) / 3977, b=1 / 3977, c=0)
    assert law.r_ohm(25) == pytest.approx(10e3, rel=1e-12)
    assert law.t_c(law.r_ohm(80)) == pytest.approx(80, abs=1e-9)


def test_coefficients_that_turn_back_are_refused():
    with pytest.raises(ValueError) as caught:
        SteinhartHart(a=1e-3, b=2.3e-4, c=-1e-8)
    assert str(caught.value) == (
        "b 0.00023 must be above zero and c -1e-08 not below it, or the curve turns back; "
        "check the signs, or use a table of points"
    )
