"""What a contact does from one reading to the next: held to the Guide and to simulated hands."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import t as student

from kb.numbers.repeated import T_FACTORS, contact_u_ohm, mean_ohm


@pytest.mark.published("uncertainty_repeated")
def test_twenty_readings_of_the_guide(sheet):
    readings = sheet.fields["readings"]
    factor = T_FACTORS[-1] / 2
    assert contact_u_ohm({"t": readings})["t"] / factor == pytest.approx(
        sheet.fields["u"], abs=5e-3
    )


@pytest.mark.published("uncertainty_repeated")
def test_the_factors_are_the_guides_and_the_distributions(sheet):
    for freedom, factor in sheet.points:
        exact = student.ppf(0.5 + 0.9545 / 2, freedom)
        assert factor == pytest.approx(exact, abs=0.01 + 5e-3)
        used = T_FACTORS[min(int(freedom), len(T_FACTORS)) - 1]
        assert used >= factor and (freedom > 10 or used == factor)


def test_read_once_nobody_knows_the_contact():
    assert contact_u_ohm({"U-V": [2.3], "V-W": [2.4]}) == {"U-V": 0.0, "V-W": 0.0}
    assert contact_u_ohm({"U-V": [2.3, 2.3], "V-W": [2.4]}) == {"U-V": 0.0, "V-W": 0.0}


def test_what_repeats_of_one_pair_show_holds_for_all():
    u_ohm = contact_u_ohm({"U-V": [2.31, 2.29, 2.33], "V-W": [2.40]})
    # s = 0.02 Ω with two degrees of freedom.
    assert u_ohm == pytest.approx({"U-V": 0.02 * 4.53 / 2 / 3**0.5, "V-W": 0.02 * 4.53 / 2})


def test_spreads_are_pooled_and_not_the_levels():
    u_ohm = contact_u_ohm({"U-V": [1.0, 1.02], "V-W": [9.0, 9.02], "W-U": [5.0, 5.02]})
    assert u_ohm["U-V"] == pytest.approx(0.02 / 2**0.5 * 3.31 / 2 / 2**0.5)


def test_equal_readings_are_their_own_mean_exactly():
    assert mean_ohm([492.1, 492.1, 492.1]) == 492.1
    assert mean_ohm([2.31, 2.29, 2.33]) == pytest.approx(2.31)


@pytest.mark.parametrize("times", [2, 3, 6])
def test_twice_the_uncertainty_covers_the_truth_in_95_of_100(times):
    rng = np.random.default_rng(11)
    hits = 0
    for _ in range(4000):
        readings = {pair: rng.normal(2.0, 0.03, times).tolist() for pair in ("U", "V", "W")}
        u_ohm = contact_u_ohm(readings)
        hits += sum(abs(mean_ohm(readings[pair]) - 2.0) <= 2 * u_ohm[pair] for pair in readings)
    assert 0.945 <= hits / 12000 <= 0.965
