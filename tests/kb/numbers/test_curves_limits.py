"""Explanations, ranking of curves, reach of meters and stand-ins on every limit itself."""

from __future__ import annotations

import math

import numpy as np
import pytest

from kb.numbers.curve_pair import apart, most_apart
from kb.numbers.likely_faults import Known, explain
from kb.numbers.mean_offset import STUDENT_95, mean_offset
from kb.numbers.measured import Measured, taken
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.meter_reach import meter_reach
from kb.numbers.minimax import minimax_fit
from kb.numbers.notation import parse_t_c
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange, within
from kb.numbers.point_table import PointTable
from kb.numbers.stand_in import stand_ins
from kb.numbers.thermometer import Thermometer
from kb.numbers.tolerance import KelvinTolerance, PointTolerance, SpreadTolerance, require_span
from kb.numbers.which_curve import which_curve

from .straight_line import HALF_COVERING_2, HALF_OF_U_2, line


def read(r_ohm, **halves):
    return Measured(r_ohm=r_ohm, t_c=64.0, **halves)


def kinds(found):
    return [explanation.kind for explanation in found]


def found_in(curve, measured, **known):
    return explain(Known(curve=curve, **known), readings=[measured])


def test_what_is_off_by_limit_and_uncertainty_stands_as_it_is():
    twin = {"twin": line(low_c=0.0, high_c=127.0)}
    halves = {"thermometer_half_k": HALF_COVERING_2}
    assert found_in(line(), read(1512 + 23.99, **halves), family=twin) == ()
    # A hair more, and it is something: another curve of the same shape explains nothing.
    found = found_in(line(), read(1512 + 25, **halves), family=twin)
    assert found and "other-curve" not in kinds(found)


@pytest.mark.parametrize(
    ("times", "kind"),
    [(1000.0, "unit-slip"), (0.001, "unit-slip"), (10.0, "factor-ten"), (0.1, "factor-ten")],
)
def test_a_slip_belongs_to_what_was_shown_with_the_leads_on_it(times, kind):
    leads_ohm = 8.0
    shown_ohm = (1512 + leads_ohm) / times
    if shown_ohm <= leads_ohm:
        leads_ohm, shown_ohm = 0.0, 1512 / times
    measured = read(shown_ohm - leads_ohm, leads_ohm=leads_ohm, meter_half_ohm=0.001 * shown_ohm)
    found = found_in(line(), measured)
    assert kinds(found) == [kind]
    assert found[0].figures == {"times": times}
    assert found[0].t_implied_c == pytest.approx(64.0, abs=1e-9)


def test_another_curve_is_neither_the_same_one_nor_one_of_the_same_name():
    bent, far = line(id="bent"), line(low_c=60.0, high_c=70.0)
    # 4 K off, where 8 K would do.
    reading = read(1512.0 - 32.0)
    wide = line(8.0)
    others = {"bent": wide, "itself": bent, "far": far}
    assert "other-curve" not in kinds(found_in(bent, reading, family=others))
    assert "other-curve" in kinds(found_in(bent, reading, family={"wide": wide}))
    assert "other-curve" in kinds(found_in(line(), reading, family={"": wide}))


def test_of_other_curves_the_likeliest_comes_first_and_equals_by_name():
    # Read at 64 °C, the curves of the others are taken where theirs is 0 or 1/2 K off.
    own = line(0.25, low_c=0.0, high_c=128.0)
    wide = {"z": line(16.0), "b": line(16.0), "a": line(16.0)}
    (found,) = (
        one for one in found_in(own, read(1512 - 64), family=wide) if one.kind == "other-curve"
    )
    assert found.figures == {"curve": "a", "curves": ("a", "b", "z")}
    assert found.error_k == -8.0


def test_two_curves_that_meet_in_one_temperature_have_nowhere_to_part():
    curves = {"cold": line(low_c=0.0, high_c=64.0), "hot": line(low_c=64.0, high_c=128.0)}
    got = which_curve(curves, readings=[read(1512.0)])
    assert [one.fits for one in got.ranking] == [True, True]
    assert (got.separable, got.parting) == (False, None)
    # Equal in everything they are ranked by name.
    assert [one.curve for one in got.ranking] == ["cold", "hot"]


def test_a_candidate_fits_up_to_limit_and_uncertainty_and_counts_both():
    halves = {"thermometer_half_k": HALF_COVERING_2}
    curves = {"a": line(1.0), "b": line(1.0)}
    on_it = which_curve(curves, readings=[read(1512 + 23.99, **halves)]).ranking[0]
    assert (on_it.fits, on_it.worst_k) == (True, pytest.approx(2.99875))
    assert on_it.chi2 == pytest.approx(2.99875**2 / (HALF_COVERING_2**2 / 3 + 1 / 3))
    past = which_curve(curves, readings=[read(1512 + 25, **halves), read(1512.0)]).ranking[0]
    assert (past.fits, past.worst_k) == (False, 3.125)


