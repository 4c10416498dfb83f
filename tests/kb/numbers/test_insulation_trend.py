"""Rising, flat or falling, and ten minutes to one where that means something."""

from __future__ import annotations

import math

import pytest

from kb.numbers.insulation_trend import ratio_state, trend_of
from kb.numbers.rated_voltage import rated_test


@pytest.mark.parametrize(
    ("early_ohm", "minute_ohm", "trend"),
    [
        (10e6, 12e6, "rising"),
        (10e6, 10.9e6, "flat"),
        (10e6, 9.1e6, "flat"),
        (10e6, 8.9e6, "falling"),
        (10e6, math.inf, "rising"),
        (math.inf, 10e6, "falling"),
        (math.inf, math.inf, ""),
        (0.0, 0.0, "flat"),
        (0.0, 1e6, "rising"),
    ],
)
def test_how_a_reading_moved(early_ohm, minute_ohm, trend):
    assert trend_of(early_ohm, minute_ohm=minute_ohm) == trend


@pytest.mark.parametrize(
    ("late_ohm", "at_40_ohm", "state"),
    [
        (200e6, 100e6, "good"),
        (199e6, 100e6, "low"),
        (99e6, 100e6, "falling"),
        (300e6, 5.1e9, "above"),
        (300e6, 5.0e9, "good"),
    ],
)
def test_ten_minutes_to_one(late_ohm, at_40_ohm, state):
    # IEEE 43-2013, Table 2 and 12.2.2 (from memory): at least 2.0, and nothing above 5000 MΩ.
    assert ratio_state(100e6, late_ohm=late_ohm, minute_at_40_ohm=at_40_ohm) == state


@pytest.mark.parametrize(
    ("rated_v", "wound", "most_v", "least_ohm"),
    [
        # IEC 60364-6, Table 6.1 (from memory).
        (24, False, 250, 0.5e6),
        (50, False, 250, 0.5e6),
        (51, False, 500, 1e6),
        (500, False, 500, 1e6),
        (690, False, 1000, 1e6),
        # IEEE 43-2013, Table 1 (from memory).
        (12, True, 250, 0.5e6),
        (400, True, 500, 1e6),
        (690, True, 500, 1e6),
        (999, True, 500, 1e6),
        (1000, True, 1000, 1e6),
        (2500, True, 1000, 1e6),
    ],
)
def test_the_test_that_a_rated_voltage_has(rated_v, wound, most_v, least_ohm):
    asked = rated_test(rated_v, wound=wound)
    assert (asked.most_v, asked.least_ohm) == (most_v, least_ohm)
    assert asked.volts_source.startswith("IEEE 43" if wound and rated_v > 50 else "IEC 60364-6")
