"""Resistors to plug in place of a sensor: the nearest there are, and what the board then shows."""

from __future__ import annotations

import itertools

import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.e_series import standard_values_ohm
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.platinum import Platinum
from kb.numbers.stand_in import stand_ins

NTC = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3977), low_c=-40, high_c=125)


def together(one):
    if one.wired == "parallel":
        a, b = one.parts_ohm
        return a * b / (a + b)
    return sum(one.parts_ohm)


@pytest.mark.parametrize("t_c", [-20.0, 7.0, 25.0, 90.0])
def test_each_stand_in_is_what_its_parts_make_and_says_what_the_board_shows(t_c):
    singles, pairs = stand_ins(NTC, t_c=t_c)
    for one in (*singles, *pairs):
        assert one.r_ohm == pytest.approx(together(one))
        assert one.shows_c == pytest.approx(NTC.t_c(one.r_ohm))
        assert one.error_k == pytest.approx(one.shows_c - t_c)
    assert [len(one.parts_ohm) for one in singles] == [1, 1, 1]
    assert all(len(one.parts_ohm) == 2 for one in pairs)


def test_no_single_and_no_pair_of_the_series_is_nearer():
    singles, pairs = stand_ins(NTC, t_c=7.0, series="E12")
    drawer = standard_values_ohm("E12", low_ohm=300, high_ohm=2e6)
    singles_ohm = [r for r in drawer if NTC.range_ohm[0] <= r <= NTC.range_ohm[1]]
    best = min(singles_ohm, key=lambda r: abs(NTC.t_c(r) - 7))
    assert singles[0].parts_ohm == (best,)
    errors = []
    for a, b in itertools.combinations_with_replacement(drawer, 2):
        for r_ohm in (a + b, a * b / (a + b)):
            if NTC.range_ohm[0] <= r_ohm <= NTC.range_ohm[1]:
                errors.append(abs(NTC.t_c(r_ohm) - 7))
    assert abs(pairs[0].error_k) == pytest.approx(min(errors), abs=1e-9)


def test_ten_kilohms_stand_for_25_degrees():
    singles, _ = stand_ins(NTC, t_c=25.0)
    assert singles[0].parts_ohm == (10e3,)
    assert singles[0].error_k == pytest.approx(0, abs=1e-9)


def test_a_pair_comes_much_nearer_than_a_single_on_platinum():
    pt = Characteristic(law=Platinum(r0=1000), low_c=-50, high_c=200)
    singles, pairs = stand_ins(pt, t_c=40.0)
    assert abs(singles[0].error_k) > 10
    assert abs(pairs[0].error_k) < 0.5


def test_a_temperature_outside_the_curve_has_no_stand_in():
    with pytest.raises(OutOfRange):
        stand_ins(NTC, t_c=130)
