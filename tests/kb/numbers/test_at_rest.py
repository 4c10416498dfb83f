"""One sensor of a machine at rest: broken by itself, or a temperature with what it leaves open."""

from __future__ import annotations

import math

import pytest

from kb.numbers.at_rest import Resting, broken_state, shown

from .straight_line import line


def resting(t_c, **figures):
    return Resting(curve=line(), r_ohm=1000 + 8 * t_c, **figures)


@pytest.mark.parametrize(
    ("r_ohm", "expected"),
    [
        (0.0, "short"),
        (9.99, "short"),
        (10.0, "off-curve"),
        (999.0, "off-curve"),
        (1000.0, ""),
        (2024.0, ""),
        (2025.0, "off-curve"),
    ],
)
def test_the_ends_of_the_curve_still_belong_to_it(r_ohm, expected):
    assert broken_state(Resting(curve=line(), r_ohm=r_ohm)) == expected


def test_the_teams_own_short_threshold_counts_here_too():
    wet = Resting(curve=line(), r_ohm=6.0)
    assert [broken_state(wet), broken_state(wet, short_ohm=5.0)] == ["short", "off-curve"]


def test_over_range_on_a_span_that_ends_with_the_curve_is_not_decided():
    states = [
        broken_state(Resting(curve=line(), r_ohm=math.inf, meter_span_ohm=span_ohm))
        for span_ohm in (2024.0, 2024.125)
    ]
    assert states == ["undecided", "open"]


def test_what_a_reading_leaves_open_is_that_of_meter_and_spot_and_of_a_sound_part_beside():
    shows = shown(resting(64.0, meter_half_ohm=8 * 1.5), spread_half_k=2.0)
    assert (shows.t_implied_c, shows.limit_k, shows.limit_known) == (64.0, 1.0, True)
    assert shows.own_u_k == pytest.approx(math.hypot(1.5, 2.0) / math.sqrt(3))
    # The line's own tolerance is 1 K.
    assert shows.sound_u_k == pytest.approx(math.sqrt((1.5**2 + 2**2 + 1) / 3))


def test_what_the_machine_tolerates_says_nothing_of_the_part_unless_nobody_knows_better():
    allowed = shown(resting(64.0, allow_k=3.0), spread_half_k=0.0)
    assert (allowed.limit_k, allowed.sound_u_k) == (3.0, pytest.approx(1 / math.sqrt(3)))
    unknown = Resting(curve=line(None), r_ohm=1512.0)
    assert not shown(unknown, spread_half_k=0.0).limit_known
    tolerated = Resting(curve=line(None), r_ohm=1512.0, allow_k=3.0)
    assert shown(tolerated, spread_half_k=0.0).sound_u_k == pytest.approx(math.sqrt(3))
