"""A round on the floor of answers: who rests with whom, and what each outcome leads to."""

from __future__ import annotations

import math

import pytest

from kb.answers.instruments import NamedMeter, NamedThermometer, Tools
from kb.answers.round import RoundAnswer, RoundQuestion, answer_round
from kb.answers.round_places import PlaceTemperature, RestingSensor
from kb.answers.round_rows import RoundReading, RoundRow
from kb.answers.statement import Statement
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
    readings: dict[str, str],
    *,
    places: dict[str, str] | None = None,
    at: dict[str, str] | None = None,
    placement: str = "air",
    tools: Tools = TOOLS,
) -> RoundAnswer:
    """Answer a round of sensors A to F on one curve.

    `places` says where each rests, all in the room without it; `at` what a thermometer shows where.
    """
    sensors = [
        RestingSensor(
            id=name.lower(),
            name=name,
            curve=curve(),
            curve_id="c",
            place="room" if places is None else places.get(name, ""),
            allow_k=2.0,
        )
        for name in "ABCDEF"
    ]
    return answer_round(
        RoundQuestion(
            sensors=sensors,
            readings=[
                RoundReading(sensor=name.lower(), reading=reading)
                for name, reading in readings.items()
            ],
            temperatures=[
                PlaceTemperature(place=place, at=text, placement=placement)
                for place, text in (at or {}).items()
            ],
            tools=tools,
        )
    )


def states(answer: RoundAnswer) -> dict[str, str]:
    return {row.name: row.state for row in answer.rows}


def beside(row: RoundRow) -> list[str]:
    return ids([*([row.reads_as] if row.reads_as else []), *row.beside])


def ids(statements: object) -> list[str]:
    return [statement.id for statement in statements]


def test_those_of_one_place_agree_and_the_fault_is_elsewhere():
    answer = asked({"A": ohms(20), "B": ohms(20.1), "C": ohms(19.9)})
    (place,) = answer.places
    assert (place.state, place.title.id) == ("within", "round.title-agree")
    assert ids(place.statements) == ["round.all-agree"]
    assert ids(place.next) == ["round.next-agree"]
    assert ids(answer.against) == ["round.against-each-other", "round.taken"]


def test_who_stands_out_is_named_with_what_to_do_next():
    answer = asked({"A": ohms(20), "B": ohms(20), "C": ohms(20), "D": ohms(32)})
    (place,) = answer.places
    assert (place.state, place.title.id) == ("outside", "round.title-stands-out")
    assert place.next == (Statement(id="round.next-judge", figures={"sensor": "D"}),)
    row = answer.rows[-1]
    assert (row.state, row.next) == ("stands-out", place.next[0])
    assert beside(row) == ["round.row-reads", "round.row-hotter"]


def test_a_room_is_never_held_against_the_outdoors():
    places = {"A": "room", "B": "room", "C": "room", "D": "outdoors", "E": "outdoors"}
    answer = asked(
        {name: ohms(20 if places[name] == "room" else 5) for name in places}, places=places
    )
    assert [place.place for place in answer.places] == ["outdoors", "room"]
    assert set(states(answer).values()) == {"agrees"}
    assert [place.title.id for place in answer.places] == ["round.title-agree"] * 2


def test_the_temperature_outdoors_says_nothing_of_a_sensor_in_the_room():
    places = {"A": "room", "B": "room", "C": "room", "D": "outdoors", "E": ""}
    readings = {name: ohms(8 if name == "D" else 21) for name in places}
    answer = asked(readings, places=places, at={"outdoors": "8"})
    assert states(answer) == {"A": "agrees", "B": "agrees", "C": "agrees", "D": "agrees", "E": ""}
    by_place = {place.place: (place.at_c, place.centre_c) for place in answer.places}
    assert by_place["outdoors"] == (8, pytest.approx(8, abs=0.01))
    assert by_place["room"] == (None, pytest.approx(21, abs=0.01))
    assert by_place["sensor:e"] == (None, None)


def test_each_place_has_a_temperature_of_its_own():
    places = {"A": "room", "B": "outdoors", "C": "outdoors"}
    readings = {"A": ohms(21), "B": ohms(8), "C": ohms(21)}
    answer = asked(readings, places=places, at={"outdoors": "8", "room": "70F"})
    assert states(answer) == {"A": "agrees", "B": "agrees", "C": "stands-out"}
    assert ids(answer.against) == ["round.against-thermometer", "round.taken"]
    # The first one's unit answers.
    assert answer.unit == "C"
    assert [found.t_c for found in answer.temperatures] == [8, pytest.approx(21.11, abs=0.01)]