def test_without_any_uncertainty_only_the_nominal_itself_has_a_finite_score():
    curves = {"bare": line(None)}
    assert which_curve(curves, readings=[read(1512.0)]).ranking[0].chi2 == 0.0
    assert which_curve(curves, readings=[read(1520.0)]).ranking[0].chi2 == math.inf


def test_to_part_two_curves_takes_both_limits_and_twice_the_worst_uncertainty():
    curves = {"a": line(1.0), "b": line(2.0, low_c=16.0, high_c=112.0)}
    readings = [
        read(1512.0, thermometer_half_k=HALF_OF_U_2, meter_half_ohm=8.0),
        read(1512.0, placement_half_k=1.0, meter_half_ohm=16.0),
    ]
    got = which_curve(curves, readings=readings).parting
    # U: of the temperature 2 K, of the meter 2 · 2 K/√3.
    assert got.needed_k == pytest.approx(1 + 2 + 2 * math.hypot(2.0, 4 / math.sqrt(3)))
    assert (got.by_k, got.certain) == (pytest.approx(0.0, abs=1e-12), False)
    assert 16.0 <= got.at_c <= 112.0


METER = Meter(
    ranges=(
        OhmRange(span_ohm=1000.0, resolution_ohm=0.5, percent=1.0, digits=2),
        OhmRange(span_ohm=1600.0, resolution_ohm=1.0, percent=2.0, digits=3),
    ),
    leads_ohm=8.0,
)


def test_a_meter_shows_up_to_its_span_and_the_smallest_range_up_to_its_own():
    assert METER.half_width_ohm(1000.0) == 10.0 + 1.0
    assert METER.half_width_ohm(1000.1) == pytest.approx(20.002 + 3.0)
    assert METER.half_width_ohm(1600.0) == 32.0 + 3.0
    assert METER.half_width_ohm(1600.1) == math.inf
    assert METER.range_for(1000.0) is METER.ranges[0]
    assert [METER.digit_ohm(r_ohm) for r_ohm in (1000.0, 1600.0)] == [0.5, 1.0]
    assert METER.ranges[0].half_width_ohm(-100.0) == 2.0
    assert taken(1600.0, t_c=20.0, meter=METER).r_ohm == 1592.0
    assert taken(1600.1, t_c=20.0, meter=METER).r_ohm == math.inf


def test_a_good_part_may_read_just_the_meters_span():
    # A good part reads up to 8 Ω more than its nominal, and the leads add 8 Ω.
    t_c = np.array([(1600.0 - 8 - 8 - 1000) / 8, (1600.0 - 8 - 8 - 1000) / 8 + 0.125])
    assert meter_reach(METER, curve=line(), t_c=t_c).over_range.tolist() == [False, True]


def test_where_no_limit_is_known_no_meter_is_too_coarse():
    assert meter_reach(METER, curve=line(None), t_c=[20.0]).too_coarse.tolist() == [False]
    # 1160 + 8 Ω: half-width 26.36 Ω is 3.295 K, U = 3.805 K.
    coarse = [
        meter_reach(METER, curve=line(tol_k), t_c=[20.0]).too_coarse.tolist()
        for tol_k in (3.80, 3.81)
    ]
    assert coarse == [[True], [False]]
    assert meter_reach(METER, curve=line(1.0), t_c=[20.0], allow_k=3.81).can_judge.tolist() == [
        True
    ]


def test_parts_of_a_pair_are_within_a_factor_of_a_hundred():
    # 1010 Ω is 10 and 1000 Ω in series to the last digit, but 10 Ω is more than a hundredth of it.
    _, pairs = stand_ins(line(), t_c=1.25, series="E12", best=200)
    smallest_ohm = min(min(pair.parts_ohm) for pair in pairs)
    assert smallest_ohm == 12.0
    assert max(max(pair.parts_ohm) for pair in pairs) <= 101_000
    singles, pairs = stand_ins(line(), t_c=0.0, series="E12", best=2)
    assert (singles[0].r_ohm, singles[0].error_k, len(singles), len(pairs)) == (1000.0, 0.0, 2, 2)
    with pytest.raises(OutOfRange):
        stand_ins(line(), t_c=-0.01)


