"""A motor's PTC loop against DIN 44081/44082: only what every likely temperature says is said."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.loop_verdict import judge_loop
from kb.numbers.measured import Measured
from kb.numbers.switching_ptc import SwitchingPtc

LOOP = SwitchingPtc(trip_c=120.0, in_series=3)


def judged(r_ohm, t_c, *, meter=0.0, thermometer=0.0, placement=0.0):
    measured = Measured(
        r_ohm=r_ohm,
        t_c=t_c,
        meter_half_ohm=meter,
        thermometer_half_k=thermometer,
        placement_half_k=placement,
    )
    return judge_loop(LOOP, measured=measured, short_ohm=5.0)


@pytest.mark.parametrize(
    ("t_c", "low_ohm", "high_ohm"),
    [
        # DIN 44081 for one element, three in series: 250, 550, 1330 and 4000 Ω.
        (20.0, None, 750.0),
        (100.0, None, 750.0),
        (115.0, None, 1650.0),
        (120.0, None, None),
        (125.0, 3990.0, None),
        (135.0, 12000.0, None),
    ],
)
def test_the_limits_are_those_of_the_standard(t_c, low_ohm, high_ohm):
    told = judged(700.0, t_c)
    assert (told.low_ohm, told.high_ohm) == (low_ohm, high_ohm)


@pytest.mark.parametrize(
    ("r_ohm", "t_c", "verdict"),
    [
        (750.0, 20.0, "within"),
        (750.1, 20.0, "outside"),
        (4.9, 20.0, "short"),
        (np.inf, 20.0, "open"),
        (np.inf, 135.0, "undecided"),
        (3989.0, 125.0, "outside"),
        (3990.0, 125.0, "within"),
        (1000.0, 120.0, "undecided"),
    ],
)
def test_with_perfect_instruments_the_limit_itself_decides(r_ohm, t_c, verdict):
    assert judged(r_ohm, t_c).verdict == verdict


@pytest.mark.parametrize("t_c", [-20.0, 20.0, 100.0, 119.0])
def test_a_loop_that_reads_less_than_a_relay_accepts_is_shorted(t_c):
    # 20 Ω: the usual limit of protection relays that watch for a short, from memory.
    assert judged(19.9, t_c).verdict == "short"
    # ± √3 Ω is U = 2 Ω: 18.1 to 22 Ω may be either.
    verdicts = [judged(r, t_c, meter=3**0.5).verdict for r in (17.9, 18.1, 21.9)]
    assert verdicts == ["short", "undecided", "undecided"]
    assert judged(21.9, t_c, meter=3**0.5).dominant == "short"


@pytest.mark.parametrize("t_c", [-20.0, 20.0, 100.0, 119.0])
def test_less_than_such_loops_usually_read_is_never_called_sound(t_c):
    # Three in series, 20 Ω each: common practice, no source.
    told = judged(59.9, t_c)
    assert (told.verdict, told.dominant) == ("undecided", "usual")
    told = judged(60.0, t_c)
    assert told.dominant != "usual"
    single = Measured(
        r_ohm=40.0, t_c=20.0, meter_half_ohm=0.0, thermometer_half_k=0.0, placement_half_k=0.0
    )
    alone = SwitchingPtc(trip_c=120.0, in_series=1)
    assert judge_loop(alone, measured=single, short_ohm=5.0).verdict == "within"


def test_a_tripped_loop_that_still_conducts_does_not_protect():
    assert judged(40.0, 135.0).verdict == "outside"


def test_the_meters_uncertainty_guards_both_sides():
    # ± √3 Ω is U = 2 Ω.
    meter = 3**0.5
    verdicts = [judged(r, 20.0, meter=meter).verdict for r in (747.9, 748.1, 751.9, 752.1)]
    assert verdicts == ["within", "undecided", "undecided", "outside"]
    assert judged(748.1, 20.0, meter=meter).dominant == "meter"
    assert judged(748.1, 20.0, meter=meter).uncertainty_ohm == pytest.approx(2.0)


def test_a_limit_that_another_likely_temperature_moves_decides_nothing():
    # 1 kΩ is within 1650 Ω at 114 °C, and free at 116 °C: ± √3 K is U = 2 K.
    told = judged(1000.0, 114.0, placement=3**0.5)
    assert (told.verdict, told.dominant) == ("undecided", "placement")
    told = judged(1000.0, 114.0, thermometer=3**0.5, placement=0.1)
    assert (told.verdict, told.dominant) == ("undecided", "thermometer")
    assert judged(1000.0, 112.0, placement=3**0.5).verdict == "within"
    # Over range is open only where every likely temperature has a highest resistance.
    assert judged(np.inf, 114.0, placement=3**0.5).verdict == "undecided"


def test_nothing_is_promised_below_the_standards_range():
    with pytest.raises(ValueError, match=r"^-21 °C is below −20 °C, where DIN 44081 sets no limit"):
        judged(100.0, -21.0)
    # U of the thermometer may reach below it; the reading itself does not.
    assert judged(100.0, -20.0, thermometer=1.0).verdict == "within"
