"""Each winding by itself from three pairs: solved forwards by the network, and back."""

from __future__ import annotations

import math

import numpy as np
import pytest

from kb.numbers.winding_phases import delta_windings, is_broken, solved_u_ohm, star_windings

from .test_winding_triangle import delta, star


def test_a_star_is_half_of_two_pairs_less_the_third():
    # U = (2.30 + 2.30 − 2.42)/2
    solved = star_windings({"U-V": 2.30, "V-W": 2.42, "W-U": 2.30})
    assert solved == pytest.approx({"U": 1.09, "V": 1.21, "W": 1.21})


def test_equal_windings_of_a_delta_have_one_and_a_half_times_their_pair():
    assert delta_windings(dict.fromkeys(("U-V", "V-W", "W-U"), 2.0)) == pytest.approx(
        {"U-V": 3.0, "V-W": 3.0, "W-U": 3.0}
    )


@pytest.mark.parametrize("seed", range(20))
def test_what_the_network_makes_of_windings_is_solved_back(seed):
    ohms = np.random.default_rng(seed).uniform(0.3, 3.0, 3).tolist()
    assert list(star_windings(star(*ohms)).values()) == pytest.approx(ohms)
    assert list(delta_windings(delta(*ohms)).values()) == pytest.approx(ohms)


def test_a_broken_winding_of_a_delta_is_read_through_the_two_others():
    # Two of 1 Ω in a row, and each of them alone.
    solved = delta_windings({"U-V": 2.0, "V-W": 1.0, "W-U": 1.0})
    assert solved == {"U-V": math.inf, "V-W": 1.0, "W-U": 1.0}
    assert is_broken(solved, winding="U-V")
    assert not is_broken({"U-V": 4.9, "V-W": 1.0, "W-U": 1.0}, winding="U-V")
    assert is_broken(delta_windings({"U-V": 1.97, "V-W": 1.0, "W-U": 1.0}), winding="U-V")


@pytest.mark.parametrize(
    "readings",
    [
        {"U-V": 1.0, "V-W": 1.0},
        {"U-V": 1.0, "V-W": 1.0, "W-U": math.inf},
        {"U-V": 1.0, "V-W": 1.0, "W-U": 2.5},
        {"U1-U2": 1.0, "V1-V2": 1.0, "W1-W2": 1.0},
    ],
)
def test_no_star_reads_so(readings):
    assert star_windings(readings) == {}
    if len(readings) < 3 or math.inf in readings.values() or "U1-U2" in readings:
        assert delta_windings(readings) == {}


def test_how_well_a_winding_of_a_star_is_known_is_half_of_each_reading():
    read = {"U-V": 2.30, "V-W": 2.42, "W-U": 2.30}
    halves = {"U-V": 0.01, "V-W": 0.02, "W-U": 0.01}
    u_ohm = solved_u_ohm(read, half_widths_ohm=halves, solve=star_windings)
    assert u_ohm == pytest.approx(dict.fromkeys("UVW", 2 * math.sqrt(6e-4 / 4 / 3)))


def test_how_well_a_winding_of_a_delta_is_known_is_what_draws_of_its_readings_do():
    read = {"U-V": 2.18, "V-W": 2.18, "W-U": 2.73}
    halves = dict.fromkeys(read, 0.01)
    u_ohm = solved_u_ohm(read, half_widths_ohm=halves, solve=delta_windings)
    rng = np.random.default_rng(2)
    drawn = [
        delta_windings({pair: r_ohm + rng.uniform(-0.01, 0.01) for pair, r_ohm in read.items()})
        for _ in range(4000)
    ]
    for pair, known_ohm in u_ohm.items():
        assert known_ohm == pytest.approx(2 * np.std([own[pair] for own in drawn]), rel=0.05)


def test_of_a_winding_that_may_be_broken_nothing_is_said():
    read = {"U-V": 2.0, "V-W": 1.0, "W-U": 1.005}
    halves = dict.fromkeys(read, 0.01)
    assert solved_u_ohm(read, half_widths_ohm=halves, solve=delta_windings) == {}
