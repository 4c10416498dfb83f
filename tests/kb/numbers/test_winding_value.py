"""One winding against its maker's value, held to figures done by hand."""

from __future__ import annotations

import math

import pytest

from kb.numbers.winding_value import winding_value


def _value(r_ohm: float, **changed: object) -> object:
    told = {"half_ohm": 0.0, "t_c": 20.0, "part_ohm": 10.0, "part_c": 20.0, "allowed_share": 0.05}
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


def test_over_range_is_open_and_no_tolerance_is_no_verdict() -> None:
    assert _value(math.inf).state == "open"
    assert _value(12.0, allowed_share=None).state == ""
