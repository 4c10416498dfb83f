"""A whole machine at rest: who stands out, which plugs are exchanged, and when nobody is named."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kb.numbers.at_rest import Resting, RestingPlace
from kb.numbers.characteristic import Characteristic
from kb.numbers.machine_standing import machine_standing
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum
from kb.numbers.tolerance import PlatinumClass, SpreadTolerance

from .straight_line import line


def ntc(r_ref):
    return Characteristic(
        law=NtcBeta(r_ref=r_ref, b_k=3977),
        tolerance=SpreadTolerance(r_fraction=0.01),
        low_c=-40,
        high_c=125,
    )


NTC, SMALL = ntc(10e3), ntc(5e3)
PT = Characteristic(
    law=Platinum(r0=1000), tolerance=PlatinumClass(grade="B"), low_c=-50, high_c=200
)


def at(curve, t_c, **figures):
    r_ohm = float(curve.r_ohm(t_c))
    return Resting(curve=curve, r_ohm=r_ohm, meter_half_ohm=0.001 * r_ohm, **figures)


def one_place(readings, **figures):
    return machine_standing([RestingPlace(readings=readings, **figures)])


def states(readings, **figures):
    (place,) = one_place(readings, **figures).places
    return {name: stands.state for name, stands in place.standing.items()}


def swapped(readings, first, second):
    return readings | {
        first: readings[first].with_reading_of(readings[second]),
        second: readings[second].with_reading_of(readings[first]),
    }


ROOM = {"a": at(NTC, 20.0), "b": at(SMALL, 20.3), "c": at(NTC, 19.8), "d": at(PT, 20.1)}


def test_who_is_off_is_named_and_does_not_move_its_place():
    (place,) = one_place(ROOM | {"bad": at(NTC, 35.0)}).places
    assert place.centre_c == pytest.approx(20.05, abs=0.05)
    assert {name: stands.state for name, stands in place.standing.items()} == {
        **dict.fromkeys("abcd", "agrees"),
        "bad": "stands-out",
    }
    assert place.standing["bad"].off_k == pytest.approx(15, abs=0.1)
    assert place.standing["bad"].out > 0.99


def test_two_that_are_off_among_three_more_are_both_named():
    readings = {**ROOM, "e": at(NTC, 20.2), "bad": at(NTC, 30.0), "worse": at(SMALL, 10.0)}
    assert states(readings) == {
        **dict.fromkeys("abcde", "agrees"),
        "bad": "stands-out",
        "worse": "stands-out",
    }


def test_its_uncertainty_is_its_own_and_that_of_the_others_that_are_sound():
    readings = {name: Resting(curve=line(), r_ohm=1160.0) for name in "abc"}
    readings["x"] = Resting(curve=line(), r_ohm=1320.0, meter_half_ohm=8 * 1.5)
    (place,) = one_place(readings, spread_half_k=1.0).places
    stands = place.standing["x"]
    others_u_k = math.sqrt((1 + 1) / 3) / math.sqrt(3)
    assert stands.off_k == pytest.approx(20.0, abs=1e-4)
    assert stands.uncertainty_k == pytest.approx(
        2 * math.hypot(math.hypot(1.5, 1) / math.sqrt(3), others_u_k), rel=0.01
    )


def test_surely_out_and_just_beyond_its_limit_is_suspicious_and_no_more():
    readings = {name: at(NTC, 20.0, allow_k=4.0) for name in "abcd"}
    assert states(readings | {"x": at(NTC, 26.5, allow_k=4.0)})["x"] == "stands-out"
    assert states(readings | {"x": at(NTC, 25.0, allow_k=4.0)})["x"] == "suspicious"
    # Surely out, and the machine tolerates it.
    (place,) = one_place(readings | {"x": at(NTC, 23.9, allow_k=4.0)}).places
    assert (place.standing["x"].state, place.standing["x"].out > 0.9) == ("agrees", True)


def test_two_groups_are_told_with_the_temperature_of_each_and_nobody_is_named():
    readings = {"a": at(NTC, 20.0), "b": at(NTC, 20.2), "c": at(NTC, 30.0), "d": at(PT, 30.2)}
    (place,) = one_place(readings).places
    assert {stands.state for stands in place.standing.values()} == {"undecided"}
    assert {place.split.first, place.split.second} == {("a", "b"), ("c", "d")}
    temperatures_c = {
        place.split.first: place.split.first_c,
        place.split.second: place.split.second_c,
    }
    # Where a and b are out, it is as warm as c and d say.
    assert temperatures_c["a", "b"] == pytest.approx(30.1, abs=0.1)
    assert temperatures_c["c", "d"] == pytest.approx(20.1, abs=0.1)
    assert place.split.beside in readings


def test_a_temperature_tells_the_groups_apart():
    readings = {"a": at(NTC, 20.0), "b": at(NTC, 20.2), "c": at(NTC, 30.0), "d": at(PT, 30.2)}
    assert states(readings, t_c=20.0, thermometer_half_k=0.6) == {
        "a": "agrees",
        "b": "agrees",
        "c": "stands-out",
        "d": "stands-out",
    }


def test_two_alone_accuse_nobody_and_three_of_which_no_two_agree_neither():
    assert set(states({"a": at(NTC, 20.0), "b": at(NTC, 30.0)}).values()) == {"undecided"}
    three = {"a": at(NTC, 10.0), "b": at(NTC, 20.0), "c": at(NTC, 30.0)}
    assert set(states(three).values()) == {"undecided"}


def test_one_alone_says_nothing_and_beside_a_thermometer_it_is_judged():
    (place,) = one_place({"a": at(NTC, 18.0)}).places
    assert (place.standing["a"].state, place.standing["a"].off_k, place.centre_c) == (
        "undecided",
        None,
        None,
    )
    assert states({"a": at(NTC, 18.0)}, t_c=18.2, thermometer_half_k=0.6) == {"a": "agrees"}
    assert states({"a": at(NTC, 28.0)}, t_c=18.2, thermometer_half_k=0.6) == {"a": "stands-out"}


def test_where_all_agree_but_the_thermometer_it_is_the_thermometer():
    readings = {"a": at(NTC, 28.0), "b": at(NTC, 28.2), "c": at(PT, 28.1)}
    (place,) = one_place(readings, t_c=18.0, thermometer_half_k=0.6).places
    assert place.doubtful
    assert {stands.state for stands in place.standing.values()} == {"agrees"}


def test_what_cannot_be_read_is_named_and_left_out():
    readings = {
        **{name: at(NTC, 18.0) for name in "abc"},
        "open": Resting(curve=NTC, r_ohm=math.inf),
        "short": Resting(curve=NTC, r_ohm=2.0),
        "far": Resting(curve=NTC, r_ohm=100.0),
    }
    (place,) = one_place(readings).places
    assert {name: stands.state for name, stands in place.standing.items()} == {
        **dict.fromkeys("abc", "agrees"),
        "open": "open",
        "short": "short",
        "far": "off-curve",
    }
    assert place.centre_c == pytest.approx(18.0)


def test_who_has_no_limit_never_stands_out_and_tells_nothing_of_its_place():
    unknown = Resting(curve=line(None), r_ohm=1000 + 8 * 40.0)
    readings = {name: Resting(curve=line(), r_ohm=1000 + 8 * 20.0) for name in "ab"}
    (place,) = one_place(readings | {"x": unknown}).places
    assert place.standing["x"].state == "undecided"
    assert place.centre_c == pytest.approx(20.0)


def pairs(*places, t_c=None):
    found = machine_standing(
        [RestingPlace(readings=place, t_c=t_c, thermometer_half_k=0.6) for place in places]
    )
    return found.exchanged if found.exchanged_sure else ()


@pytest.mark.parametrize("pair", [("a", "b"), ("b", "c"), ("a", "d"), ("b", "d")])
def test_two_curves_on_each_others_plugs_are_named(pair):
    # 12.5 kΩ is beyond a Pt1000's range, 1078 Ω reads as 88 °C on the thermistor.
    found = one_place(swapped(ROOM, *pair))
    assert (found.exchanged, found.exchanged_sure) == ((pair,), True)
    (place,) = found.places
    assert {place.standing[name].state for name in pair} == {"exchanged"}
    assert {place.standing[name].state for name in set(ROOM) - set(pair)} == {"agrees"}


def test_two_on_one_curve_in_one_place_cannot_be_told_apart():
    assert one_place(swapped(ROOM, "a", "c")).exchanged == ()


def test_two_on_one_curve_in_two_places_can():
    outdoors = {"x": at(NTC, 4.0), "y": at(NTC, 4.2), "z": at(PT, 3.9)}
    whole = swapped(ROOM | outdoors, "c", "x")
    places = [{name: whole[name] for name in place} for place in (ROOM, outdoors)]
    assert pairs(*places) == (("c", "x"),)


def test_exchanged_drifted_and_open_are_each_found():
    outdoors = {name: at(NTC, 4.0) for name in "uvwxy"}
    whole = swapped(ROOM | outdoors, "c", "x")
    whole |= {"v": at(NTC, 16.0), "b": Resting(curve=SMALL, r_ohm=math.inf)}
    places = [{name: whole[name] for name in place} for place in (ROOM, outdoors)]
    found = machine_standing([RestingPlace(readings=place) for place in places])
    assert (found.exchanged, found.exchanged_sure) == ((("c", "x"),), True)
    room, outside = found.places
    assert (room.standing["b"].state, outside.standing["v"].state) == ("open", "stands-out")
    assert {outside.standing[name].state for name in "uwy"} == {"agrees"}


@pytest.mark.parametrize(
    "broken",
    [
        {"a": at(NTC, 45.0), "b": at(SMALL, -10.0)},
        {"a": Resting(curve=NTC, r_ohm=math.inf), "b": at(SMALL, 40.0)},
        {"d": Resting(curve=PT, r_ohm=0.3)},
    ],
)
def test_two_that_are_broken_are_not_explained_away(broken):
    assert one_place(ROOM | broken).exchanged == ()


def test_each_place_is_held_against_its_own_thermometer():
    room, outdoors = {"a": at(NTC, 21.0)}, {"b": at(NTC, 8.0)}
    changed = swapped(room | outdoors, "a", "b")
    places = [
        RestingPlace(readings={"a": changed["a"]}, t_c=21.0, thermometer_half_k=0.5),
        RestingPlace(readings={"b": changed["b"]}, t_c=8.0, thermometer_half_k=0.5),
    ]
    assert machine_standing(places).exchanged == (("a", "b"),)
    as_it_is = [
        replace(place, readings=own) for place, own in zip(places, (room, outdoors), strict=True)
    ]
    assert machine_standing(as_it_is).exchanged == ()


def test_the_sharpest_sensor_is_the_one_to_take_a_temperature_beside():
    readings = {"a": at(NTC, 20.0), "b": replace(at(NTC, 30.0), meter_half_ohm=1000.0)}
    (place,) = one_place(readings).places
    assert place.split.beside == "a"


def test_one_alone_does_not_agree_with_an_exchange_that_might_be():
    few_ohms = Characteristic(
        law=NtcBeta(r_ref=12.0, b_k=2900),
        tolerance=SpreadTolerance(r_fraction=0.05, b_fraction=0.03, b_k=2900),
        low_c=-20,
        high_c=90,
    )
    hot = Characteristic(law=NtcBeta(r_ref=3100, b_k=4100, at_c=100.0), low_c=20, high_c=200)

    def coarse(curve, r_ohm, allow_k):
        half_ohm = 0.025 * r_ohm + 400
        return Resting(curve=curve, r_ohm=r_ohm, meter_half_ohm=half_ohm, allow_k=allow_k)

    outdoors = {"f": coarse(line(), 43_028.0, 1.0)}
    room = {"d": coarse(hot, math.inf, 2.0), "e": coarse(few_ohms, 8.56, 2.0)}
    places = [outdoors, room, {"a": coarse(hot, 1088.0, 4.0)}]
    place = machine_standing([RestingPlace(readings=readings) for readings in places]).places[1]
    assert place.centre_c is None
    assert (place.standing["e"].state, place.standing["e"].off_k) == ("undecided", None)
