"""A fit minimises what an engineer reads, kelvin: held to the best that trying finds."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.fit import fit_points
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.printed import printed_points
from kb.numbers.steinhart_hart import SteinhartHart

from .brute_fit import best_possible_k

POWERS = {"beta": (0, 1), "steinhart-hart": (0, 1, 3)}
TABLES = [
    "ntc_adafruit_103_3950",
    "ntc_amwei_amf52_503_3950_epoxy",
    "ntc_amwei_amf58_502_3470_axial",
    "ntc_amwei_amf58b_503_3950_bead",
    "ntc_murata_ncpxxxh103",
    "ntc_semitec_103at",
    "ntc_vishay_10k_b3977",
]


@pytest.mark.parametrize("law", POWERS)
@pytest.mark.parametrize("name", TABLES)
def test_a_fit_of_a_published_table_is_as_good_in_kelvin_as_can_be(read_sheet, name, law):
    sheet = read_sheet(name)
    t_c, r_ohm = np.array(sheet.points).T
    fit = fit_points(printed_points(sheet.printed.items()), law=law)
    kept = ~np.isin(t_c, [suspect.t_c for suspect in fit.suspects])
    reached_k = float(np.abs(fit.law.t_c(r_ohm[kept]) - t_c[kept]).max())
    assert reached_k == pytest.approx(fit.worst_k, abs=1e-9)
    possible_k = best_possible_k(t_c[kept], r_ohm=r_ohm[kept], powers=POWERS[law])
    assert reached_k <= 1.05 * possible_k + 1e-4


def test_rows_at_any_distance_are_fitted_as_well(read_sheet):
    t_c, r_ohm = np.array(read_sheet("ntc_semitec_103at").points).T
    rng = np.random.default_rng(11)
    for count in (4, 5, 8, 12):
        for _ in range(3):
            kept = np.sort(rng.choice(len(t_c), size=count, replace=False))
            rows = printed_points(zip(t_c[kept], r_ohm[kept], strict=True))
            for law, powers in POWERS.items():
                possible_k = best_possible_k(t_c[kept], r_ohm=r_ohm[kept], powers=powers)
                assert fit_points(rows, law=law).worst_k <= 1.05 * possible_k + 1e-4


def test_coefficients_that_would_turn_back_give_one_b_value_instead():
    # Flattening towards the warm as no NTC does: the best three coefficients would have c below zero.
    t_c = np.arange(0.0, 101.0, 10.0)
    r_ohm = 10e3 * np.exp(-0.05 * t_c + 2e-4 * t_c**2)
    rows = printed_points(zip(t_c, r_ohm, strict=True))
    fit = fit_points(rows, law="steinhart-hart")
    assert fit.parameters["c"] == 0
    assert fit.worst_k == pytest.approx(fit_points(rows, law="beta").worst_k, rel=1e-6)


@pytest.mark.parametrize(("law", "count"), [("beta", 2), ("steinhart-hart", 3), ("polynomial", 4)])
def test_as_many_points_as_parameters_are_met_and_prove_nothing(law, count):
    truth = SteinhartHart(a=1.12915e-3, b=2.34125e-4, c=8.7674e-8)
    at_c = np.linspace(0.0, 60.0, count)
    points = printed_points((t, f"{truth.r_ohm(t):.3e}") for t in at_c)
    fit = fit_points(points, law=law)
    assert fit.met_exactly
    assert fit.worst_k < 1e-6
    assert fit.between_k > 0.005
    more = printed_points((t, f"{truth.r_ohm(t):.3e}") for t in [*at_c, 80.0])
    assert not fit_points(more, law=law).met_exactly


def test_coarse_digits_stay_within_their_print():
    # Whole ohms at the hot end: by kelvin alone 33 Ω would be held to a hundredth of its digit.
    law = NtcBeta(r_ref=10e3, b_k=3977)
    points = printed_points((t, f"{law.r_ohm(t):.0f}") for t in np.arange(-20.0, 161.0, 10.0))
    fit = fit_points(points)
    assert fit.name == "beta"
    assert fit.within_print
