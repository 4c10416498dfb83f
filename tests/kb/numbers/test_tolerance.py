"""Part tolerance: true extremes, platinum classes with their ranges, columns, kelvin, unknown."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rtd_sensor import tolerance as theirs

from kb.numbers.characteristic import Characteristic
from kb.numbers.grid import compile_grid
from kb.numbers.kelvin import kelvin
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.platinum import Platinum
from kb.numbers.point_table import PointTable
from kb.numbers.tolerance import (
    KelvinTolerance,
    NoTolerance,
    PlatinumClass,
    PointTolerance,
    SpreadTolerance,
)

NTC = NtcBeta(r_ref=10e3, b_k=3977)


def pt(grade, build, low_c, high_c, r0=100.0):
    return Characteristic(
        law=Platinum(r0=r0),
        tolerance=PlatinumClass(grade=grade, build=build),
        low_c=low_c,
        high_c=high_c,
    )


@pytest.mark.published("platinum_class_kelvin")
def test_platinum_classes_are_met_exactly_in_kelvin(sheet):
    for grade, points in sheet.fields["classes"].items():
        low_c, high_c = PlatinumClass(grade=grade, build="wire").span_c()
        curve = pt(grade, "wire", low_c, high_c)
        for t_c, tol_k in points.items():
            assert curve.tol_k(t_c) == pytest.approx(tol_k, abs=1e-12), (grade, t_c)


@pytest.mark.published("platinum_class_range")
def test_platinum_classes_hold_over_their_published_ranges_and_no_further(sheet):
    for grade, builds in sheet.fields["classes"].items():
        for build, (low_c, high_c) in builds.items():
            curve = pt(grade, build, low_c, high_c)
            assert curve.tol_k([low_c, high_c]).shape == (2,)
            for wider in ((low_c - 0.1, high_c), (low_c, high_c + 0.1)):
                with pytest.raises(OutOfRange):
                    pt(grade, build, *wider)


@pytest.mark.published("platinum_class_b_ohm")
def test_class_b_in_ohms_is_met_within_half_the_last_digit(sheet):
    curve = pt("B", "wire", -100, 400)
    for t_c, tol_ohm in sheet.points:
        half_band = (curve.high_ohm(t_c) - curve.low_ohm(t_c)) / 2
        assert half_band == pytest.approx(tol_ohm, abs=0.0005)


@pytest.mark.parametrize("grade", ["AA", "A", "B", "C"])
def test_platinum_classes_agree_with_an_independent_library(grade):
    own = PlatinumClass(grade=grade, build="film")
    low_c, high_c = own.span_c()
    for t_c in np.linspace(low_c, high_c, 41):
        told = theirs.thermometer_tolerance_c(
            float(t_c), tolerance_class=grade, construction="film"
        )
        assert own.kelvin_k(t_c) == pytest.approx(told, abs=1e-12)


def test_there_is_no_class_a_for_a_film_element_at_minus_40():
    with pytest.raises(OutOfRange) as caught:
        pt("A", "film", -40, 150)
    assert str(caught.value) == (
        "-40 °C is outside -30 to 300 °C, where class A for a film element (IEC 60751) holds; "
        "it is never extrapolated: give a value inside, or use a curve that reaches further"
    )
    assert pt("A", "wire", -40, 150).tol_k(-40) == pytest.approx(0.23)


@pytest.mark.published("ntc_tolerance_examples")
def test_one_makers_worked_example_multiplies(sheet):
    told = sheet.fields["product"]
    b_part = told["b_part_percent"] / 100
    away = abs(1 / kelvin(0) - 1 / kelvin(25))
    spread = SpreadTolerance(
        r_fraction=told["r_percent"] / 100, b_fraction=np.log1p(b_part) / (3977 * away), b_k=3977
    )
    curve = Characteristic(law=NTC, tolerance=spread, low_c=-40, high_c=125)
    z = curve.high_ohm(0) / curve.r_ohm(0) - 1
    assert 100 * z == pytest.approx(told["z_percent"], abs=0.0051)
    # The sheet divides by the temperature coefficient; this curve is turned round instead.
    assert 100 * z / told["tc_percent_per_k"] == pytest.approx(told["dt_k"], abs=0.005)
    assert curve.tol_k(0) == pytest.approx(told["dt_k"], rel=0.05)


@pytest.mark.published("ntc_tolerance_examples")
def test_another_makers_worked_example_adds_and_is_narrower(sheet):
    told = sheet.fields["sum"]
    law = NtcBeta(r_ref=1e3, b_k=told["b_k"], at_c=told["rated_c"])
    spread = SpreadTolerance(
        r_fraction=told["r_percent"] / 100,
        at_c=told["rated_c"],
        b_fraction=told["b_percent"] / 100,
        b_k=told["b_k"],
    )
    curve = Characteristic(law=law, tolerance=spread, low_c=-40, high_c=125)
    away = abs(1 / kelvin(told["t_c"]) - 1 / kelvin(told["rated_c"]))
    added = told["r_percent"] + told["b_percent"] * told["b_k"] * away
    assert added == pytest.approx(told["z_percent"], abs=0.05)
    assert told["z_percent"] / told["alpha_percent_per_k"] == pytest.approx(told["dt_k"], abs=0.005)
    z_percent = 100 * (curve.high_ohm(told["t_c"]) / curve.r_ohm(told["t_c"]) - 1)
    # (1 + 0.05) exp(0.0333) - 1 = 8.56 %, and not 8.33 %: the true extreme is the wider.
    assert z_percent == pytest.approx(100 * (1.05 * np.exp(0.015 * 3930 * away) - 1), rel=1e-12)
    assert z_percent == pytest.approx(8.56, abs=0.005)


@given(st.floats(-40, 125), st.floats(0, 0.2), st.floats(0, 0.05))
def test_the_band_is_the_worst_of_every_part_within_its_spread(t_c, a, b):
    spread = SpreadTolerance(r_fraction=a, b_fraction=b, b_k=3977)
    curve = Characteristic(law=NTC, tolerance=spread, low_c=-40, high_c=125)
    parts = [
        NtcBeta(r_ref=10e3 * (1 + i * a), b_k=3977 * (1 + j * b)).r_ohm(t_c)
        for i in (-1, 0, 1)
        for j in (-1, 0, 1)
    ]
    assert curve.low_ohm(t_c) == pytest.approx(min(parts), rel=1e-9)
    assert curve.high_ohm(t_c) == pytest.approx(max(parts), rel=1e-9)
    assert curve.low_ohm(t_c) <= curve.r_ohm(t_c) <= curve.high_ohm(t_c)


@given(st.floats(-30, 115), st.floats(0.001, 0.1))
def test_kelvin_are_the_larger_side_of_the_band_turned_back(t_c, a):
    curve = Characteristic(law=NTC, tolerance=SpreadTolerance(r_fraction=a), low_c=-40, high_c=125)
    sides = [abs(NTC.t_c(bound) - t_c) for bound in (curve.low_ohm(t_c), curve.high_ohm(t_c))]
    assert curve.tol_k(t_c) == pytest.approx(max(sides), abs=1e-6)


@pytest.mark.published("silicon_kty81_110_limits")
def test_low_and_high_columns_are_met_and_joined(sheet, read_sheet):
    limits = sheet.fields["points"]
    curve = Characteristic(
        law=PointTable(points=tuple(read_sheet("silicon_kty81_110").points)),
        tolerance=PointTolerance(points=tuple((t, *ends) for t, ends in limits.items())),
        low_c=-55,
        high_c=150,
    )
    for t_c, (low_ohm, high_ohm) in limits.items():
        assert curve.low_ohm(t_c) == pytest.approx(low_ohm)
        assert curve.high_ohm(t_c) == pytest.approx(high_ohm)
    dense = np.linspace(-55, 150, 411)
    assert np.all(curve.low_ohm(dense) <= curve.r_ohm(dense))
    assert np.all(curve.high_ohm(dense) >= curve.r_ohm(dense))
    # 1 % at 25 °C and 0.79 %/K: some 1.3 K.
    assert curve.tol_k(25) == pytest.approx(10 / 7.9, rel=0.02)


def test_coarse_columns_never_push_the_band_off_the_nominal():
    nominal = PointTable(points=((0.0, 30e3), (10.0, 20e3), (20.0, 13e3), (30.0, 9.0e3)))
    # Columns with a row missing: joined on their own, they leave the nominal at 10 °C.
    columns = PointTolerance(points=((0.0, 30e3, 30e3), (20.0, 13e3, 13e3), (30.0, 9e3, 9e3)))
    curve = Characteristic(law=nominal, tolerance=columns, low_c=0, high_c=30)
    t_c = np.linspace(0, 30, 301)
    assert np.all(curve.low_ohm(t_c) <= curve.r_ohm(t_c))
    assert np.all(curve.r_ohm(t_c) <= curve.high_ohm(t_c))


def test_plain_kelvin_hold_everywhere():
    curve = Characteristic(law=NTC, tolerance=KelvinTolerance(kelvin=0.5), low_c=-40, high_c=125)
    assert curve.tol_k([-40, 25, 125]) == pytest.approx([0.5, 0.5, 0.5])
    assert curve.low_ohm(25) == pytest.approx(NTC.r_ohm(25.5))
    assert curve.high_ohm(25) == pytest.approx(NTC.r_ohm(24.5))


def test_an_unknown_tolerance_says_so_and_is_the_nominal_itself():
    curve = Characteristic(law=NTC, tolerance=NoTolerance(), low_c=-40, high_c=125)
    assert not curve.tolerance_known
    assert curve.low_ohm(25) == curve.r_ohm(25) == curve.high_ohm(25)
    assert curve.tol_k(25) == 0


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (
            lambda: SpreadTolerance(r_fraction=5),
            "r_fraction 5 and b_fraction 0 are shares from 0 to below 1, such as 0.01 for 1 %",
        ),
        (lambda: KelvinTolerance(kelvin=0), "± 0 K must be above zero"),
        (lambda: PlatinumClass(grade="D"), "class 'D' is not one of AA, A, B, C"),
        (lambda: PlatinumClass(grade="A", build="glass"), "build 'glass' is neither film nor wire"),
        (lambda: PointTolerance(points=((0, 9, 8), (25, 5, 6))), "at 0 °C low 9 is above high 8 Ω"),
    ],
)
def test_a_tolerance_that_means_nothing_is_refused(make, message):
    with pytest.raises(ValueError) as caught:
        make()
    assert str(caught.value) == message


def test_kelvin_may_grow_away_from_0_c_and_otherwise_below():
    nickel = KelvinTolerance(kelvin=0.4, per_c=0.007, below_per_c=0.028)
    at_c = np.array([-60.0, -10.0, 0.0, 10.0, 100.0])
    assert nickel.kelvin_k(at_c) == pytest.approx([2.08, 0.68, 0.4, 0.47, 1.1])
    curve = Characteristic(
        law=Nickel(r0=1000.0, ppm_per_k=6180), tolerance=nickel, low_c=-60.0, high_c=120.0
    )
    grid = compile_grid(curve)
    assert grid.worst_error_k <= 0.002
    for t_c in (-40.0, -0.5, 0.0, 33.3, 100.0):
        assert curve.tol_k(t_c) == pytest.approx(float(nickel.kelvin_k(np.array(t_c))))
        assert grid.tol_k(t_c) == pytest.approx(curve.tol_k(t_c), abs=0.003)
        # The band is where a part that is off by just that much reads.
        assert curve.low_ohm(t_c) == pytest.approx(curve.law.r_ohm(t_c - curve.tol_k(t_c)))


def test_a_tolerance_does_not_shrink_away_from_0_c():
    with pytest.raises(ValueError, match="grows with the distance from its temperature, or stays"):
        KelvinTolerance(kelvin=0.4, per_c=-0.01)
