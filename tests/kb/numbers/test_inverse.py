"""Turning a law round where no formula does."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.inverse import first_guess, invert


def steep(t_c):
    return np.exp((t_c + 100) ** 2 / 2e5)


def steep_slope(t_c):
    return steep(t_c) * (t_c + 100) / 1e5


def test_a_strongly_bent_law_is_turned_round_to_the_last_digits():
    guess = first_guess(steep, low_c=-99, high_c=3900)
    t_c = np.linspace(-99, 900, 301)
    found = invert(steep(t_c), r_ohm=steep, slope_ohm_per_k=steep_slope, guess=guess)
    assert found == pytest.approx(t_c, abs=1e-9)


def test_the_ends_are_found_too_whichever_way_the_law_runs():
    def falling(t_c):
        return 1e4 * np.exp(-0.04 * t_c)

    guess = first_guess(falling, low_c=-40, high_c=120)
    assert np.all(np.diff(guess[0]) > 0)
    found = invert(
        falling(np.array([-40.0, 120.0])),
        r_ohm=falling,
        slope_ohm_per_k=lambda t: -0.04 * falling(t),
        guess=guess,
    )
    assert found == pytest.approx([-40, 120], abs=1e-9)


def test_a_slope_that_is_not_the_laws_never_settles_and_says_so():
    with pytest.raises(ArithmeticError) as caught:
        invert(
            np.array([steep(np.array(50.3))]),
            r_ohm=steep,
            slope_ohm_per_k=lambda t: 0.5 * steep_slope(t),
            guess=first_guess(steep, low_c=-99, high_c=3900),
        )
    assert str(caught.value) == ("the temperature does not settle: resistance is not monotone here")
