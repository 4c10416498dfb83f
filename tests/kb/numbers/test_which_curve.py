"""An unmarked sensor: ranked, and honest where two curves cannot be told apart."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
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


class Known:
    """A curve known to so much everywhere."""

    def __init__(self, half_k):
        self.known_k = half_k

    def half_k(self, t_c):
        return np.full_like(np.asarray(t_c, dtype=float), self.known_k)


def test_a_curve_is_judged_with_its_own_width():
    # At 10 °C the 3435 part reads as 12.4 °C on the other curve: 2.4 K off, and 1.6 K allowed.
    sharp = which_curve(CURVES, readings=[read("10k-3435", 10.0)])
    assert sharp.separable
    rough = CURVES | {"10k-3977": replace(CURVES["10k-3977"], width=Known(2.0))}
    fitting = [
        c.curve for c in which_curve(rough, readings=[read("10k-3435", 10.0)]).ranking if c.fits
    ]
    assert set(fitting) == {"10k-3435", "10k-3977"}


def test_where_two_part_the_width_of_each_counts():
    reading = [read("10k-3977", 25.0)]
    sharp = which_curve(CURVES, readings=reading).parting
    rough = which_curve(
        CURVES | {"10k-3977": replace(CURVES["10k-3977"], width=Known(1.5))}, readings=reading
    ).parting
    # The meter's 1 % by the first curve's slope, 0.5 and 0.5 K, and 1.5 K of the rough one.
    first = CURVES[rough.curves[0]]
    meter_k = 0.01 * reading[0].r_ohm / abs(first.slope_ohm_per_k(25.0))
    taken_k = 2 * math.sqrt((meter_k**2 + 0.5**2 + 0.5**2) / 3)
    limits_k = sum(curve.tol_k(rough.at_c) for curve in (CURVES[name] for name in rough.curves))
    own_k = math.hypot(taken_k, 2 * 1.5 / math.sqrt(3))
    assert rough.needed_k == pytest.approx(limits_k + taken_k + own_k, rel=1e-9)
    # Further away than without it.
    assert abs(rough.at_c - 25) > abs(sharp.at_c - 25)


def test_no_reading_is_refused():
    with pytest.raises(ValueError) as caught:
        which_curve(CURVES, readings=[])
    assert str(caught.value) == (
        "no reading to compare; give at least one temperature and resistance"
    )
