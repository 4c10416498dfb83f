"""`ohmfolio round`: who stands out among the sensors of a machine at rest."""

from __future__ import annotations

import json
import math

import pytest

from kb.notes.folder import carried

SPACE = "\u00a0"


@pytest.fixture
def say(run, good):
    """Return what `round` prints for unit A of the good notes, with plain spaces."""

    def said(*words):
        result = run("round", "unit-a", *words, "--notes", good)
        assert result.exit_code == 0
        return result.output.replace(SPACE, " ")

    return said


def beta_c(r_ohm):
    """The temperature of the good notes' curve by B value."""
    return 1 / (1 / 298.15 + math.log(r_ohm / 10e3) / 3500) - 273.15


def test_one_that_stands_out_is_named_with_its_kelvin(say):
    assert say("--reading", "T1=10k", "T3=10.1k", "T5=9k", "T6=109.7", "T7=OL") == (
        "Open circuit: T7 (water-a). Stands out: T5 (oil-a), 2.8 K hotter than the middle of all.\n"
        "The other 3 agree: at most 0.48 K from the middle of all, 24.9 °C.\n"
        "\n"
        "                    read  reads as      off   allowed  uncertainty\n"
        "T1 (suction-a)  10.00 kΩ   25.0 °C  +0.13 K  ± 0.27 K      ± 1.4 K\n"
        "T3 (liquid-a)   10.10 kΩ   24.7 °C  −0.13 K  ± 0.51 K      ± 1.4 K\n"
        "T5 (oil-a)      9.000 kΩ   27.7 °C   +2.8 K  ± 0.50 K      ± 1.4 K\n"
        "T6 (air-a)       109.7 Ω   24.4 °C  −0.48 K  ± 0.42 K      ± 2.9 K\n"
        "T7 (water-a)          OL\n"
        "\n"
        "Held against the middle of the sensors, without a thermometer: a fault that most of them\n"
        "share would not show. Places of a machine at rest are taken to differ by up to 1.0 K.\n"
        "\n"
        "Next for T5 (oil-a): judge it at its own temperature, ohmfolio judge oil-a.\n"
        "Next for T7 (water-a): look at its plug and lead, and read it again at the sensor\n"
        "itself.\n"
        "\n"
        "A sensor is measured with its plug off and the machine isolated, locked off and proved\n"
        "dead. The maker's instructions, local codes and licensed practice come first.\n"
    )


def test_the_figures_are_those_worked_by_hand(run, good):
    told = json.loads(
        run(
            "round", "unit-a", "--reading", "liquid-a=9.5k", "--at", "25", "--json", "--notes", good
        ).output
    )
    # 9500 Ω less 0.2 Ω of leads, by the B value; against 25 °C.
    t_c = beta_c(9499.8)
    # Meter ± (0.5 % + 2 digits of 10 Ω) through the slope B/T², places ± 1 K, thermometer ± 0.45 K.
    per_ohm = (t_c + 273.15) ** 2 / 3500 / 9499.8
    meter = (9500 * 0.005 + 20) * per_ohm
    u = math.sqrt((meter**2 + 1 + 0.45**2) / 3)
    (one,) = told["sensors"]
    assert list(told) == ["family", "centre_c", "by_thermometer", "sensors", "exchanged"]
    assert (told["family"], told["centre_c"], told["by_thermometer"]) == ("unit-a", 25.0, True)
    assert one["sensor"] == "liquid-a"
    assert one["t_implied_c"] == pytest.approx(t_c, abs=1e-9)
    assert one["off_k"] == pytest.approx(t_c - 25, abs=1e-9)
    assert one["uncertainty_k"] == pytest.approx(2 * u, rel=1e-6)
    # 2 % of R is ln 0.98 or ln 1.02 through the B value; the larger side.
    sides = [abs(beta_c(r) - t_c) for r in (9499.8 * 0.98, 9499.8 * 1.02)]
    assert one["limit_k"] == pytest.approx(max(sides), rel=1e-6)
    # 1.30 K of error is more than U, 1.28 K, and less than U and the limit together.
    assert one["state"] == "undecided"


def test_with_a_thermometer_one_sensor_is_enough(say):
    text = say("--reading", "t3=10.1k", "--at", "20")
    assert text.startswith("Stands out: T3 (liquid-a), 4.7 K hotter than the thermometer.\n")
    assert "Held against Bench probe, 20.0 °C." in text


