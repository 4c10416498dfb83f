"""A machine at rest on every limit itself, and with just enough sensors."""

from __future__ import annotations

import math

import pytest

from kb.numbers.at_rest import Resting, at_rest

from .straight_line import HALF_OF_U_2, line


def resting(t_c, curve=None, **figures):
    return Resting(curve=curve or line(), r_ohm=1000 + 8 * t_c, **figures)


def state(reading, **options):
    options = {"t_c": 64.0, "spread_half_k": 0.0} | options
    return at_rest({"x": reading}, **options).standing["x"].state


@pytest.mark.parametrize("side", [-1, 1])
def test_on_the_limit_and_on_limit_plus_uncertainty(side):
    assert [state(resting(64 + side * off_k)) for off_k in (1.0, 1.125)] == ["agrees", "stands-out"]
    # U = 2 K is larger than the limit of 1 K: up to it nothing speaks against the sensor.
    states = [
        state(resting(64 + side * off_k), thermometer_half_k=HALF_OF_U_2)
        for off_k in (2.0, 2.125, 3.0, 3.125)
    ]
    assert states == ["agrees", "undecided", "undecided", "stands-out"]


def test_the_uncertainty_is_that_of_meter_place_and_thermometer():
    standing = at_rest(
        {"x": resting(64.0, meter_half_ohm=8 * 1.5)},
        t_c=64.0,
        thermometer_half_k=2.0,
        spread_half_k=0.5,
    ).standing["x"]
    assert standing.uncertainty_k == pytest.approx(2 * math.sqrt((1.5**2 + 2**2 + 0.5**2) / 3))
    assert (standing.off_k, standing.limit_k, standing.t_implied_c) == (0.0, 1.0, 64.0)


def test_three_sensors_are_just_enough_to_name_one():
    two = at_rest({"a": resting(20.0), "b": resting(60.0)})
    assert {name: one.state for name, one in two.standing.items()} == dict.fromkeys(
        "ab", "undecided"
    )
    three = at_rest({"a": resting(20.0), "b": resting(20.0), "c": resting(60.0)})
    assert three.centre_c == 20.0
    assert three.standing["c"].state == "stands-out"


def test_between_two_middle_ones_lies_the_centre():
    temperatures_c = {"a": 10.0, "b": 20.0, "c": 22.0, "d": 90.0}
    rest = at_rest({name: resting(t_c) for name, t_c in temperatures_c.items()})
    assert rest.centre_c == 21.0
    assert rest.standing["b"].off_k == -1.0


def test_the_median_is_as_sure_as_its_sensors():
    readings = {name: resting(20.0, meter_half_ohm=8 * 1.5) for name in "abcd"}
    standing = at_rest(readings, spread_half_k=0.5).standing["a"]
    own_u_k = math.hypot(1.5, 0.5) / math.sqrt(3)
    each_u_k = math.hypot(own_u_k, 1 / math.sqrt(3))
    centre_u_k = math.sqrt(math.pi / 2 / 4) * each_u_k
    assert standing.uncertainty_k == pytest.approx(2 * math.hypot(own_u_k, centre_u_k))


def test_who_has_no_limit_never_stands_out():
    unknown = line(None)
    assert state(resting(100.0, curve=unknown)) == "undecided"
    assert state(resting(100.0, curve=unknown, allow_k=2.0)) == "stands-out"
    assert state(resting(66.0, curve=unknown, allow_k=2.0)) == "agrees"


def test_one_alone_beside_a_thermometer_is_judged_and_without_one_not():
    assert state(resting(64.0)) == "agrees"
    alone = at_rest({"x": resting(64.0)})
    assert (alone.centre_c, alone.by_thermometer) == (None, False)
    assert alone.standing["x"].t_implied_c == 64.0
    nobody = at_rest({"x": Resting(curve=line(), r_ohm=math.inf)}, t_c=20.0)
    assert (nobody.centre_c, nobody.by_thermometer) == (20.0, True)


@pytest.mark.parametrize(
    ("r_ohm", "expected"),
    [
        (0.0, "short"),
        (9.99, "short"),
        (10.0, "off-curve"),
        (999.0, "off-curve"),
        (1000.0, "stands-out"),
        (2024.0, "stands-out"),
        (2025.0, "off-curve"),
    ],
)
def test_the_ends_of_the_curve_still_belong_to_it(r_ohm, expected):
    assert state(Resting(curve=line(), r_ohm=r_ohm)) == expected


def test_over_range_on_a_span_that_ends_with_the_curve_is_not_decided():
    states = [
        state(Resting(curve=line(), r_ohm=math.inf, meter_span_ohm=span_ohm))
        for span_ohm in (2024.0, 2024.125)
    ]
    assert states == ["undecided", "open"]
