"""An unmarked sensor: ranked, and honest where two curves cannot be told apart."""

from __future__ import annotations

import math

import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.measured import Measured
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.tolerance import SpreadTolerance
from kb.numbers.which_curve import which_curve


def curve(r_ref, b_k):
    return Characteristic(
        law=NtcBeta(r_ref=r_ref, b_k=b_k),
        tolerance=SpreadTolerance(r_fraction=0.01),
        low_c=-40,
        high_c=125,
    )


CURVES = {"10k-3977": curve(10e3, 3977), "10k-3435": curve(10e3, 3435), "5k-3470": curve(5e3, 3470)}


def read(name, t_c):
    r_ohm = CURVES[name].r_ohm(t_c)
    return Measured(
        r_ohm=r_ohm,
        t_c=t_c,
        meter_half_ohm=0.01 * r_ohm,
        thermometer_half_k=0.5,
        placement_half_k=0.5,
    )


def test_one_reading_far_from_25_names_the_curve():
    got = which_curve(CURVES, readings=[read("10k-3435", 0.0)])
    assert next(one.curve for one in got.ranking) == "10k-3435"
    assert got.separable
    assert got.parting is None


def test_at_25_two_curves_cannot_be_told_apart_and_it_says_where_they_part():
    got = which_curve(CURVES, readings=[read("10k-3977", 25.0)])
    assert [one.fits for one in got.ranking] == [True, True, False]
    assert not got.separable
    assert set(got.parting.curves) == {"10k-3977", "10k-3435"}
    assert got.parting.certain
    # What it advises does separate them.
    again = which_curve(CURVES, readings=[read("10k-3977", got.parting.at_c)])
    assert again.separable
    assert again.ranking[0].curve == "10k-3977"


def test_two_readings_decide_what_one_could_not():
    got = which_curve(CURVES, readings=[read("10k-3977", 25.0), read("10k-3977", 0.0)])
    assert got.separable
    assert got.ranking[0].curve == "10k-3977"
    assert got.ranking[0].chi2 == pytest.approx(0, abs=1e-12)


def test_a_reading_that_fits_nothing_is_not_called_separable():
    got = which_curve(CURVES, readings=[Measured(r_ohm=2e3, t_c=0.0, thermometer_half_k=0.5)])
    assert not got.separable
    assert not any(one.fits for one in got.ranking)


def test_a_curve_that_does_not_reach_is_ranked_last():
    got = which_curve(CURVES, readings=[Measured(r_ohm=20.0, t_c=100.0)])
    assert all(one.worst_k == math.inf for one in got.ranking)


def test_no_reading_is_refused():
    with pytest.raises(ValueError) as caught:
        which_curve(CURVES, readings=[])
    assert str(caught.value) == (
        "no reading to compare; give at least one temperature and resistance"
    )
