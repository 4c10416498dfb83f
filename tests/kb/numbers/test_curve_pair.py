"""Two curves side by side, held to arithmetic done by hand."""

from __future__ import annotations

import math

import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.curve_pair import apart, most_apart
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange

SOFT = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3435), low_c=-40, high_c=110, id="soft")
STEEP = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3977), low_c=-30, high_c=125, id="steep")


@pytest.mark.parametrize("t_c", [-20.0, 0.0, 60.0])
def test_a_board_for_the_one_shows_what_the_b_values_say(t_c: float) -> None:
    # Same R25: B1 (1/T' - 1/T25) = B2 (1/T - 1/T25) gives what the board shows.
    x = 1 / (t_c + 273.15) - 1 / 298.15
    shown_c = 1 / (3977 / 3435 * x + 1 / 298.15) - 273.15
    here = apart(SOFT, other=STEEP, t_c=t_c)
    assert here.by_k == pytest.approx(shown_c - t_c, abs=1e-9)
    assert here.other_ohm == pytest.approx(10e3 * math.exp(3977 * x), rel=1e-12)


def test_where_they_cross_they_are_not_apart() -> None:
    assert apart(SOFT, other=STEEP, t_c=25.0).by_k == pytest.approx(0, abs=1e-9)


def test_most_apart_is_at_an_end_of_the_temperatures_both_hold_for() -> None:
    most = most_apart(SOFT, other=STEEP)
    ends = [apart(SOFT, other=STEEP, t_c=t_c).by_k for t_c in (-30.0, 110.0)]
    assert most.by_k == max(ends, key=abs)
    assert most.at_c in (-30.0, 110.0)


def test_curves_that_share_no_temperature_are_nowhere_apart() -> None:
    hot = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3977), low_c=120, high_c=200, id="hot")
    assert most_apart(SOFT, other=hot) is None


def test_outside_either_curve_there_is_no_answer() -> None:
    with pytest.raises(OutOfRange):
        apart(SOFT, other=STEEP, t_c=-35.0)
