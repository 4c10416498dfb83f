"""One winding against its maker's value, held to figures done by hand."""

from __future__ import annotations

import math

import pytest

from kb.numbers.winding_value import winding_value


def _value(r_ohm: float, **changed: object) -> object:
    told = {
        "half_ohm": 0.0,
        "t_c": 20.0,
        "part_ohm": 10.0,
        "part_c": 20.0,
        "allowed_share": 0.05,
        "t_half_k": 0.0,
    }
    return winding_value(r_ohm, **{**told, **changed})


def test_a_hot_copper_winding_is_brought_to_twenty_degrees() -> None:
    # 10 Ω at 20 °C reads 10 (234.5 + 70)/(234.5 + 20) at 70 °C.
    found = _value(10 * 304.5 / 254.5, t_c=70.0)
    assert found.at_20_ohm == pytest.approx(10.0, rel=1e-12)
    assert found.off_share == pytest.approx(0, abs=1e-12)
    assert found.state == "within"


def test_a_makers_value_at_25_degrees_is_brought_down_too() -> None:
    assert _value(10.0, part_c=25.0).part_at_20_ohm == pytest.approx(10 * 254.5 / 259.5)


@pytest.mark.parametrize(
    ("r_ohm", "half_ohm", "state"),
    [
        (10.3, 0.1, "within"),  # 3 % and U = 2 · 0.1/√3/10 = 1.15 %: together below 5 %
        (10.45, 0.1, "undecided"),
        (10.55, 0.1, "undecided"),
        (10.7, 0.1, "outside"),
        (9.3, 0.1, "outside"),
    ],
)
def test_it_is_guarded_both_ways(r_ohm: float, half_ohm: float, state: str) -> None:
    found = _value(r_ohm, half_ohm=half_ohm)
    assert found.uncertainty_share == pytest.approx(2 * 0.1 / math.sqrt(3) / 10)
    assert found.state == state


def test_a_temperature_that_is_not_quite_known_counts_too() -> None:
    # 2 K of 234.5 + 20 is 0.786 % of the resistance; with the meter's 1 %: 2 √(1² + 0.786²)/√3.
    found = _value(10.0, half_ohm=0.1, t_half_k=2.0)
    assert found.uncertainty_share == pytest.approx(0.01469, abs=0.5e-5)
    # 4 % off and U = 0.91 % from the temperature alone: within 5 %, and no longer so at 4.2 %.
    assert [_value(r_ohm, t_half_k=2.0).state for r_ohm in (10.4, 10.42, 10.6)] == [
        "within",
        "undecided",
        "outside",
    ]


def test_over_range_is_open_and_no_tolerance_is_no_verdict() -> None:
    assert _value(math.inf).state == "open"
    assert _value(12.0, allowed_share=None).state == ""
