"""A round on the floor of answers: who rests with whom, and what each outcome leads to."""

from __future__ import annotations

import math

import pytest

from kb.answers.instruments import NamedMeter, NamedThermometer, Tools
from kb.answers.round import RoundAnswer, RoundQuestion, answer_round
from kb.answers.round_places import RestingSensor
from kb.answers.round_rows import RoundReading, RoundRow
from kb.answers.statement import Refusal
from kb.numbers.characteristic import Characteristic
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.thermometer import Thermometer
from kb.numbers.tolerance import SpreadTolerance


def meter(*spans_ohm: float) -> NamedMeter:
    ranges = tuple(
        OhmRange(span_ohm=span_ohm, resolution_ohm=span_ohm / 4000, percent=0.5, digits=2)
        for span_ohm in spans_ohm
    )
    return NamedMeter(id="pocket", name="Pocket", meter=Meter(ranges=ranges))


PROBE = NamedThermometer(
    id="probe",
    name="Probe",
    thermometer=Thermometer(accuracy_k=0.4, percent=0, resolution_k=0.1, low_c=-20, high_c=60),
)
TOOLS = Tools(meter=meter(40e3, 4e6), thermometer=PROBE, placement="held-on")


def curve(r_ref: float = 10e3) -> Characteristic:
    tolerance = SpreadTolerance(r_fraction=0.01, at_c=25.0, b_fraction=0.01, b_k=3500)
    return Characteristic(
        law=NtcBeta(r_ref=r_ref, b_k=3500), low_c=-30, high_c=80, tolerance=tolerance, id="curve"
    )


def ohms(t_c: float, r_ref: float = 10e3) -> str:
    """What a nominal sensor reads, as somebody types it."""
    return f"{r_ref * math.exp(3500 * (1 / (t_c + 273.15) - 1 / 298.15)):.1f}"


def asked(
    readings: dict[str, str | RoundReading],
    *,
    places: dict[str, str] | None = None,
    tools: Tools = TOOLS,
    **more: object,
) -> RoundAnswer:
    """Answer a round of sensors A to F on one curve; `places` says where each rests."""
    names = "ABCDEF"
    sensors = [
        RestingSensor(
            id=name.lower(),
            name=name,
            curve=curve(),
            curve_id="c",
            place=(places or {}).get(name, ""),
            allow_k=2.0,
        )
        for name in names
    ]
    typed = [
        reading
        if isinstance(reading, RoundReading)
        else RoundReading(sensor=name.lower(), reading=reading)
        for name, reading in readings.items()
    ]
    return answer_round(RoundQuestion(sensors=sensors, readings=typed, tools=tools, **more))


def states(answer: RoundAnswer) -> dict[str, str]:
    return {row.name: row.state for row in answer.rows}


def said(row: RoundRow) -> list[str]:
    return ids([*([row.reads_as] if row.reads_as else []), *row.beside])


def ids(statements: object) -> list[str]:
    return [statement.id for statement in statements]


def test_those_of_one_place_agree_and_the_fault_is_elsewhere():
    answer = asked({"A": ohms(20), "B": ohms(20.1), "C": ohms(19.9)})
    (place,) = answer.places
    assert (place.state, place.title.id) == ("within", "round.title-agree")
    assert ids(place.statements) == ["round.all-agree"]
    assert place.next.id == "round.next-agree"
    assert ids(answer.against) == ["round.against-middle", "round.spread"]


def test_who_stands_out_has_a_step_of_its_own_and_the_place_none():
    answer = asked({"A": ohms(20), "B": ohms(20), "C": ohms(20), "D": ohms(32)})
    (place,) = answer.places
    assert (place.state, place.title.id) == ("outside", "round.title-stands-out")
    assert place.next is None
    row = answer.rows[-1]
    assert (row.state, row.next.id) == ("stands-out", "round.next-judge")
    assert said(row) == ["round.row-reads", "round.row-hotter"]


def test_a_room_is_never_held_against_the_outdoors():
    places = {"A": "room", "B": "room", "C": "room", "D": "outdoors", "E": "outdoors"}
    answer = asked(
        {name: ohms(20 if places[name] == "room" else 5) for name in places}, places=places
    )
    assert [place.place for place in answer.places] == ["outdoors", "room"]
    assert set(states(answer).values()) == {"agrees"}
    assert [place.title.id for place in answer.places] == ["round.title-agree"] * 2


@pytest.mark.parametrize(
    ("places", "why"),
    [
        ({"A": "room", "B": "room", "C": ""}, "no-place"),
        ({"A": "room", "B": "room", "C": "cellar"}, "alone"),
        ({}, ""),
    ],
)
def test_who_has_no_company_is_held_against_nobody(places, why):
    row = asked({"C": ohms(20)}, places=places).rows[0]
    assert row.kept_out == why
    assert (said(row) if why else []) == (["round.row-reads", f"round.row-{why}"] if why else [])


