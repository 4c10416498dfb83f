"""Two sensors on each other's plugs are named as such; two that are broken are not."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kb.numbers.at_rest import Resting
from kb.numbers.characteristic import Characteristic
from kb.numbers.exchanged import RestingPlace, exchanged
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum
from kb.numbers.tolerance import PlatinumClass, SpreadTolerance

NTC = Characteristic(
    law=NtcBeta(r_ref=10e3, b_k=3977),
    tolerance=SpreadTolerance(r_fraction=0.01),
    low_c=-40,
    high_c=125,
)
SMALL = Characteristic(
    law=NtcBeta(r_ref=5e3, b_k=3977),
    tolerance=SpreadTolerance(r_fraction=0.01),
    low_c=-40,
    high_c=125,
)
PT = Characteristic(
    law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200
)


def at(curve, t_c):
    r_ohm = float(curve.r_ohm(t_c))
    return Resting(curve=curve, r_ohm=r_ohm, meter_half_ohm=0.005 * r_ohm)


def swapped(readings, one, other):
    return readings | {
        one: replace(readings[one], r_ohm=readings[other].r_ohm),
        other: replace(readings[other], r_ohm=readings[one].r_ohm),
    }


ROOM = {"a": at(NTC, 20.0), "b": at(SMALL, 20.3), "c": at(NTC, 19.8), "d": at(PT, 20.1)}


@pytest.mark.parametrize("pair", [("a", "b"), ("b", "c"), ("a", "d"), ("b", "d")])
def test_two_curves_on_each_others_plugs_are_named(pair):
    assert pair in exchanged([RestingPlace(readings=swapped(ROOM, *pair))])


def test_a_reading_that_is_off_the_other_curve_is_no_hindrance():
    # 12.5 kΩ is beyond a Pt1000's range, 1078 Ω reads as 88 °C on the thermistor.
    assert exchanged([RestingPlace(readings=swapped(ROOM, "a", "d"))]) == [("a", "d")]


def test_where_all_agree_there_is_nothing_to_explain():
    assert exchanged([RestingPlace(readings=ROOM)]) == []


def test_two_on_one_curve_in_one_place_cannot_be_told_apart():
    assert exchanged([RestingPlace(readings=swapped(ROOM, "a", "c"))]) == []


def test_two_on_one_curve_in_two_places_can():
    outdoors = {"x": at(NTC, 4.0), "y": at(NTC, 4.2), "z": at(PT, 3.9)}
    whole = swapped(ROOM | outdoors, "c", "x")
    room = {name: whole[name] for name in ROOM}
    places = [room, {name: whole[name] for name in outdoors}]
    assert exchanged([RestingPlace(readings=place) for place in places]) == [("c", "x")]


@pytest.mark.parametrize(
    "broken",
    [
        {"a": at(NTC, 45.0), "b": at(SMALL, -10.0)},
        {"a": Resting(curve=NTC, r_ohm=math.inf), "b": at(SMALL, 40.0)},
        {"d": Resting(curve=PT, r_ohm=0.3)},
    ],
)
def test_two_that_are_broken_are_not_explained_away(broken):
    assert exchanged([RestingPlace(readings=ROOM | broken)]) == []


def test_a_thermometer_tells_it_of_two_alone():
    pair = {"a": at(NTC, 20.0), "b": at(SMALL, 20.3)}
    assert exchanged([RestingPlace(readings=swapped(pair, "a", "b"))]) == []
    with_thermometer = RestingPlace(
        readings=swapped(pair, "a", "b"), t_c=20.0, thermometer_half_k=0.5
    )
    assert exchanged([with_thermometer]) == [("a", "b")]


def test_each_place_is_held_against_its_own_thermometer():
    room = {"a": at(NTC, 21.0)}
    outdoors = {"b": at(NTC, 8.0)}
    changed = swapped(room | outdoors, "a", "b")
    places = [
        RestingPlace(readings={"a": changed["a"]}, t_c=21.0, thermometer_half_k=0.5),
        RestingPlace(readings={"b": changed["b"]}, t_c=8.0, thermometer_half_k=0.5),
    ]
    assert exchanged(places) == [("a", "b")]
    as_it_is = [
        replace(place, readings=own) for place, own in zip(places, (room, outdoors), strict=True)
    ]
    assert exchanged(as_it_is) == []
