"""Winding balance in shares of the mean, with the meter's error, brought to 20 °C."""

from __future__ import annotations

import math

import pytest
from uncertainties import ufloat

from kb.numbers.winding_balance import winding_balance

HALF = {"U-V": 0.02, "V-W": 0.02, "W-U": 0.02}


def balance(u, v, w, half=HALF, allowed=0.03, t_c=25.0):
    return winding_balance(
        {"U-V": u, "V-W": v, "W-U": w}, half_widths_ohm=half, t_c=t_c, allowed_share=allowed
    )


def test_equal_windings_are_within():
    got = balance(2.00, 2.01, 1.99)
    assert got.state == "within"
    assert got.worst_share == pytest.approx(0.005)
    assert got.mean_at_20_ohm == pytest.approx(2.0 * 254.5 / 259.5)


def test_a_shorted_turn_is_outside():
    got = balance(2.00, 2.00, 1.70)
    assert got.state == "outside"
    assert got.windings["W-U"].off_share == pytest.approx(1.7 / 1.9 - 1)


def test_near_the_limit_the_meter_cannot_decide():
    assert balance(2.00, 2.00, 2.08).state == "undecided"
    fine = balance(2.00, 2.00, 2.08, half=dict.fromkeys(HALF, 0.0005))
    assert fine.state == "within"


def test_the_uncertainty_agrees_with_an_independent_propagation():
    u, v, w = (ufloat(r, 0.02 / math.sqrt(3)) for r in (2.0, 2.0, 2.0))
    share = u / ((u + v + w) / 3) - 1
    got = balance(2.0, 2.0, 2.0)
    assert got.windings["U-V"].uncertainty_share == pytest.approx(2 * share.std_dev, rel=1e-9)


def test_an_open_winding_is_open():
    got = balance(2.0, 2.0, math.inf)
    assert got.state == "open"
    assert got.windings["W-U"].state == "open"


def test_without_a_limit_it_only_measures():
    got = balance(2.0, 2.0, 2.5, allowed=None)
    assert got.state == ""
    assert got.worst_share == pytest.approx(2.5 / (6.5 / 3) - 1)


def test_temperature_does_not_change_the_balance():
    assert balance(2.0, 2.1, 2.2, t_c=80).worst_share == balance(2.0, 2.1, 2.2).worst_share


@pytest.mark.parametrize(
    ("readings", "message"),
    [
        ({"U-V": 2.0}, "balance compares at least two windings; read every pair of leads"),
        (
            {"U-V": 2.0, "V-W": 0.0},
            "a winding reads above zero; a reading of zero needs a meter for milliohms",
        ),
    ],
)
def test_what_cannot_be_compared_is_refused(readings, message):
    with pytest.raises(ValueError) as caught:
        winding_balance(readings, half_widths_ohm=HALF, t_c=25, allowed_share=0.03)
    assert str(caught.value) == message
