"""What a reading excludes: against closed forms and draws of the same rectangles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.error_bound import at_most_k
from kb.numbers.verdict import expanded_k, rectangular


@pytest.mark.parametrize(
    ("error_k", "half_widths_k", "most_k"),
    [
        # One rectangle, by hand: 95 % of ± 1.5 K, and one side of it where the other is far.
        (0.0, [1.5], 1.425),
        (3.0, [1.5], 4.35),
        # Two alike make a triangle: 1 − √0.05 of its reach.
        (0.0, [1.0, 1.0], 2 * (1 - 0.05**0.5)),
        # Nothing left open.
        (-2.5, [0.0, 0.0], 2.5),
        (-2.5, [], 2.5),
    ],
)
def test_the_bound_is_that_of_the_closed_form(error_k, half_widths_k, most_k):
    assert at_most_k(error_k, half_widths_k=half_widths_k) == pytest.approx(most_k, abs=1e-9)


@pytest.mark.parametrize("error_k", [0.0, 0.7, -2.4, 6.0])
@pytest.mark.parametrize(
    "half_widths_k", [[0.3, 0.5, 1.5], [0.02, 0.5, 2.0, 1.2], [0.0005, 0.1], [0.4, 0.4, 0.4, 0.4]]
)
def test_draws_of_the_rectangles_exceed_the_bound_in_one_of_twenty(error_k, half_widths_k):
    rng = np.random.default_rng(5)
    noise_k = sum(half_k * rng.uniform(-1, 1, 400_000) for half_k in half_widths_k)
    most_k = at_most_k(error_k, half_widths_k=half_widths_k)
    assert np.mean(np.abs(error_k - noise_k) > most_k) == pytest.approx(0.05, abs=0.0015)


@given(
    st.floats(-20, 20), st.lists(st.floats(0, 5), max_size=4).filter(lambda halves: sum(halves) > 0)
)
def test_the_bound_is_never_beyond_what_is_possible_and_never_below_the_error(error_k, halves_k):
    most_k = at_most_k(error_k, half_widths_k=halves_k)
    assert most_k <= abs(error_k) + sum(halves_k) + 1e-9
    assert most_k >= abs(error_k) - 1e-9


def test_one_rectangle_alone_excludes_more_than_twice_its_standard_uncertainty():
    assert at_most_k(0.0, half_widths_k=[1.5]) < expanded_k(rectangular(1.5))
