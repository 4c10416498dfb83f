"""`ohmfolio round`: who stands out among the sensors of a machine at rest."""

from __future__ import annotations

import json
import math

import pytest

from kb.notes.folder import carried

SPACE = "\u00a0"


@pytest.fixture
def rested(notes):
    """Return the good notes, all sensors of unit A but T2 resting in one plant room."""
    for path in (notes / "docs_data" / "sensors" / "unit-a").iterdir():
        if "label: T2\n" not in path.read_text():
            path.write_text(path.read_text() + "rests_with: plant room\n")
    return notes


@pytest.fixture
def say(run, rested):
    """Return what `round` prints for unit A of those notes, with plain spaces."""

    def said(*words):
        result = run("round", "unit-a", *words, "--notes", rested)
        assert result.exit_code == 0
        return result.output.replace(SPACE, " ")

    return said


def beta_c(r_ohm):
    """The temperature of the good notes' curve by B value."""
    return 1 / (1 / 298.15 + math.log(r_ohm / 10e3) / 3500) - 273.15


def test_one_that_stands_out_is_named_with_its_kelvin(say):
    # Half-widths of meter, spot, curve and part, in K: T1 √(0.16² + 1² + 1.34² + 0.27²) = 1.70, its
    # table is rough; T3 √(0.18² + 1² + 0.02² + 0.51²) = 1.14; T6 √(2.19² + 1² + 0.42²) = 2.44.
    # Their mean, by 1/a²: 24.77 °C, u = 1/√(3 · 1.28) = 0.51 K. T5: 30.80 − 24.77 = 6.03 K, and
    # U = 2 √(0.59² + 0.51²) = 1.56 K.
    assert say("--reading", "T1=10k", "T3=10.1k", "T5=8k", "T6=109.7", "T7=OL") == (
        "First: judge T5 (oil-a) at its own temperature, taken beside it, ohmfolio judge oil-a.\n"
        "\n"
        "Plant room: Open circuit: T7 (water-a). Stands out: T5 (oil-a), 6.0 K ± 1.6 K hotter\n"
        "than its place. The other 3 agree within 0.61 K, at 24.8 °C.\n"
        "\n"
        "                    read  reads as       off   allowed  uncertainty\n"
        "T1 (suction-a)  10.00 kΩ   25.0 °C   +0.32 K  ± 0.27 K      ± 2.3 K\n"
        "T3 (liquid-a)   10.10 kΩ   24.7 °C  −0.054 K  ± 0.51 K      ± 2.0 K\n"
        "T5 (oil-a)      8.000 kΩ   30.8 °C    +6.0 K  ± 0.50 K      ± 1.6 K\n"
        "T6 (air-a)      109.70 Ω   24.4 °C   −0.43 K  ± 0.42 K      ± 3.0 K\n"
        "T7 (water-a)          OL\n"
        "\n"
        "Without a thermometer they are held against each other: a fault that most of them share\n"
        "would not show. Spots of one place are taken to differ by up to 1.0 K, and 10 % of\n"
        "sensors to have drifted; nobody is named below 95 % of certainty.\n"
        "\n"
        "Next: reseat the plug of T7 (water-a) and look at its pins; then read it at its own\n"
        "tails and bend the lead.\n"
        "\n"
        "A sensor is measured with its plug off and the machine isolated, locked off and proved\n"
        "dead. The maker's instructions, local codes and licensed practice come first.\n"
    )


