"""How far off a reading may be: against closed forms and draws of the same rectangles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.error_bound import COVERAGE, coverage_k, inside_share, seen_halves_k
from kb.numbers.verdict import expanded_k, rectangular

HALVES_K = [[0.3, 0.5, 1.5], [0.02, 0.5, 2.0, 1.2], [0.0005, 0.1], [0.4, 0.4, 0.4, 0.4]]


def noise_k(halves_k, *, seed=5, draws=400_000):
    rng = np.random.default_rng(seed)
    return sum(half_k * rng.uniform(-1, 1, draws) for half_k in halves_k)


@pytest.mark.parametrize(
    ("halves_k", "covered_k"),
    [
        ([1.5], COVERAGE * 1.5),
        # Two alike make a triangle: 1 − √beyond of its reach.
        ([1.0, 1.0], 2 * (1 - (1 - COVERAGE) ** 0.5)),
        ([0.0, 0.0], 0.0),
        ([], 0.0),
    ],
)
def test_what_is_covered_is_that_of_the_closed_form(halves_k, covered_k):
    assert coverage_k(halves_k) == pytest.approx(covered_k, abs=1e-9)


@pytest.mark.parametrize("halves_k", HALVES_K)
def test_draws_of_the_rectangles_leave_it_as_seldom_as_is_said(halves_k):
    beyond = np.mean(np.abs(noise_k(halves_k)) > coverage_k(halves_k))
    assert beyond == pytest.approx(1 - COVERAGE, abs=0.0015)


@pytest.mark.parametrize("error_k", [0.0, 0.7, -2.4])
@pytest.mark.parametrize("halves_k", [*HALVES_K, [0.3, 0.5, 1.5, 0.001, 0.1, 0.7, 0.2]])
def test_the_share_inside_a_limit_is_that_of_the_draws(error_k, halves_k):
    drawn = np.mean(np.abs(error_k - noise_k(halves_k)) < 1.0)
    share = inside_share(error_k, limit_k=1.0, halves_k=seen_halves_k(halves_k))
    assert share == pytest.approx(drawn, abs=0.003)


@given(st.lists(st.floats(0, 5), max_size=5).filter(lambda halves: sum(halves) > 0))
def test_it_is_never_beyond_what_is_possible_nor_beyond_twice_the_standard_uncertainty(halves_k):
    covered_k = coverage_k(halves_k)
    assert covered_k <= sum(halves_k) + 1e-9
    assert covered_k <= expanded_k(*map(rectangular, halves_k)) * (1 + 1e-4) + 1e-9


def test_one_rectangle_alone_leaves_less_open_than_twice_its_standard_uncertainty():
    assert coverage_k([1.5]) < 0.85 * expanded_k(rectangular(1.5))
