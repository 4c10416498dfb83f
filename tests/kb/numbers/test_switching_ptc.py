"""Motor protection PTC: limits and no curve."""

from __future__ import annotations

import math

import pytest

from kb.numbers.switching_ptc import TEST_VOLTS_MAX, SwitchingPtc


@pytest.mark.published("switching_ptc_din44081")
@pytest.mark.parametrize("trip_c", [90.0, 119.9, 155.0])
@pytest.mark.parametrize("in_series", [1, 3, 6])
def test_the_limits_are_the_published_ones_times_the_elements(sheet, trip_c, in_series):
    loop = SwitchingPtc(trip_c=trip_c, in_series=in_series)
    for over_k, most_ohm in sheet.fields["most"].items():
        assert loop.limits_ohm(trip_c + over_k)[1] == in_series * most_ohm
    for over_k, least_ohm in sheet.fields["least"].items():
        assert loop.limits_ohm(trip_c + over_k)[0] == in_series * least_ohm
    assert sheet.fields["test_volts_max"] == TEST_VOLTS_MAX


@pytest.mark.parametrize(
    ("t_c", "limits"),
    [
        (-20, (0, 250)),
        (20, (0, 250)),
        (100, (0, 250)),
        (100.1, (0, 550)),
        (115, (0, 550)),
        (115.1, (0, math.inf)),
        (120, (0, math.inf)),
        (124.9, (0, math.inf)),
        (125, (1330, math.inf)),
        (134.9, (1330, math.inf)),
        (135, (4000, math.inf)),
    ],
)
def test_between_the_points_only_what_is_promised_holds(t_c, limits):
    assert SwitchingPtc(trip_c=120, in_series=1).limits_ohm(t_c) == limits


def test_below_minus_20_there_is_no_limit():
    with pytest.raises(ValueError) as caught:
        SwitchingPtc(trip_c=120).limits_ohm(-21)
    assert str(caught.value) == (
        "-21 °C is below −20 °C, where DIN 44081 sets no limit; warm the motor first"
    )


def test_a_loop_has_at_least_one_element():
    with pytest.raises(ValueError) as caught:
        SwitchingPtc(trip_c=120, in_series=0)
    assert str(caught.value) == "0 elements in series; a loop has at least one"
