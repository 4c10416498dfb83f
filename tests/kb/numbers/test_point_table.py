"""Printed tables: points met exactly, nothing overshoots, what lies between is found again."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from kb.numbers.kelvin import kelvin
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.point_table import PointTable
from kb.numbers.printed import printed_points

# Departures in K that are the table's own, measured, by which half of its points is kept: there
# the print is not as smooth as its last digit, and scipy's PCHIP and spline miss by as much.
ROUGH_K = {
    ("ntc_adafruit_103_3950", 0): {105.0: 0.061, 115.0: 0.064},
    ("ntc_adafruit_103_3950", 1): {-20.0: 0.058, 100.0: 0.076},
    ("ntc_amwei_amf52_503_3950_epoxy", 0): {25.0: 0.092},
    ("ntc_amwei_amf52_503_3950_epoxy", 1): {20.0: 0.066},
    # 45 °C stands before a gap of 35 K.
    ("ntc_amwei_amf58_502_3470_axial", 0): {45.0: 0.050},
}


@pytest.mark.published("ntc_[asvme]*_*[0-9]*")
@pytest.mark.parametrize("first", [0, 1])
def test_every_second_point_removed_is_found_again(sheet, first):
    points = printed_points([(t_c, sheet.printed[t_c]) for t_c in sheet.printed])[first:]
    kept = PointTable(points=tuple((p.t_c, p.r_ohm) for p in points[::2]))
    whole = PointTable(points=tuple((p.t_c, p.r_ohm) for p in points))
    rough_k = ROUGH_K.get((sheet.name, first), {})
    seen_rough = {}
    for before, point, after in zip(points[::2], points[1::2], points[2::2], strict=False):
        off_ohm = abs(kept.r_ohm(point.t_c) - point.r_ohm)
        off_k = off_ohm / abs(whole.slope_ohm_per_k(point.t_c))
        # The neighbours were rounded too: a cubic through four points takes 9/16 of the near two
        # and 1/16 of the next, 5/4 in all.
        beside = before.half_ohm / before.r_ohm + after.half_ohm / after.r_ohm
        rounding_ohm = point.half_ohm + 5 / 8 * beside * point.r_ohm
        if off_k > 0.05 and off_ohm > rounding_ohm:
            seen_rough[point.t_c] = off_k
    assert seen_rough == pytest.approx(rough_k, abs=0.001)


@pytest.mark.published("ntc_[asvme]*_*[0-9]*")
def test_the_points_of_a_table_are_met_exactly_both_ways(sheet):
    t_c, r_ohm = np.array(sheet.points).T
    table = PointTable(points=tuple(sheet.points))
    assert table.r_ohm(t_c) == pytest.approx(r_ohm, rel=1e-14)
    assert table.t_c(r_ohm) == pytest.approx(t_c, abs=1e-10)


@pytest.mark.published("silicon_kty81_110")
def test_a_rising_silicon_table_agrees_with_its_published_formula(sheet, read_sheet):
    told = read_sheet("silicon_kty81_formula").fields
    t_c, r_ohm = np.array(sheet.points).T
    past_k = t_c - 25
    formula = 1000 * (1 + told["a"] * past_k + told["b"] * past_k**2)
    formula -= 1000 * told["c"] * np.maximum(t_c - 100, 0) ** told["d"]
    assert np.abs(formula - r_ohm).max() == pytest.approx(told["largest_deviation_ohm"], abs=0.001)
    table = PointTable(points=tuple(sheet.points))
    assert not table.falling
    dense_c = np.linspace(-55, 150, 821)
    past_k = dense_c - 25
    formula = 1000 * (1 + told["a"] * past_k + told["b"] * past_k**2)
    formula -= 1000 * told["c"] * np.maximum(dense_c - 100, 0) ** told["d"]
    # Between points rounded to 1 ohm: half an ohm of theirs, half an ohm of the formula's.
    assert np.abs(table.r_ohm(dense_c) - formula).max() < 1.0


@pytest.mark.published("ntc_vishay_ntcalug01a103")
def test_between_points_it_agrees_with_scipy_as_well_as_scipy_agrees_with_itself(sheet):
    t_c, r_ohm = np.array(sheet.points).T
    table = PointTable(points=tuple(sheet.points))
    theirs = PchipInterpolator((1 / kelvin(t_c))[::-1], np.log(r_ohm)[::-1])
    dense_c = np.linspace(t_c[0], t_c[-1], 1451)
    off_ln = np.log(table.r_ohm(dense_c)) - theirs(1 / kelvin(dense_c))
    off_k = np.abs(off_ln * table.r_ohm(dense_c) / table.slope_ohm_per_k(dense_c))
    assert off_k.max() < 0.01


@pytest.mark.published("ntc_murata_ncpxxxh103")
def test_the_inverse_is_the_root_that_scipy_finds(sheet):
    table = PointTable(points=tuple(sheet.points))
    for r_ohm in np.geomspace(310, 195000, 40):
        root_c = brentq(lambda t, r=r_ohm: table.r_ohm(t) - r, -40, 150, xtol=1e-12)
        assert table.t_c(r_ohm) == pytest.approx(root_c, abs=1e-9)


@st.composite
def tables(draw):
    steps_c = draw(st.lists(st.floats(0.5, 40), min_size=1, max_size=12))
    steps_ln = draw(st.lists(st.floats(1e-3, 3), min_size=len(steps_c), max_size=len(steps_c)))
    t_c = -60 + np.concatenate([[0], np.cumsum(steps_c)])
    ln_r = np.concatenate([[0], np.cumsum(steps_ln)])
    falling = draw(st.booleans())
    r_ohm = np.exp(3 - ln_r if falling else 3 + ln_r)
    return PointTable(points=tuple(zip(t_c, r_ohm, strict=True)))


@given(tables(), st.floats(0, 1))
def test_any_table_is_monotone_and_goes_there_and_back(table, share):
    low_c, high_c = table.domain_c
    dense = table.r_ohm(np.linspace(low_c, high_c, 301))
    steps = np.diff(dense) / dense[1:]
    assert np.all(steps <= 1e-12) if table.falling else np.all(steps >= -1e-12)
    r_ohm = table.r_ohm(low_c + share * (high_c - low_c))
    assert table.r_ohm(table.t_c(r_ohm)) == pytest.approx(r_ohm, rel=1e-9)


@pytest.mark.published("do_not_use_*")
def test_a_minimum_column_passed_off_as_nominal_is_half_a_kelvin_off(sheet, read_sheet):
    copied = PointTable(points=tuple(sheet.points))
    assert copied.r_ohm(25) / sheet.fields["r25_data_sheet_ohm"] - 1 == pytest.approx(
        -0.022, abs=0.0005
    )
    nominal = PointTable(points=tuple(read_sheet("ntc_vishay_ntcalug01a103").points))
    off_k = np.array([nominal.t_c(copied.r_ohm(t)) - t for t in (25.0, 40.0, 60.0, 80.0)])
    assert off_k == pytest.approx(0.5, abs=0.02)


def test_outside_the_table_there_is_no_answer():
    table = PointTable(points=((0, 30e3), (25, 10e3), (50, 4e3)))
    for ask, value in ((table.r_ohm, 51), (table.t_c, 3999), (table.slope_ohm_per_k, -1)):
        with pytest.raises(OutOfRange):
            ask(value)


@pytest.mark.parametrize(
    ("points", "message"),
    [
        (((25, 1e4),), "a table needs at least two points; here 1"),
        (
            ((0, 3e4), (25, 1e4), (20, 9e3)),
            "20 °C stands after 25 °C; points rise in temperature, each temperature once",
        ),
        (
            ((0, 3e4), (25, 1e4), (50, 1.1e4), (75, 2e3)),
            "the table falls, but from 25 to 50 °C it goes from 10000 to 11000 Ω; "
            "look for a misprint in these two points",
        ),
        (((0, 3e4), (25, 0)), "every point needs a temperature and a resistance above zero"),
    ],
)
def test_points_that_make_no_curve_are_refused(points, message):
    with pytest.raises(ValueError) as caught:
        PointTable(points=points)
    assert str(caught.value) == message


def test_a_published_example_between_two_points_is_met():
    # Standardized R/T characteristics, EPCOS 05/02, p. 147: by the tabulated steepness at 5 °C.
    r5_ohm = 2.2739 * 4700
    assert r5_ohm == pytest.approx(10687.3, abs=0.05)
    b_k = 4.4 / 100 * kelvin(5.0) ** 2
    r10_ohm = r5_ohm * np.exp(b_k * (1 / kelvin(10.0) - 1 / kelvin(5.0)))
    table = PointTable(points=((5.0, r5_ohm), (10.0, float(r10_ohm))))
    assert table.r_ohm(7.0) == pytest.approx(9793.2, abs=0.05)