def test_company_counts_though_it_was_not_read():
    answer = asked({"A": ohms(20)}, places={"A": "room", "B": "room"})
    assert answer.rows[0].kept_out == ""
    assert answer.places[0].title.id == "round.title-few"
    assert answer.places[0].next.id == "round.next-few"


def test_who_is_kept_out_is_broken_all_the_same():
    answer = asked({"C": "OL", "D": "2"}, places={"A": "room", "B": "room"})
    assert states(answer) == {"C": "open", "D": "short"}
    assert ids(answer.faulty) == ["round.open", "round.short"]
    assert answer.places == ()
    assert answer.against == ()
    assert [row.next.id for row in answer.rows] == ["round.next-plug"] * 2


def test_in_ice_water_a_sensor_is_not_at_rest_with_the_machine():
    in_ice = RoundReading(
        sensor="d", reading=ohms(0), at="0", placement="ice-water", elsewhere=True
    )
    answer = asked({"A": ohms(20), "B": ohms(20), "C": ohms(20), "D": in_ice})
    assert answer.rows[-1].kept_out == "ice-water"
    assert answer.rows[-1].state == "within"
    assert said(answer.rows[-1]) == ["round.row-at-elsewhere", "round.row-ice-water"]
    assert states(answer) == {"A": "agrees", "B": "agrees", "C": "agrees", "D": "within"}


def test_with_a_thermometer_everybody_is_held_against_it():
    answer = asked({"A": ohms(20), "C": ohms(30)}, places={"A": "room", "B": "room"}, at="68F")
    assert answer.unit == "F"
    assert answer.at_c == pytest.approx(20)
    assert states(answer) == {"A": "agrees", "C": "stands-out"}
    assert [place.title.id for place in answer.places] == [
        "round.title-stands-out",
        "round.title-agree",
    ]
    assert ids(answer.against) == ["round.against-thermometer", "round.spread"]


def test_a_temperature_with_the_reading_gives_a_verdict_and_the_rest_may_contradict_it():
    readings = {
        name: RoundReading(sensor=name.lower(), reading=ohms(20), at="20", placement="strapped")
        for name in "ABC"
    }
    readings["D"] = RoundReading(sensor="d", reading=ohms(32), at="32", placement="strapped")
    answer = asked(readings)
    assert states(answer) == {"A": "within", "B": "within", "C": "within", "D": "within"}
    assert said(answer.rows[-1]) == ["round.row-at", "round.row-stands-out-hotter"]


def test_a_temperature_that_cannot_be_used_is_said_and_the_rest_still_counts():
    readings = {name: ohms(20) for name in "ABC"}
    readings["D"] = RoundReading(sensor="d", reading=ohms(20), at="200", placement="air")
    row = asked(readings).rows[-1]
    assert (row.state, row.t_c, row.refusal.id) == ("agrees", None, "field.beyond-curve")


def test_two_plugs_exchanged_are_named_and_who_is_the_middle_is_said_plainly():
    sensors = [
        RestingSensor(id=name, name=name.upper(), curve=curve(r_ref), curve_id=name)
        for name, r_ref in (("a", 10e3), ("b", 5e3), ("c", 10e3), ("d", 10e3))
    ]
    readings = {"a": ohms(20, 5e3), "b": ohms(20), "c": ohms(20), "d": ohms(20)}
    answer = answer_round(
        RoundQuestion(
            sensors=sensors,
            readings=[RoundReading(sensor=name, reading=text) for name, text in readings.items()],
            tools=TOOLS,
        )
    )
    assert answer.exchanged == (("a", "b"),)
    assert answer.exchange.id == "round.exchanged"


def test_what_cannot_be_read_is_refused_in_its_row_and_nothing_is_left_out():
    answer = asked({"A": "lots", "B": ohms(20), "C": "", "D": ohms(20)})
    assert [row.name for row in answer.rows] == ["A", "B", "D"]
    assert answer.rows[0].refusal.id == "field.unreadable"
    assert answer.places[0].statements[0].id == "round.both-agree"


def test_a_thermometer_that_does_not_reach_refuses_the_round():
    with pytest.raises(Refusal) as refused:
        asked({"A": ohms(20)}, at="-30")
    assert refused.value.statement.id == "field.beyond-thermometer"


def test_over_range_that_a_good_part_may_read_is_no_open_circuit():
    tools = Tools(meter=meter(40e3), thermometer=PROBE, placement="held-on")
    answer = asked({"A": "OL", "B": ohms(20), "C": ohms(20)}, tools=tools)
    (place,) = answer.places
    assert place.state == "undecided"
    assert ids(place.statements) == ["round.over-range", "round.others-agree"]
    assert place.next.id == "round.next-undecided"
