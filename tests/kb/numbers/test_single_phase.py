"""Which of three leads is the common one, and whether three readings add up."""

from __future__ import annotations

from itertools import permutations

import pytest

from kb.numbers.single_phase import three_leads


def _found(readings: dict[str, float], half_ohm: float = 0.05):
    halves = dict.fromkeys(readings, half_ohm)
    return three_leads(readings, half_widths_ohm=halves, beside_halves_ohm=halves)


@pytest.mark.parametrize("names", list(permutations("123")))
def test_the_common_lead_is_the_one_that_the_greatest_reading_leaves_out(names):
    common, run, start = names
    found = _found({f"{common}-{run}": 2.1, f"{run}-{start}": 7.3, f"{start}-{common}": 5.2})
    assert (found.common, found.run, found.start) == names
    assert found.common_known and found.run_known and found.adds_up


def test_two_equal_windings_tell_the_common_lead_and_no_more():
    found = _found({"1-2": 20.0, "2-3": 40.0, "1-3": 20.02})
    assert found.common == "1"
    assert (found.common_known, found.run_known) == (True, False)


def test_a_winding_of_next_to_nothing_tells_no_lead():
    assert not _found({"1-2": 0.04, "2-3": 5.0, "1-3": 5.04}).common_known


@pytest.mark.parametrize(
    ("both_ohm", "adds_up"), [(7.3, True), (7.4, True), (7.65, False), (6.95, False)]
)
def test_the_sum_is_held_within_the_meter_and_what_a_kelvin_does(both_ohm, adds_up):
    # 2 √(3 · 0.05²/3) = 0.1 Ω of the meter, and 2 % of the greatest.
    found = _found({"C-R": 2.1, "C-S": 5.2, "R-S": both_ohm})
    assert found.adds_up is adds_up
    assert found.sum_off_ohm == pytest.approx(7.3 - both_ohm)
    assert found.common_known is adds_up
