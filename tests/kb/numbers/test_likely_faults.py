"""What else would make readings: said where it is likely, with its number, and not where it is not."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.characteristic import Characteristic
from kb.numbers.divider import parallel_ohm
from kb.numbers.likely_faults import MOST_LINES, Known, explain
from kb.numbers.measured import Measured
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum
from kb.numbers.tolerance import PlatinumClass, SpreadTolerance

SPREAD = SpreadTolerance(r_fraction=0.01)
TEN = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3977), tolerance=SPREAD, low_c=-40, high_c=125)
FIVE = Characteristic(law=NtcBeta(r_ref=5e3, b_k=3470), tolerance=SPREAD, low_c=-40, high_c=125)
PT = Characteristic(
    law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200
)


def read(r_ohm, t_c=5.0):
    return Measured(
        r_ohm=r_ohm,
        t_c=t_c,
        meter_half_ohm=0.01 * r_ohm,
        thermometer_half_k=0.3,
        placement_half_k=0.5,
    )


def found_in(curve, *readings, **known):
    return explain(Known(curve=curve, **known), readings=readings)


def kinds(found):
    """Return the kind of each line; of causes that are not told apart, all of them."""
    return [
        " or ".join(cause.kind for cause in one.causes) if one.causes else one.kind for one in found
    ]


class KnownTo:
    """A curve known to so much everywhere."""

    def __init__(self, half_k):
        self.known_k = half_k

    def half_k(self, t_c):
        return np.full_like(np.asarray(t_c, dtype=float), self.known_k)


def test_another_curve_explains_a_reading_within_its_own_width():
    # 1.8 K warmer than a nominal 5 kΩ part: more than L and U, 0.3 + 0.7 K, and less than with 2 K.
    reading = read(FIVE.r_ohm(6.8))
    assert "other-curve" not in kinds(found_in(TEN, reading, family={"five": FIVE}))
    rough = replace(FIVE, width=KnownTo(2.0))
    assert "other-curve" in kinds(found_in(TEN, reading, family={"five": rough}))


def test_a_slip_of_unit_is_found_both_ways():
    nominal = TEN.r_ohm(5.0)
    low = found_in(TEN, read(nominal / 1000))
    high = found_in(TEN, read(nominal * 1000))
    assert kinds(low) == kinds(high) == ["unit-slip"]
    assert low[0].figures == {"times": 1000.0}
    assert high[0].figures == {"times": 0.001}


def test_a_decimal_point_misread_is_found():
    found = found_in(TEN, read(TEN.r_ohm(5.0) * 10))
    assert kinds(found) == ["factor-ten"]
    assert found[0].figures == {"times": 0.1}


def test_still_plugged_in_is_found_with_the_sensors_own_resistance():
    seen = parallel_ohm(TEN.r_ohm(5.0), other_ohm=10e3)
    found = found_in(TEN, read(seen), pull_up_ohm=10e3)
    assert kinds(found) == ["plugged-in"]
    assert found[0].figures["sensor_ohm"] == pytest.approx(TEN.r_ohm(5.0))
    # Where nobody knows the pull-up it is one circuit with a leak, and a drift reads so too.
    assert kinds(found_in(TEN, read(seen))) == ["leak or drift"]


@pytest.mark.parametrize("r_ohm", [9810.0, 9.99e3, 10e3, 10.1e3])
def test_a_reading_of_the_pull_up_itself_is_the_board_and_an_open_sensor(r_ohm):
    found = found_in(TEN, read(r_ohm), pull_up_ohm=10e3)
    assert kinds(found) == ["board-alone"]
    assert (found[0].t_implied_c, found[0].error_k) == (None, None)
    assert found[0].figures == {"pull_up_ohm": 10e3}
    assert "board-alone" not in kinds(found_in(TEN, read(r_ohm)))


def test_how_near_to_the_pull_up_is_the_pull_up_itself_hangs_on_the_meter():
    # ± 1 % of the pull-up, 100 Ω (common practice, no source), and the meter's own ± 50 Ω.
    def told(r_ohm: float) -> list[str]:
        measured = Measured(r_ohm=r_ohm, t_c=5.0, meter_half_ohm=50.0, thermometer_half_k=0.3)
        return kinds(found_in(TEN, measured, pull_up_ohm=10e3))

    assert told(9851.0) == told(10149.0) == ["board-alone"]
    assert "board-alone" not in told(9849.0) + told(10151.0)


def test_a_reading_near_the_pull_up_says_little_about_the_sensor():
    # 42 kΩ beside 10 kΩ reads 8.1 kΩ: 1 % of that is 5 % of the sensor, so 4 % off still fits.
    sensor_ohm = TEN.r_ohm(-4.5) * 1.04
    seen = parallel_ohm(sensor_ohm, other_ohm=10e3)
    exact = Measured(r_ohm=seen, t_c=-4.5, meter_half_ohm=0.01 * seen)
    assert kinds(found_in(TEN, exact, pull_up_ohm=10e3)) == ["plugged-in"]
    better = Measured(r_ohm=seen, t_c=-4.5, meter_half_ohm=0.001 * seen)
    assert kinds(found_in(TEN, better, pull_up_ohm=10e3)) != ["plugged-in"]


def test_another_curve_is_found_and_named():
    found = found_in(TEN, read(FIVE.r_ohm(5.0)), family={"five": FIVE, "ten": TEN})
    assert kinds(found) == ["other-curve"]
    assert found[0].figures == {"curve": "five", "curves": ("five",)}
    assert found[0].t_implied_c == pytest.approx(5.0)


def test_one_reading_does_not_tell_a_contact_from_a_drift():
    found = found_in(TEN, read(TEN.r_ohm(5.0) + 5e3))
    assert kinds(found) == ["series-resistance or drift"]
    assert found[0].causes[0].figures["series_ohm"] == pytest.approx(5e3)


def test_a_second_temperature_tells_a_contact_from_a_drift():
    contact = [read(TEN.r_ohm(t_c) + 5e3, t_c) for t_c in (5.0, 25.0)]
    drift = [read(TEN.r_ohm(t_c) * 1.2, t_c) for t_c in (5.0, 25.0)]
    (found,) = found_in(TEN, *contact)
    assert found.kind == "series-resistance"
    # The size is what both readings together ask for.
    assert found.figures["series_ohm"] == pytest.approx(5e3, rel=0.1)
    assert kinds(found_in(TEN, *drift)) == ["drift"]


def test_a_second_temperature_tells_a_leak_from_a_drift_and_finds_its_size():
    leak = [read(parallel_ohm(TEN.r_ohm(t_c), other_ohm=60e3), t_c) for t_c in (0.0, 25.0)]
    (found,) = found_in(TEN, *leak)
    assert found.kind == "leak"
    assert found.figures["leak_ohm"] == pytest.approx(60e3, rel=0.2)


def test_a_reading_that_is_right_with_the_plug_off_leaves_what_the_plug_explains():
    plugged = read(parallel_ohm(TEN.r_ohm(5.0), other_ohm=15e3))
    assert kinds(found_in(TEN, plugged, read(TEN.r_ohm(5.0)))) == ["leak"]
    # A drift does not go away with the plug.
    assert kinds(found_in(TEN, plugged)) == ["leak or drift"]


def test_an_exchanged_plug_stays_at_the_temperature_of_its_own_place():
    elsewhere = [read(TEN.r_ohm(21.0), t_c) for t_c in (5.0, 30.0)]
    (found,) = found_in(TEN, *elsewhere, has_twins=True)
    assert (found.kind, found.figures["at_c"]) == ("exchanged", pytest.approx(21.0, abs=1.0))
    assert "exchanged" not in " ".join(kinds(found_in(TEN, *elsewhere)))


def test_what_the_shade_takes_away_was_the_sun():
    sun, shade = read(TEN.r_ohm(17.0), 10.0), read(TEN.r_ohm(30.0), 30.0)
    assert "warmer" in kinds(found_in(TEN, sun))[0]
    assert "drift" not in " ".join(kinds(found_in(TEN, sun, shade)))
    # In ice nothing is in the sun.
    assert "warmer" not in kinds(found_in(TEN, sun, unit=""))[0]


@pytest.mark.parametrize(("unit", "true_c"), [("C", (77 - 32) / 1.8), ("F", 77 * 1.8 + 32)])
def test_a_temperature_typed_in_the_other_unit_is_found(unit, true_c):
    pt = Characteristic(
        law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200
    )
    found = found_in(pt, read(float(pt.r_ohm(true_c)), 77.0), unit=unit)
    assert kinds(found)[0] == "fahrenheit"
    assert found[0].t_implied_c == pytest.approx(true_c)
    assert "fahrenheit" not in kinds(found_in(pt, read(float(pt.r_ohm(true_c)), 77.0), unit=""))


def test_a_slip_may_be_noticed_before_the_next_reading():
    slip = read(TEN.r_ohm(5.0) / 1000)
    for other in (read(TEN.r_ohm(25.0), 25.0), read(TEN.r_ohm(25.0) / 1000, 25.0)):
        assert kinds(found_in(TEN, slip, other)) == ["unit-slip"]
    # What is neither sound nor slipped so is another thing.
    assert kinds(found_in(TEN, slip, read(TEN.r_ohm(25.0) * 2, 25.0))) != ["unit-slip"]


def test_curves_that_fit_alike_are_one_line_and_the_familys_come_first():
    twins = {"a": FIVE, "b": FIVE}
    found = explain(
        Known(curve=TEN, family=twins, others={"c": FIVE}), readings=[read(FIVE.r_ohm(5.0))]
    )
    assert [one.figures["curves"] for one in found[:1]] == [("a", "b")]
    assert all(one.figures.get("curves") in (("a", "b"), ("c",)) for one in found)


def test_a_contact_worse_than_twice_the_sensor_is_not_believed():
    nominal_ohm = TEN.r_ohm(5.0)
    just = kinds(found_in(TEN, read(nominal_ohm * 2.99), unit=""))
    over = kinds(found_in(TEN, read(nominal_ohm * 3.01), unit=""))
    assert ("series" in " ".join(just), "series" in " ".join(over)) == (True, False)


def test_a_bad_sensor_alone_is_no_other_explanation_of_one_reading():
    assert found_in(TEN, read(TEN.r_ohm(5.0) * 3.01), unit="") == ()


@given(st.floats(1, 1e7), st.floats(-20, 80))
def test_whatever_is_offered_fits_within_limit_and_uncertainty(r_ohm, t_c):
    others = {"five": FIVE, "pt": PT}
    for one in found_in(TEN, read(r_ohm, t_c), pull_up_ohm=12e3, family=others):
        if one.error_k is None:
            continue
        # The widest: 1 % part and 1 % meter stretched at most ten times, 0.3 and 0.5 K beside it.
        assert abs(one.error_k) < 25
        if one.kind != "plugged-in":
            assert abs(one.error_k) < 6


@given(st.floats(1, 1e7), st.floats(-20, 80), st.floats(1, 1e7), st.floats(-20, 80))
def test_lines_are_few_and_likely_enough(r_ohm, t_c, other_ohm, other_c):
    known = Known(curve=TEN, pull_up_ohm=12e3, family={"five": FIVE}, others={"pt": PT})
    found = explain(known, readings=[read(r_ohm, t_c), read(other_ohm, other_c)])
    assert len(found) <= MOST_LINES
    assert all(one.kind != "several" or len(one.causes) > 1 for one in found)


@pytest.mark.parametrize("r_ohm", [0.0, math.inf])
def test_open_and_dead_short_have_no_other_reading(r_ohm):
    assert found_in(TEN, Measured(r_ohm=r_ohm, t_c=5.0)) == ()


def test_a_reading_that_stands_as_it_is_has_no_other_explanation():
    """Within or not decided: nobody's slip, although another curve would fit too."""
    stands = Measured(r_ohm=float(TEN.r_ohm(20)), t_c=20, placement_half_k=2.0)
    assert found_in(TEN, stands, pull_up_ohm=1e6, family={"twin": TEN, "five": FIVE}) == ()
