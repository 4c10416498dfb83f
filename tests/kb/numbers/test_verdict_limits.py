"""The verdict on every limit itself: what holds there, and what holds a hair past it."""

from __future__ import annotations

import math

import pytest

from kb.numbers.measured import Measured
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.verdict import guard_banded_decision, judge, short_below_ohm

from .straight_line import HALF_COVERING_2, HALF_OF_U_2, line


def read(error_k, *, t_c=64.0, **halves):
    return Measured(r_ohm=1000 + 8 * (t_c + error_k), t_c=t_c, **halves)


@pytest.mark.parametrize(
    ("error", "decision"),
    [(0.75, 1), (0.7501, 0), (1.0, 0), (1.25, 0), (1.2501, -1), (-0.75, 1), (-1.25, 0), (-1.3, -1)],
)
def test_the_guard_band_belongs_to_neither_side(error, decision):
    assert guard_banded_decision(error, limit=1.0, uncertainty=0.25) == decision


@pytest.mark.parametrize(
    ("error_k", "verdict"),
    [
        (1.999, "within"),
        (-1.999, "within"),
        (2.125, "undecided"),
        (4.0, "undecided"),
        (5.999, "undecided"),
        (-5.999, "undecided"),
        (6.125, "outside"),
        (-6.125, "outside"),
    ],
)
def test_on_limit_less_and_plus_uncertainty(error_k, verdict):
    got = judge(line(4.0), measured=read(error_k, thermometer_half_k=HALF_COVERING_2))
    assert got.uncertainty_k == pytest.approx(2.0, rel=1e-15)
    assert (got.limit_k, got.error_k) == (4.0, pytest.approx(error_k))
    assert got.verdict == verdict


def test_with_perfect_instruments_the_limit_is_within_and_all_beyond_it_outside():
    got = [judge(line(1.0), measured=read(error_k)) for error_k in (1.0, 1.125, -1.0, -1.125)]
    assert [verdict.verdict for verdict in got] == ["within", "outside", "within", "outside"]
    assert {verdict.uncertainty_k for verdict in got} == {0.0}


def test_the_larger_of_tolerance_and_allowance_is_the_limit():
    assert judge(line(1.0), measured=read(0.0), allow_k=3.0).limit_k == 3.0
    assert judge(line(1.0), measured=read(0.0), allow_k=0.5).limit_k == 1.0
    assert judge(line(None), measured=read(0.0), allow_k=0.5).limit_known
    bare = judge(line(None), measured=read(0.0))
    assert (bare.verdict, bare.limit_known, bare.settling) == ("undecided", False, None)


def test_the_band_is_the_wider_of_part_and_allowance():
    part = judge(line(2.0), measured=read(0.0), allow_k=1.0)
    assert (part.low_ohm, part.high_ohm) == (1000 + 8 * 62, 1000 + 8 * 66)
    allowed = judge(line(2.0), measured=read(0.0), allow_k=4.0)
    assert (allowed.low_ohm, allowed.high_ohm) == (1000 + 8 * 60, 1000 + 8 * 68)


@pytest.mark.parametrize("t_c", [0.0, 128.0])
def test_both_ends_of_the_range_are_judged_and_nothing_past_them(t_c):
    assert judge(line(), measured=read(0.0, t_c=t_c)).verdict == "within"
    past_c = t_c + math.copysign(1e-3, t_c - 64)
    with pytest.raises(OutOfRange):
        judge(line(), measured=Measured(r_ohm=1500.0, t_c=past_c))


@pytest.mark.parametrize(
    ("t_c", "error_k", "verdict"),
    [
        (0.0, -1.0, "within"),
        (0.0, -1.125, "off-curve"),
        (128.0, 1.0, "within"),
        (128.0, 1.125, "off-curve"),
    ],
)
def test_past_an_end_it_is_compared_as_far_as_limit_and_uncertainty(t_c, error_k, verdict):
    assert judge(line(1.0), measured=read(error_k, t_c=t_c)).verdict == verdict


def test_past_an_end_the_uncertainty_counts_beside_the_limit():
    halves = {"thermometer_half_k": HALF_COVERING_2}
    got = judge(line(1.0), measured=read(-2.999, t_c=0.0, **halves))
    assert (got.verdict, got.error_k) == ("undecided", pytest.approx(-2.999))
    off = judge(line(1.0), measured=read(-3.125, t_c=0.0, **halves))
    assert (off.verdict, off.error_k, off.t_implied_c) == ("off-curve", None, None)
    assert off.uncertainty_k == pytest.approx(2.0, rel=1e-15)


def test_a_reading_on_the_short_threshold_is_no_short():
    verdicts = [judge(line(), measured=Measured(r_ohm=r, t_c=64.0)).verdict for r in (9.99, 10.0)]
    assert verdicts == ["short", "off-curve"]
    # The team may say less, and never more than a tenth of the curve.
    assert short_below_ohm(line(), at_most_ohm=5.0) == 5.0
    assert short_below_ohm(line(), at_most_ohm=500.0) == 100.0
    assert short_below_ohm(line(low_c=-120.0)) == 4.0
    got = judge(line(), measured=Measured(r_ohm=0.0, t_c=64.0), short_ohm=0.0)
    assert got.verdict == "short"


@pytest.mark.parametrize(
    ("tol_k", "thermometer_half_k", "highest_ohm"),
    [(1.0, 0.0, 1000 + 8 * 65), (1.0, HALF_OF_U_2, 1000 + 8 * 67)],
)
def test_over_range_is_open_only_where_every_good_part_is_below_the_span(
    tol_k, thermometer_half_k, highest_ohm
):
    def over(span_ohm):
        halves = {"thermometer_half_k": thermometer_half_k, "meter_span_ohm": span_ohm}
        return judge(line(tol_k), measured=Measured(r_ohm=math.inf, t_c=64.0, **halves))

    assert (over(highest_ohm).verdict, over(highest_ohm).dominant) == ("undecided", "meter")
    assert (over(highest_ohm + 0.125).verdict, over(highest_ohm + 0.125).dominant) == ("open", None)


def test_of_equal_terms_the_first_is_named_and_none_of_them_alone_settles_it():
    got = judge(line(4.0), measured=read(4.0, thermometer_half_k=1.0, placement_half_k=1.0))
    assert (got.verdict, got.dominant) == ("undecided", "thermometer")
    assert got.settling.needed_k == 0.0
    assert got.settling.terms == ()
    assert (got.settling.meter_k, got.settling.meter_can) == (0.0, False)


def test_what_alone_would_settle_it_comes_best_first():
    # Without the thermometer 1 K is left, without the placement 2 K.
    halves = {"thermometer_half_k": HALF_COVERING_2, "placement_half_k": HALF_COVERING_2 / 2}
    got = judge(line(4.0), measured=read(6.125, **halves))
    assert got.verdict == "undecided"
    assert got.settling.needed_k == 2.125
    assert got.settling.terms == ("thermometer", "placement")
    # A need that is just what is left does not decide.
    assert judge(line(4.0), measured=read(5.999, **halves)).settling.terms == ("thermometer",)


def test_the_meters_half_width_becomes_kelvin_by_the_slope():
    got = judge(line(4.0), measured=read(0.0, meter_half_ohm=8 * HALF_COVERING_2))
    assert got.terms_k["meter"] == pytest.approx(HALF_COVERING_2 / 3**0.5, rel=1e-15)
    assert got.uncertainty_k == pytest.approx(2.0, rel=1e-15)
