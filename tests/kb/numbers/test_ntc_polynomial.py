"""The maker's four coefficients, both ways."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.kelvin import kelvin
from kb.numbers.ntc_polynomial import NtcPolynomial
from kb.numbers.out_of_range import OutOfRange

LAW = NtcPolynomial(r_ref=10e3, a=-14.6337, b=4791.842, c=-115334, d=-3730535)


@pytest.mark.published("ntc_polynomial_b3977")
def test_the_values_from_the_coefficients_are_met_within_half_their_last_digit(sheet, t_c):
    told = sheet.fields
    law = NtcPolynomial(r_ref=told["r_ref"], a=told["A"], b=told["B"], c=told["C"], d=told["D"])
    assert law == LAW
    assert law.r_ohm(t_c) == pytest.approx(float(sheet.printed[t_c]), abs=sheet.half_digit(t_c))


def test_the_exact_inverse_agrees_with_the_makers_second_set_as_far_as_the_maker_says(read_sheet):
    told = read_sheet("ntc_polynomial_b3977").fields
    t_c = np.linspace(-40, 125, 331)
    ln_ratio = np.log(LAW.r_ohm(t_c) / told["r_ref"])
    theirs_c = 1 / np.polyval([told[name] for name in ("D1", "C1", "B1", "A1")], ln_ratio) - 273.15
    off_k = np.abs(LAW.t_c(LAW.r_ohm(t_c)) - theirs_c)
    assert off_k[t_c >= 25].max() <= told["both_forms_agree_k"]["warm"]
    assert off_k[t_c < 25].max() <= told["both_forms_agree_k"]["cold"]
    assert off_k.max() > 0.01  # the two sets do differ: this compares two things


@given(st.floats(-100, 400))
def test_temperature_to_resistance_and_back_returns_the_temperature(t_c):
    assert LAW.t_c(LAW.r_ohm(t_c)) == pytest.approx(t_c, abs=1e-9)


@given(st.floats(-99, 399))
def test_the_slope_is_that_of_the_resistance(t_c):
    step = (LAW.r_ohm(t_c + 0.01) - LAW.r_ohm(t_c - 0.01)) / 0.02
    assert LAW.slope_ohm_per_k(t_c) == pytest.approx(step, rel=1e-5)


def test_the_domain_ends_where_the_polynomial_turns_round():
    # D with the wrong sign: it falls around 25 °C and rises when cold.
    law = NtcPolynomial(r_ref=10e3, a=-10.6, b=1000, c=1.1e6, d=-1.5e8)
    low_c, high_c = law.domain_c
    assert -100 < low_c < 25 < high_c
    dense = law.r_ohm(np.linspace(low_c, high_c, 2001))
    assert np.all(np.diff(dense) < 0)
    with pytest.raises(OutOfRange):
        law.r_ohm(low_c - 1)


def test_coefficients_that_rise_are_refused():
    with pytest.raises(ValueError) as caught:
        NtcPolynomial(r_ref=10e3, a=14.6, b=-4791.8, c=115334, d=3730535)
    assert str(caught.value) == ("these coefficients rise at 25 °C; an NTC falls: check the signs")


def test_kelvin_counts_from_absolute_zero():
    assert kelvin(25) == 298.15
