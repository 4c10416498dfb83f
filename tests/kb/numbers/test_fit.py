"""Fitting a law to printed points: the simplest that agrees, and nothing it cannot know."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.fit import fit_points
from kb.numbers.minimax import minimax_fit
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.ntc_polynomial import NtcPolynomial
from kb.numbers.platinum import Platinum
from kb.numbers.printed import PrintedPoint, printed_points
from kb.numbers.steinhart_hart import SteinhartHart
from kb.numbers.winding_metal import WindingMetal


def printed_by(law, t_c, digits=4):
    """Points of a law as a data sheet prints them, to so many digits."""
    return printed_points([(t, f"{law.r_ohm(t):.{digits - 1}e}") for t in t_c])


STEPS_C = np.arange(-40.0, 126.0, 5.0)


@pytest.mark.parametrize(
    ("law", "name", "parameters"),
    [
        (Platinum(r0=1000), "platinum", {"r0": 1000}),
        (Nickel(ppm_per_k=5000), "nickel", {"r0": 1000, "ppm_per_k": 5000}),
        (WindingMetal(r_ref=4.7, constant=225.0), "winding", {"constant": 225.0}),
        (NtcBeta(r_ref=10e3, b_k=3977), "beta", {"at_c": 25.0}),
        (SteinhartHart(a=1.12915e-3, b=2.34125e-4, c=8.7674e-8), "steinhart-hart", {}),
        (
            NtcPolynomial(r_ref=10e3, a=-14.6337, b=4791.842, c=-115334, d=-3730535),
            "polynomial",
            {},
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_points_printed_by_a_law_give_that_law_back(law, name, parameters):
    points = printed_by(law, STEPS_C)
    fit = fit_points(points)
    assert fit.name == name
    assert fit.within_print
    assert fit.suspects == ()
    assert {key: fit.parameters[key] for key in parameters} == parameters
    # Between the points it is as good as their print: half a digit of four is 0.05 %.
    between_c = STEPS_C[:-1] + 2.5
    off = np.abs(np.asarray(fit.law.r_ohm(between_c)) / law.r_ohm(between_c) - 1)
    assert off.max() < 6e-4
    half_k = [p.half_ohm / abs(law.slope_ohm_per_k(p.t_c)) for p in points]
    assert fit.worst_k <= max(half_k) * 1.03


@pytest.mark.published("platinum_pt100_printed")
def test_the_published_platinum_table_is_platinum(sheet):
    fit = fit_points(printed_points(sheet.printed.items()))
    assert (fit.name, fit.parameters) == ("platinum", {"r0": 100.0})
    assert fit.worst_k < 0.02


@pytest.mark.published("nickel_6180_printed")
def test_the_published_nickel_table_is_nickel(sheet):
    fit = fit_points(printed_points(sheet.printed.items()))
    assert (fit.name, fit.parameters) == ("nickel", {"r0": 1000.0, "ppm_per_k": 6180})


@pytest.mark.published("ntc_vishay_ntcalug01a103")
def test_a_table_made_from_the_makers_polynomial_is_recognised(sheet):
    fit = fit_points(printed_points(sheet.printed.items()))
    assert fit.name == "polynomial"
    assert fit.worst_k < 0.001


@pytest.mark.published("ntc_semitec_103at")
def test_a_table_no_formula_meets_stays_a_table(sheet):
    fit = fit_points(printed_points(sheet.printed.items()))
    assert fit.name == "table"
    assert fit.worst_k == 0.0
    assert fit.law.r_ohm(25) == 10_000
    assert 0 < fit.roughness_k < 0.05
    assert fit.parameters["points"] == tuple(sheet.points)


@pytest.mark.published("ntc_semitec_103at")
def test_a_law_asked_for_is_fitted_and_its_misfit_told(sheet):
    fit = fit_points(printed_points(sheet.printed.items()), law="beta")
    assert fit.name == "beta"
    assert not fit.within_print
    assert 1 < fit.worst_k < 5


def test_a_misprinted_point_is_named_and_left_out():
    law = NtcBeta(r_ref=10e3, b_k=3977)
    points = list(printed_by(law, STEPS_C))
    bad = points[12]
    points[12] = PrintedPoint(t_c=bad.t_c, r_ohm=bad.r_ohm * 1.1, half_ohm=bad.half_ohm)
    fit = fit_points(points)
    assert fit.name == "beta"
    assert [one.t_c for one in fit.suspects] == [bad.t_c]
    assert fit.parameters["b_k"] == pytest.approx(3977, rel=1e-3)


def test_two_points_are_not_enough_to_trust_a_b_value():
    fit = fit_points(printed_by(NtcBeta(r_ref=10e3, b_k=3977), [0.0, 25.0]))
    assert fit.name == "table"
    asked = fit_points(printed_by(NtcBeta(r_ref=10e3, b_k=3977), [0.0, 25.0]), law="beta")
    assert asked.parameters["b_k"] == pytest.approx(3977, rel=1e-3)


@pytest.mark.parametrize(
    ("law", "message"),
    [
        (
            "cubic",
            "law 'cubic' is not one of auto, platinum, nickel, winding, beta, steinhart-hart, "
            "polynomial, table",
        ),
        (
            "polynomial",
            "3 points do not make law polynomial; give more points, or check that resistance "
            "only falls or only rises",
        ),
    ],
)
def test_what_cannot_be_fitted_is_refused(law, message):
    points = printed_by(NtcBeta(r_ref=10e3, b_k=3977), [0.0, 25.0, 50.0])
    with pytest.raises(ValueError) as caught:
        fit_points(points, law=law)
    assert str(caught.value) == message


def test_the_worst_point_is_made_as_good_as_it_can_be():
    # The best straight line to t² over -1 to 1 is the constant 1/2: off by 1/2 at three places.
    t = np.linspace(-1, 1, 201)
    terms = np.column_stack([np.ones_like(t), t])
    found, worst = minimax_fit(terms, wanted=t**2, allowed=np.full_like(t, 1e-9))
    assert found == pytest.approx([0.5, 0.0], abs=0.01)
    assert worst * 1e-9 == pytest.approx(0.5, abs=0.01)