def test_the_figures_are_those_worked_by_hand(run, rested):
    asked = ("--reading", "liquid-a=9.5k", "--at", "25", "--placement", "strapped")
    answer = json.loads(run("round", "unit-a", *asked, "--json", "--notes", rested).output)
    # 9500 Ω less 0.2 Ω of leads, by the B value; against 25 °C.
    t_c = beta_c(9499.8)
    # Meter ± (0.5 % + 2 digits of 10 Ω) through the slope B/T², spots of the place ± 1 K,
    # thermometer ± 0.45 K, strapped beside it ± 0.5 K.
    per_ohm = (t_c + 273.15) ** 2 / 3500 / 9499.8
    meter = (9500 * 0.005 + 20) * per_ohm
    # The curve, straight between its rows of 25 and 50 °C: half of their last digits, and what its
    # law is off the row beside that it meets worst; what lies between them is a tenth of that.
    slope_25, slope_50 = 3500 * 10e3 / 298.15**2, 3500 * 4033 / 323.15**2
    at_25 = 5 / slope_25 + abs(beta_c(29280))
    at_50 = 0.5 / slope_50 + max(abs(beta_c(4033) - 50), abs(beta_c(1607) - 80))
    curve = at_25 + (at_50 - at_25) * (t_c - 25) / 25
    u = math.sqrt((meter**2 + 1 + 0.45**2 + 0.5**2 + curve**2) / 3)
    (sensor,) = answer["sensors"]
    assert list(answer) == ["family", "places", "sensors", "exchanged", "exchanged_sure", "first"]
    assert answer["places"] == [
        {
            "place": "plant room",
            "state": "within",
            "at_c": 25.0,
            "centre_c": pytest.approx(25.33, abs=0.01),
        }
    ]
    assert (sensor["sensor"], sensor["place"]) == ("liquid-a", "plant room")
    assert sensor["by_thermometer"]
    assert sensor["t_implied_c"] == pytest.approx(t_c, abs=1e-9)
    assert sensor["off_k"] == pytest.approx(t_c - 25, abs=1e-9)
    # That the thermometer may be mistaken adds a thousandth.
    assert sensor["uncertainty_k"] == pytest.approx(2 * u, rel=2e-3)
    # 2 % of R is ln 0.98 or ln 1.02 through the B value; the larger side.
    sides = [abs(beta_c(r) - t_c) for r in (9499.8 * 0.98, 9499.8 * 1.02)]
    assert sensor["limit_k"] == pytest.approx(max(sides), rel=1e-6)
    # 1.30 K of error is less than U, 1.41 K: nothing speaks against it.
    assert sensor["state"] == "agrees"


def test_with_a_thermometer_one_sensor_is_enough(say):
    text = say("--reading", "t3=10.1k", "--at", "20", "--placement", "strapped")
    assert text.startswith("First: judge T3 (liquid-a) at its own temperature, taken beside it, ")
    assert (
        "\nPlant room, 20.0 °C (strapped and lagged): Stands out: T3 (liquid-a), 4.7 K ± 1.4 K\n"
        "hotter than its place.\n"
    ) in text
    assert "Where a temperature was taken, held against Bench probe." in text


def test_fahrenheit_in_fahrenheit_out(say):
    text = say("--reading", "T3=10.1k", "--at", "68F")
    assert "\nPlant room, 68.0 °F (held on): Stands out: T3 (liquid-a), 8.5 °F ± " in text
    assert " K" not in text


def test_a_sensor_of_no_noted_place_is_held_against_the_temperature_beside_it(say):
    text = say("--reading", "T2=10k", "T1=10k", "T3=10.1k", "--at", "T2=5C")
    assert "Both agree within 0.25 K, at 24.8 °C." in text
    assert "\n5.0 °C (held on): " in text


def test_two_plugs_put_back_the_wrong_way_round_are_suspected(run, rested, say):
    readings = ("--reading", "T1=10k", "T3=109.7", "T5=9.95k", "T6=10.1k")
    text = say(*readings)
    assert "\nEach reads what the other should: T3 (liquid-a) and T6 (air-a).\n" in text
    assert text.startswith(
        "First: look whether plugs are exchanged, T3 (liquid-a) and T6 (air-a), before you\n"
        "replace anything.\n"
    )
    asked = run("round", "unit-a", *readings, "--json", "--notes", rested)
    assert json.loads(asked.output)["exchanged"] == [["liquid-a", "air-a"]]


def test_all_that_agree_are_said_to(say):
    # By 1/a²: 25.00 °C ± 1.70 K, 24.75 °C ± 1.14 K, 25.11 °C ± 1.14 K.
    assert say("--reading", "T1=10k", "--reading", "T3=10.1k", "T5=9.95k").startswith(
        "First: at this temperature nothing speaks against them: look for the fault elsewhere.\n"
        "\n"
        "Plant room: All 3 agree within 0.38 K, at 24.9 °C.\n"
    )


def test_two_without_a_thermometer_accuse_nobody(say):
    text = say("--reading", "T1=10k", "T3=5k")
    assert " ".join(text.split()).startswith(
        # Of the two, T3 is on the curve that is known better.
        "First: take one temperature beside T3 (liquid-a), or read another sensor that rests "
        'there: it tells which group is right (--at "plant room=T"). Plant room: Two groups: either '
    )


def test_two_halves_accuse_nobody(say):
    text = say("--reading", "T1=10k", "T3=10.1k", "T5=5k", "T6=116.9")
    words = " ".join(text.split())
    assert words.startswith("First: take one temperature beside ")
    assert "T1 (suction-a) and T3 (liquid-a) off, and 43.6 °C there" in words
    assert "T5 (oil-a) and T6 (air-a) off, and 24.8 °C there" in words
    assert "Stands out" not in text


