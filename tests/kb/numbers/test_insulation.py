"""Insulation resistance brought to 40 °C, and the part's own limit before the standard's."""

from __future__ import annotations

import math

import numpy as np
import pytest

from kb.numbers.insulation import (
    brought_to_c,
    factor_to_40,
    judge_insulation,
    standard_min_ohm,
)
from kb.numbers.out_of_range import OutOfRange


@pytest.mark.published("insulation_thermoplastic")
def test_thermoplastic_factors_are_met_within_half_their_last_digit(sheet, t_c):
    got = factor_to_40(t_c, material="thermoplastic")
    # 0.3536 and 0.125 are printed to four places at most.
    assert got == pytest.approx(float(sheet.printed[t_c]), abs=0.5e-4)


@pytest.mark.published("insulation_worked")
def test_worked_examples_are_met_to_their_three_figures(sheet):
    for told in sheet.fields["examples"]:
        for material in ("thermoplastic", "thermoset"):
            got = told["mohm"] * factor_to_40(told["t_c"], material=material)
            assert float(f"{got:.3g}") == pytest.approx(float(f"{told[material]:.3g}"), rel=1e-9)


@pytest.mark.published("insulation_worked")
def test_a_published_chart_reading_is_not_what_its_own_rule_gives(sheet):
    (told,) = [one for one in sheet.fields["examples"] if "chart_reading" in one]
    by_rule = told["mohm"] * factor_to_40(told["t_c"], material="thermoplastic")
    assert by_rule == 24.0
    assert told["chart_reading"] == 21.0


@pytest.mark.published("insulation_minimum")
def test_the_standards_minimum_is_met_for_each_kind_of_winding(sheet):
    for winding, mohm in sheet.fields["at_400_v"].items():
        assert standard_min_ohm(winding=winding, rated_v=400) == pytest.approx(mohm * 1e6)


@pytest.mark.parametrize("material", ["thermoplastic", "thermoset"])
def test_the_factor_rises_with_temperature_and_is_one_at_40(material):
    t_c = np.linspace(10, 85, 751)
    factors = factor_to_40(t_c, material=material)
    assert np.all(np.diff(factors) > 0)
    assert factor_to_40(40.0, material=material) == 1.0


def test_it_goes_there_and_back():
    there = brought_to_c(5e6, from_c=22, to_c=40, material="thermoset")
    assert brought_to_c(there, from_c=40, to_c=22, material="thermoset") == pytest.approx(5e6)


def test_the_parts_own_limit_stands_before_the_standards():
    got = judge_insulation(3e6, t_c=40, material="thermoset", part_min_ohm=2e6)
    assert got.state == "within"
    assert [(one.whose, one.state) for one in got.checks] == [
        ("part", "within"),
        ("IEEE 43", "outside"),
    ]
    assert judge_insulation(3e6, t_c=40, material="thermoset").state == "outside"


def test_the_parts_limit_is_held_at_its_own_temperature():
    got = judge_insulation(
        8e6, t_c=40, material="thermoplastic", part_min_ohm=20e6, part_limit_c=20
    )
    # At 20 °C it would read four times as much.
    assert got.checks[0].reading_ohm == pytest.approx(32e6)
    assert got.checks[0].state == "within"


@pytest.mark.parametrize(
    ("mohm", "state"), [(4.0, "outside"), (4.9, "undecided"), (5.2, "undecided"), (6.5, "within")]
)
def test_near_the_limit_the_testers_error_decides_nothing(mohm, state):
    got = judge_insulation(mohm * 1e6, t_c=40, material="thermoset", percent=5)
    assert got.state == state


def test_over_range_is_as_good_as_it_can_show():
    got = judge_insulation(math.inf, t_c=20, material="thermoset", percent=5, part_min_ohm=1e9)
    assert got.state == "within"
    assert got.at_40_ohm == math.inf


@pytest.mark.parametrize("t_c", [9.9, 85.1])
def test_outside_the_corrections_range_there_is_no_answer(t_c):
    with pytest.raises(OutOfRange):
        factor_to_40(t_c, material="thermoset")


def test_unknown_words_are_refused_with_the_known_ones():
    with pytest.raises(ValueError) as caught:
        factor_to_40(40, material="paper")
    assert str(caught.value) == "material 'paper' is neither thermoplastic nor thermoset"
    with pytest.raises(ValueError) as caught:
        standard_min_ohm(winding="old", rated_v=400)
    assert str(caught.value) == "winding 'old' is not one of before-1970, form-wound, random-wound"
