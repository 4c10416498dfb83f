"""Both nickel curves, which get mistaken for each other."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rtd_sensor import ni1000, ni1000_tk5000

from kb.numbers.nickel import Nickel
from kb.numbers.out_of_range import OutOfRange


@pytest.mark.published("nickel_6180_equation")
def test_the_equation_values_are_met_within_half_their_last_digit(sheet, t_c):
    law = Nickel(ppm_per_k=6180)
    assert law.r_ohm(t_c) == pytest.approx(float(sheet.printed[t_c]), abs=sheet.half_digit(t_c))


@pytest.mark.published("nickel_6180_printed")
def test_the_data_sheet_values_are_met_within_half_their_last_digit(sheet, t_c):
    # At 50 °C the equation gives 1291.05 and the sheet prints 1291.1: just half a digit.
    half = sheet.half_digit(t_c)
    assert Nickel(ppm_per_k=6180).r_ohm(t_c) == pytest.approx(float(sheet.printed[t_c]), abs=half)


def test_5000_ppm_means_half_as_much_again_at_100_degrees():
    assert Nickel(ppm_per_k=5000).r_ohm(100) == pytest.approx(1500.0, abs=0.05)


@pytest.mark.parametrize(("ppm", "library"), [(6180, ni1000), (5000, ni1000_tk5000)])
def test_a_dense_grid_agrees_with_an_independent_library(ppm, library):
    t_c = np.linspace(-60, 250, 621)
    theirs = np.array([library.celsius_to_resistance(float(t)) for t in t_c])
    law = Nickel(ppm_per_k=ppm)
    assert law.r_ohm(t_c) == pytest.approx(theirs, rel=1e-13)
    inverse = np.array([library.resistance_to_celsius(float(r)) for r in theirs[1:-1]])
    assert law.t_c(theirs[1:-1]) == pytest.approx(inverse, abs=1e-8)


@given(st.floats(-60, 250), st.sampled_from([6180, 5000]))
def test_celsius_to_resistance_and_back_returns_the_temperature(t_c, ppm):
    law = Nickel(ppm_per_k=ppm)
    assert law.t_c(law.r_ohm(t_c)) == pytest.approx(t_c, abs=1e-9)


def test_the_two_curves_are_some_20_kelvin_apart_at_100_degrees():
    mistaken_c = Nickel(ppm_per_k=5000).t_c(Nickel(ppm_per_k=6180).r_ohm(100))
    assert mistaken_c - 100 == pytest.approx(20.4, abs=0.5)


def test_an_unknown_nickel_is_refused():
    with pytest.raises(ValueError) as caught:
        Nickel(ppm_per_k=6720)
    assert str(caught.value) == "nickel of 6720 ppm/K is not known; use 6180 or 5000"


def test_outside_its_range_there_is_no_answer():
    with pytest.raises(OutOfRange):
        Nickel(ppm_per_k=6180).r_ohm(-61)