def test_two_that_agree_are_said_to_and_the_fault_is_elsewhere(say):
    # 25.00 °C ± 1.70 K and 24.75 °C ± 1.14 K, by 1/a²: 24.83 °C.
    text = say("--reading", "T1=10k", "T3=10.1k")
    assert text.startswith(
        "First: at this temperature nothing speaks against them: look for the fault elsewhere.\n"
        "\n"
        "Plant room: Both agree within 0.25 K, at 24.8 °C.\n"
    )


def test_nobody_stands_out_whose_tolerance_nobody_knows(say):
    text = say("--reading", "T4=5k", "--at", "20")
    assert "\nPlant room, 20.0 °C (held on): Not decided: T4 (coil-a).\n" in text
    assert "not known" in text


def test_over_range_that_a_good_part_may_read_is_not_open(say, rested):
    path = rested / "docs_data" / "instruments" / "bench-meter.yaml"
    path.write_text(path.read_text().replace("- {span: 4M", "#"))
    text = say("--reading", "T1=OL", "--at", "-9")
    assert text.startswith(
        "First: read T1 (suction-a) with a meter that reaches further.\n"
        "\n"
        "Plant room, −9.0 °C (held on): Over range on Bench meter: T1 (suction-a). A good one may\n"
        "be.\n"
    )


@pytest.fixture
def placed(notes):
    """Return notes whose unit A says where some of its sensors rest."""
    rests = {"T1": "outdoor air", "T3": "outdoor air", "T5": "outdoor air", "T6": "room"}
    for path in (notes / "docs_data" / "sensors" / "unit-a").iterdir():
        text = path.read_text()
        for label, place in rests.items():
            if f"label: {label}\n" in text:
                path.write_text(text + f"rests_with: {place}\n")
    return notes


def test_places_are_held_apart_and_who_has_none_is_held_against_nobody(run, placed):
    readings = ("T1=10k", "T3=10.1k", "T5=10.05k", "T6=109.7", "T7=OL", "T2=1k")
    result = run("round", "unit-a", "--reading", *readings, "--notes", placed)
    assert result.exit_code == 0
    text = result.output.replace(SPACE, " ")
    assert text.startswith(
        "First: reseat the plug of T7 (water-a) and look at its pins; then read it at its own\n"
        "tails and bend the lead.\n"
        "\n"
        # The rough table of T1 counts least.
        "Outdoor air: All 3 agree within 0.25 K, at 24.8 °C.\n"
        "\n"
        "Room: T6 (air-a) reads as at 24.4 °C; no other rests with it.\n"
        "\n"
        "T2 (return-a) reads as at 25.0 °C; nobody noted where it rests.\n"
        "\n"
        "Open circuit: T7 (water-a).\n"
        "\n"
    )
    steps = " ".join(text.split())
    beside = "it is then held against that (--at "
    assert f'Next for room: take a temperature beside T6 (air-a): {beside}"room=T").' in steps
    assert f'Next: take a temperature beside T2 (return-a): {beside}"return-a=T").' in steps


def test_each_place_says_its_own(run, placed):
    for path in (placed / "docs_data" / "sensors" / "unit-a").iterdir():
        if "label: T2\n" in path.read_text():
            path.write_text(path.read_text() + "rests_with: room\n")
    readings = ("T1=10k", "T3=10.1k", "T6=105", "T2=1.1k")
    text = run("round", "unit-a", "--reading", *readings, "--notes", placed).output
    words = " ".join(text.replace(SPACE, " ").split())
    # No third one rests there.
    assert words.startswith("First, room: take one temperature beside T")
    assert " Outdoor air: Both agree within 0.25 K, at 24.8 °C. Room: Two groups: either " in words
    asked = run("round", "unit-a", "--reading", *readings, "--json", "--notes", placed)
    assert {one["place"]: one["centre_c"] for one in json.loads(asked.output)["sensors"]} == {
        "outdoor air": pytest.approx(24.83, abs=0.02),
        "room": pytest.approx(25, abs=3.0),
    }