def test_a_sensor_without_a_place_is_held_against_the_temperature_beside_it_alone():
    answer = asked({"A": ohms(20), "C": ohms(20.5)}, places={}, at={"sensor:c": "20"})
    assert states(answer) == {"A": "", "C": "agrees"}
    assert [row.kept_out for row in answer.rows] == ["no-place", ""]
    answer = asked({"C": ohms(31)}, places={}, at={"sensor:c": "20"})
    assert states(answer) == {"C": "stands-out"}
    # Nothing else rests there: the spots of a place do not differ.
    assert answer.rows[-1].standing.uncertainty_k == pytest.approx(
        2 * math.hypot(0.4 + 0.05, 2.0, meter_half_k(ohms(31))) / math.sqrt(3), rel=0.02
    )
    assert "round.taken" not in ids(answer.against)


def meter_half_k(reading: str) -> float:
    """Half-width of a reading in K: 0.5 % and two digits, through the slope B/T²."""
    r_ohm = float(reading)
    t_k = 1 / (1 / 298.15 + math.log(r_ohm / 10e3) / 3500)
    return (0.005 * r_ohm + 20) / r_ohm * t_k**2 / 3500


def test_how_a_temperature_was_taken_counts():
    closely, loosely = (
        asked({"A": ohms(20)}, at={"room": "20"}, placement=placement).rows[0].standing
        for placement in ("strapped", "air")
    )
    assert loosely.uncertainty_k > closely.uncertainty_k + 0.5


@pytest.mark.parametrize(
    ("places", "why"),
    [
        ({"A": "room", "B": "room", "C": ""}, "no-place"),
        ({"A": "room", "B": "room", "C": "cellar"}, "alone"),
        ({}, "no-place"),
    ],
)
def test_who_has_no_company_is_held_against_nobody_and_asks_for_a_temperature(places, why):
    answer = asked({"C": ohms(20)}, places=places)
    row, (place,) = answer.rows[0], answer.places
    assert row.kept_out == why
    assert beside(row) == ["round.row-reads", f"round.row-{why}"]
    assert (place.state, place.title.id) == ("undecided", f"round.title-{why}")
    assert ids(place.statements) == [f"round.{why}"]
    assert ids(place.next) == ["round.next-alone"]
    assert answer.against == ()


def test_one_read_of_a_place_asks_for_the_others():
    answer = asked({"A": ohms(20)})
    (place,) = answer.places
    assert answer.rows[0].kept_out == ""
    assert (place.title.id, ids(place.statements)) == ("round.title-one-read", ["round.one-read"])
    assert ids(place.next) == ["round.next-read-more"]


@pytest.mark.parametrize(("third", "step"), [("C", "tell-or-read"), ("", "tell")])
def test_two_that_differ_ask_for_a_third_only_where_there_is_one(third, step):
    places = {"A": "room", "B": "room", third: "room"}
    (place,) = asked({"A": ohms(20), "B": ohms(32)}, places=places).places
    assert (place.state, place.title.id) == ("undecided", "round.title-split")
    assert ids(place.statements) == ["round.split"]
    assert ids(place.next) == [f"round.next-{step}"]


def test_who_is_kept_out_is_broken_all_the_same():
    answer = asked({"C": "OL", "D": "2"}, places={"A": "room", "B": "room"})
    assert states(answer) == {"C": "open", "D": "short"}
    assert [ids(place.statements) for place in answer.places] == [["round.open"], ["round.short"]]
    assert [place.title.id for place in answer.places] == ["round.title-faulty"] * 2
    assert [ids(place.next) for place in answer.places] == [
        ["round.next-open"],
        ["round.next-short"],
    ]
    assert answer.against == ()


def test_a_faulty_one_among_sound_ones_has_a_step_and_the_others_none():
    (place,) = asked({"A": "OL", "B": ohms(20), "C": ohms(20), "D": "300k"}).places
    assert (place.state, place.title.id) == ("outside", "round.title-others-agree")
    assert ids(place.statements) == ["round.open", "round.off-curve", "round.others-agree"]
    assert ids(place.next) == ["round.next-open", "round.next-off-curve"]


def test_where_two_halves_disagree_nobody_is_accused():
    readings = {"A": ohms(20), "B": ohms(20.2), "C": ohms(32), "D": ohms(32.2)}
    answer = asked(readings)
    (place,) = answer.places
    assert set(states(answer).values()) == {"undecided"}
    assert (place.state, place.title.id) == ("undecided", "round.title-split")
    (split,) = place.statements
    assert split.id == "round.split"
    groups = {tuple(split.figures["first"]): split.figures["first_c"]}
    groups |= {tuple(split.figures["second"]): split.figures["second_c"]}
    # Where A and B are off, it is as warm as C and D say.
    assert groups == {
        ("A", "B"): pytest.approx(32.1, abs=0.05),
        ("C", "D"): pytest.approx(20.1, abs=0.05),
    }
    # Two more rest there.
    assert ids(place.next) == ["round.next-tell-or-read"]
    assert answer.first.step == place.next[0]


