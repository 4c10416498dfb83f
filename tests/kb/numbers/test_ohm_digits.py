"""Digits of ohms are chosen from the kelvin that they stand for."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.grid import compile_grid
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.platinum import Platinum
from kb.numbers.rounding import digits_for, significant
from kb.numbers.winding_metal import WindingMetal

CURVES = [
    Characteristic(law=NtcBeta(r_ref=10e3, b_k=3977), low_c=-40.0, high_c=150.0),
    Characteristic(law=NtcBeta(r_ref=999.6, b_k=2800), low_c=0.0, high_c=60.0),
    Characteristic(law=Platinum(r0=100.0), low_c=-50.0, high_c=500.0),
    Characteristic(law=Platinum(r0=1000.0), low_c=-50.0, high_c=150.0),
    Characteristic(law=Nickel(r0=1000.0, ppm_per_k=5000), low_c=-50.0, high_c=150.0),
    Characteristic(law=WindingMetal(r_ref=12.5, constant=235.0), low_c=-20.0, high_c=120.0),
]


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: type(curve.law).__name__)
def test_half_a_digit_stands_for_less_than_a_twentieth_of_a_kelvin(curve):
    digits = ohm_digits(curve)
    for t_c in np.linspace(curve.low_c, curve.high_c, 301).tolist():
        r_ohm = curve.r_ohm(t_c)
        off_k = abs((significant(r_ohm, digits=digits) - r_ohm) / curve.slope_ohm_per_k(t_c))
        assert off_k < 0.051
    # One digit fewer would not do, somewhere on the curve.
    at_c = np.linspace(curve.low_c, curve.high_c, 301)
    half_ohm = 0.5 * 10.0 ** (np.floor(np.log10(curve.r_ohm(at_c))) - digits + 2)
    assert np.max(half_ohm / np.abs(curve.slope_ohm_per_k(at_c))) > 0.05


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: type(curve.law).__name__)
def test_the_grid_of_the_page_has_the_same_digits(curve):
    assert ohm_digits(compile_grid(curve)) == ohm_digits(curve)


@pytest.mark.parametrize(
    ("rate_per_k", "digits"),
    [(1.0, 3), (0.1, 3), (0.0999, 4), (0.04, 4), (0.01, 4), (0.00999, 5), (0.0039, 5), (1e-9, 6)],
)
def test_three_digits_at_least_and_six_at_most(rate_per_k, digits):
    assert digits_for(rate_per_k) == digits