@pytest.mark.parametrize(
    "at",
    [
        ("outdoor air=25C", "room=5C"),
        ("out=25", "ROOM=5"),
        ("air=77F", "air-a=41F"),
        ("T3=25", "T6=5"),
    ],
)
def test_each_place_has_a_temperature_of_its_own(run, placed, at):
    asked = ("--reading", "T1=10k", "T3=10.1k", "T6=109.7", "--at", *at)
    result = run("round", "unit-a", *asked, "--json", "--notes", placed)
    assert result.exit_code == 0, result.output
    answer = json.loads(result.output)
    assert {place["place"]: round(place["at_c"], 6) for place in answer["places"]} == {
        "outdoor air": 25.0,
        "room": 5.0,
    }
    assert [sensor["state"] for sensor in answer["sensors"]] == ["agrees", "agrees", "stands-out"]


@pytest.mark.parametrize(
    ("at", "message"),
    [
        (
            ["8C"],
            'the readings rest in 2 places; say where 8C was taken: --at "outdoor air=8C" or --at '
            '"room=8C"',
        ),
        (["cellar=8C"], "none of the readings rests in 'cellar'; there is: outdoor air, room"),
        (["room=8C", "T6=9C"], "room was given two temperatures; give each place one"),
        (["room=warm"], "'warm' is not a temperature; write it as 7, -10, 7.5 or 45F"),
    ],
)
def test_a_temperature_without_its_place_is_asked_for_it(run, placed, at, message):
    asked = ("--reading", "T1=10k", "T6=109.7", "--at", *at)
    result = run("round", "unit-a", *asked, "--notes", placed)
    assert result.output.replace(SPACE, " ") == f"Error: {message}\n"
    assert result.exit_code == 2


def test_the_beginning_of_a_word_that_two_places_share_is_asked(run, placed):
    for path in (placed / "docs_data" / "sensors" / "unit-a").iterdir():
        path.write_text(path.read_text().replace("rests_with: room", "rests_with: air of the room"))
    asked = ("--reading", "T1=10k", "T6=109.7", "--at", "air=8C")
    result = run("round", "unit-a", *asked, "--notes", placed)
    assert result.output == (
        "Error: 'air' could be 'outdoor air' or 'air of the room'; write the place in full\n"
    )


def test_stirred_ice_is_no_temperature_of_a_place(run, placed):
    asked = ("--reading", "T1=28k", "--at", "0", "--placement", "ice-water")
    result = run("round", "unit-a", *asked, "--notes", placed)
    assert result.output == (
        "Error: in ice water a sensor does not rest with the machine: judge it by itself.\n"
    )


def test_a_sensor_that_no_meter_may_judge_takes_no_part(run, notes):
    path = next((notes / "docs_data" / "sensors" / "unit-a").glob("suction-a.yaml"))
    path.write_text(path.read_text() + "untestable: {why: It is sealed., instead: Ask it.}\n")
    result = run("round", "unit-a", "--reading", "T1=10k", "--notes", notes)
    assert result.output == "Error: the sensor 'suction-a' has no test. It is sealed. Ask it.\n"


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (
            ["unit-q", "--reading", "T1=10k"],
            2,
            "no family is called 'unit-q'; did you mean 'unit-b'?",
        ),
        (
            ["unit-a", "--reading", "suction-b=10k"],
            2,
            "Unit A has no sensor 'suction-b'; did you mean 'suction-a'?",
        ),
        (
            ["unit-a", "--reading", "T1=10k", "suction-a=9k"],
            2,
            "T1 (suction-a) was given twice; give each sensor once",
        ),
        (
            ["unit-a", "--reading", "P1=10k"],
            1,
            "the sensor 'pressure-a' has no curve. It holds electronics. Compare its reading with "
            "a gauge.",
        ),
        (
            ["unit-a", "--reading", "T9=80"],
            1,
            "'motor-switch' is a switching PTC: it has limits and no curve; see 'ohmfolio expect' "
            "and 'ohmfolio judge'",
        ),
        (
            ["unit-a", "--reading", "T1=", "T3=12m"],
            2,
            "'T1=' is not a pair; write it as T1=12.1k\n"
            "'12m' could be milliohms or megohms; write M for megohms, or milliohms as 0R22, or OL "
            "for over range",
        ),
    ],
)
def test_what_cannot_be_compared_says_why_and_what_to_do(run, good, words, code, message):
    result = run("round", *words, "--notes", good)
    assert result.output.replace(SPACE, " ") == f"Error: {message}\n"
    assert result.exit_code == code


def test_the_example_of_its_help_gets_an_answer_on_the_demo(run):
    example = run("round", "--help").output.split("Example: ohmfolio ")[1].split("\n\n")[0].split()
    result = run(*example, "--notes", carried("docs_data").parent)
    assert result.exit_code == 0
    assert "Stands out: T6" in result.output