def test_beyond_thirty_errors_the_quantile_of_thirty_stands():
    for count, quantile in ((31, STUDENT_95[29]), (32, STUDENT_95[29]), (40, STUDENT_95[29])):
        errors_k = [float(i % 2) for i in range(count)]
        half_k = quantile * np.std(errors_k, ddof=1) / math.sqrt(count)
        assert mean_offset(errors_k).half_k == pytest.approx(half_k)


def test_readings_all_alike_are_off_centre_unless_they_are_all_right():
    assert not mean_offset([0.0, 0.0, 0.0]).off_centre
    assert mean_offset([0.5, 0.5, 0.5]).off_centre
    assert mean_offset([-0.5, -0.5, -0.5]).off_centre
    assert mean_offset([0.5]).count == 1


def test_absolute_zero_is_a_temperature_and_nothing_below_it():
    assert parse_t_c("-273.15") == -273.15
    with pytest.raises(ValueError, match=r"^'-273.16' is below absolute zero"):
        parse_t_c("-273.16")


def test_rounding_at_a_bound_is_no_excursion():
    assert within(100.0 * (1 + 5e-10), low=0.0, high=100.0, unit="Ω") == 100.0
    assert within(-5e-10, low=0.0, high=100.0, unit="Ω") == 0.0
    for value in (100.0 * (1 + 2e-9), -2e-9, math.nan):
        with pytest.raises(OutOfRange):
            within(value, low=0.0, high=100.0, unit="Ω")


def test_a_tolerance_reaches_to_the_very_ends_it_is_promised_for():
    points = PointTolerance(points=((0.0, 990.0, 1010.0), (10.0, 1070.0, 1070.0)))
    require_span(points, low_c=0.0, high_c=10.0)
    for low_c, high_c in ((-0.1, 10.0), (0.0, 10.1)):
        with pytest.raises(OutOfRange):
            require_span(points, low_c=low_c, high_c=high_c)


def test_a_share_may_be_nothing_and_never_the_whole():
    SpreadTolerance(r_fraction=0.0)
    for fractions in ({"r_fraction": 1.0}, {"r_fraction": 0.01, "b_fraction": 1.0}):
        with pytest.raises(ValueError, match="are shares from 0 to below 1"):
            SpreadTolerance(**fractions)
    with pytest.raises(ValueError, match=r"^± 0 K must be above zero$"):
        KelvinTolerance(kelvin=0.0)


def test_the_tolerance_in_kelvin_is_the_larger_of_both_sides():
    columns = PointTolerance(points=((0.0, 984.0, 1008.0), (128.0, 2008.0, 2032.0)))
    curve = line()
    bounded = type(curve)(law=curve.law, tolerance=columns, low_c=0.0, high_c=128.0)
    assert bounded.tol_k(64.0) == 2.0
    assert (bounded.low_ohm(64.0), bounded.high_ohm(64.0)) == (1496.0, 1520.0)


def test_two_curves_apart_name_what_each_reads():
    pair = apart(line(), other=line(low_c=32.0), t_c=64.0)
    assert (pair.at_c, pair.one_ohm, pair.other_ohm, pair.by_k) == (64.0, 1512.0, 1512.0, 0.0)
    assert most_apart(line(high_c=64.0), other=line(low_c=64.0)) is None


def test_a_falling_table_has_the_slope_of_its_resistance():
    law = NtcBeta(r_ref=10e3, b_k=3977)
    table = PointTable(points=tuple((float(t_c), law.r_ohm(float(t_c))) for t_c in range(0, 55, 5)))
    for t_c in (0.0, 12.5, 50.0):
        assert table.slope_ohm_per_k(t_c) == pytest.approx(law.slope_ohm_per_k(t_c), rel=2e-3)


def test_a_thermometer_out_of_its_range_is_named():
    for name, shown in (("probe", "probe"), ("", "this thermometer")):
        with pytest.raises(OutOfRange, match=f"where {shown} holds"):
            Thermometer(accuracy_k=0.5, low_c=0.0, high_c=100.0, id=name).half_width_k(101.0)


def test_the_worst_point_of_a_fit_is_as_good_as_it_can_be():
    # A constant through 0, 0 and 3: the middle of the extremes, not the mean.
    terms, wanted = np.ones((3, 1)), np.array([0.0, 0.0, 3.0])
    (constant,), worst = minimax_fit(terms, wanted=wanted, allowed=np.full(3, 0.1))
    assert (constant, worst) == (pytest.approx(1.5, rel=1e-2), pytest.approx(15.0, rel=1e-2))
    (exact,), worst = minimax_fit(terms, wanted=np.zeros(3), allowed=np.full(3, 0.1))
    assert (exact, worst) == (0.0, 0.0)