def test_fahrenheit_in_fahrenheit_out(say):
    text = say("--reading", "T3=10.1k", "--at", "68F")
    assert text.startswith("Stands out: T3 (liquid-a), 8.5 °F hotter than the thermometer.\n")
    assert "Held against Bench probe, 68.0 °F." in text
    assert " K" not in text


def test_two_plugs_put_back_the_wrong_way_round_are_suspected(run, good):
    asked = (
        "round",
        "unit-a",
        "--reading",
        "T1=10k",
        "T3=109.7",
        "T5=9.95k",
        "T6=10.1k",
        "--notes",
        good,
    )
    assert (
        "\nEach reads what the other should: T3 (liquid-a) and T6 (air-a). Look whether their plugs\n"
        "are exchanged before you replace either.\n"
    ) in run(*asked).output
    assert json.loads(run(*asked, "--json").output)["exchanged"] == [["liquid-a", "air-a"]]


def test_all_that_agree_are_said_to(say):
    assert say("--reading", "T1=10k", "--reading", "T3=10.1k", "T5=9.95k").startswith(
        "All 3 agree: at most 0.25 K from the middle of all, 25.0 °C.\n"
    )


def test_two_without_a_thermometer_accuse_nobody(say):
    text = say("--reading", "T1=10k", "T3=5k")
    assert text.startswith("Fewer than three cannot say who is right.\n")
    assert (
        "\nNext: read a third one that rests there, or hold a thermometer beside them (--at T).\n"
    ) in text
    assert "Next for" not in text


def test_two_that_agree_are_said_to_and_the_fault_is_elsewhere(say):
    text = say("--reading", "T1=10k", "T3=10.1k")
    assert text.startswith("Both agree: 0.13 K from the middle between them, 24.9 °C.\n")
    assert (
        "\nNext: at this temperature nothing speaks against them: look for the fault elsewhere.\n"
    ) in text


def test_nobody_stands_out_whose_tolerance_nobody_knows(say):
    text = say("--reading", "T4=5k", "--at", "20")
    assert text.startswith("Not decided: T4 (coil-a).\n")
    assert "not known" in text


def test_over_range_that_a_good_part_may_read_is_not_open(run, notes):
    path = notes / "docs_data" / "instruments" / "bench-meter.yaml"
    path.write_text(path.read_text().replace("- {span: 4M", "#"))
    result = run("round", "unit-a", "--reading", "T1=OL", "--at", "-9", "--notes", notes)
    assert result.output.replace(SPACE, " ").startswith(
        "Over range on Bench meter: T1 (suction-a). A good one may be: take a meter that reaches\n"
        "further.\n"
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
        "Open circuit: T7 (water-a).\n"
        "\n"
        "All 3 agree: at most 0.13 K from the middle of all, 24.9 °C.\n"
        "\n"
    )
    assert (
        "\nT6 (air-a): not held against the rest: it rests in a place of its own.\n"
        "T7 (water-a): not held against the rest: nobody noted where it rests.\n"
        "T2 (return-a): not held against the rest: nobody noted where it rests.\n"
    ) in text


def test_each_place_says_its_own(run, placed):
    for path in (placed / "docs_data" / "sensors" / "unit-a").iterdir():
        if "label: T7\n" in path.read_text():
            path.write_text(path.read_text() + "rests_with: room\n")
    readings = ("T1=10k", "T3=10.1k", "T6=105", "T7=1300")
    text = run("round", "unit-a", "--reading", *readings, "--notes", placed).output
    assert text.replace(SPACE, " ").startswith(
        "Outdoor air: Both agree: 0.13 K from the middle between them, 24.9 °C.\n"
        "\n"
        "Room: Fewer than three cannot say who is right.\n"
        "\n"
    )
    assert "\nNext for room: read a third one that rests there, or hold a thermometer" in text
    told = json.loads(
        run("round", "unit-a", "--reading", *readings, "--json", "--notes", placed).output
    )
    assert told["centre_c"] is None
    assert {one["place"]: one["centre_c"] for one in told["sensors"]} == {
        "outdoor air": pytest.approx(24.874, abs=1e-3),
        "room": pytest.approx(30.5, abs=1.5),
    }


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
    told = run(*example, "--notes", carried("docs_data").parent)
    assert told.exit_code == 0
    assert "Stands out: T6" in told.output
