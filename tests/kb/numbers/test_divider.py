"""Volts at the plug through the board's pull-up, and the sensor behind a reading in parallel."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.divider import parallel_ohm, sensor_from_parallel_ohm, volts_at_plug


def test_half_the_supply_where_sensor_and_pull_up_are_equal():
    assert volts_at_plug(10e3, supply_v=5, pull_up_ohm=10e3) == pytest.approx(2.5)


def test_all_of_it_with_the_plug_off_and_none_with_a_short():
    volts = volts_at_plug([math.inf, 0.0], supply_v=5, pull_up_ohm=10e3)
    assert volts == pytest.approx([5.0, 0.0])


def test_a_voltmeter_pulls_a_high_resistance_down():
    alone = volts_at_plug(1e6, supply_v=5, pull_up_ohm=1e6)
    seen = volts_at_plug(1e6, supply_v=5, pull_up_ohm=1e6, voltmeter_ohm=10e6)
    # 1 MΩ beside 10 MΩ is 10/11 MΩ: 5 · (10/11)/(21/11).
    assert (alone, seen) == (pytest.approx(2.5), pytest.approx(50 / 21))


@given(st.floats(1, 1e6), st.floats(100, 1e6))
def test_a_parallel_reading_gives_the_sensor_back(r_ohm, pull_up_ohm):
    read_ohm = parallel_ohm(r_ohm, other_ohm=pull_up_ohm)
    assert sensor_from_parallel_ohm(read_ohm, pull_up_ohm=pull_up_ohm) == pytest.approx(
        r_ohm, rel=1e-6
    )


def test_a_reading_of_the_pull_up_or_more_had_nothing_in_parallel():
    assert sensor_from_parallel_ohm(10e3, pull_up_ohm=10e3) is None
    assert sensor_from_parallel_ohm(0.0, pull_up_ohm=10e3) is None