def test_three_of_which_no_two_agree_accuse_nobody_and_a_majority_does():
    three = {"A": ohms(10), "B": ohms(20), "C": ohms(30)}
    assert set(states(asked(three)).values()) == {"undecided"}
    readings = {"A": ohms(20), "B": ohms(20), "C": ohms(32), "D": ohms(32), "E": ohms(32)}
    assert [name for name, state in states(asked(readings)).items() if state == "stands-out"] == [
        "A",
        "B",
    ]


def test_with_a_temperature_the_halves_are_told_apart():
    readings = {"A": ohms(20), "B": ohms(20.2), "C": ohms(32), "D": ohms(32.2)}
    answer = asked(readings, at={"room": "20"})
    assert states(answer) == {"A": "agrees", "B": "agrees", "C": "stands-out", "D": "stands-out"}


def test_where_all_agree_and_none_with_the_thermometer_the_temperature_is_in_doubt():
    answer = asked({"A": ohms(21), "B": ohms(21.2), "C": ohms(20.9)}, at={"room": "8"})
    (place,) = answer.places
    assert set(states(answer).values()) == {"agrees"}
    assert (place.state, place.title.id) == ("undecided", "round.title-temperature")
    (statement,) = place.statements
    assert statement.id == "round.all-but-temperature"
    assert statement.figures["at_c"] == 8
    assert statement.figures["centre_c"] == pytest.approx(21, abs=0.05)
    assert ids(place.next) == ["round.next-temperature-again"]


def test_two_plugs_exchanged_are_named_and_nothing_is_to_be_replaced_before():
    sensors = [
        RestingSensor(
            id=name,
            name=name.upper(),
            curve=curve(r_ref),
            curve_id=name,
            place="room",
            instructions=("when_bad",),
        )
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
    (place,) = answer.places
    assert ids(place.next) == ["round.next-exchanged"]
    assert [row.instruction for row in answer.rows] == [""] * 4


def test_what_cannot_be_read_is_refused_in_its_row_and_nothing_is_left_out():
    answer = asked({"A": "lots", "B": ohms(20), "C": "", "D": ohms(20)})
    assert [row.name for row in answer.rows] == ["A", "B", "D"]
    assert answer.rows[0].refusal.id == "field.unreadable"
    assert answer.places[0].statements[0].id == "round.both-agree"


@pytest.mark.parametrize(
    ("text", "placement", "why", "missing"),
    [
        ("-30", "air", "field.beyond-thermometer", False),
        ("warm", "air", "field.unreadable", False),
        ("20", "", "round.placement-missing", True),
        ("0", "ice-water", "round.placement-ice", False),
    ],
)
def test_a_temperature_that_cannot_be_used_is_refused_in_its_place_and_the_rest_still_counts(
    text, placement, why, missing
):
    readings = {name: ohms(20) for name in "ABC"}
    answer = asked(readings, at={"room": text}, placement=placement)
    (taken,) = answer.temperatures
    assert (taken.place, taken.t_c, taken.refusal.id, taken.missing) == ("room", None, why, missing)
    assert set(states(answer).values()) == {"agrees"}
    assert ids(answer.against) == ["round.against-each-other", "round.taken"]


def test_over_range_that_a_good_part_may_read_is_no_open_circuit():
    tools = Tools(meter=meter(40e3), thermometer=PROBE, placement="held-on")
    answer = asked({"A": "OL", "B": ohms(20), "C": ohms(20)}, tools=tools)
    (place,) = answer.places
    assert place.state == "undecided"
    assert ids(place.statements) == ["round.over-range", "round.others-agree"]
    assert ids(place.next) == ["round.next-over-range"]


def test_a_part_whose_spread_nobody_knows_leaves_the_place_undecided():
    unlimited = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3500), low_c=-30, high_c=80, id="u")
    sensor = RestingSensor(id="a", name="A", curve=unlimited, curve_id="u", place="room")
    answer = answer_round(
        RoundQuestion(
            sensors=[sensor],
            readings=[RoundReading(sensor="a", reading=ohms(30))],
            temperatures=[PlaceTemperature(place="room", at="20", placement="strapped")],
            tools=TOOLS,
        )
    )
    (place,) = answer.places
    assert (place.title.id, ids(place.next)) == ("round.title-undecided", ["round.next-undecided"])
