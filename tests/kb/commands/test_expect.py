"""`ohmfolio expect`: numbers in the terminal, in full precision as JSON, and no extrapolation."""

from __future__ import annotations

import json
import math

import pytest

SPACE = "\u00a0"


def test_temperatures_of_a_sensor_are_a_table_with_its_source(run, good):
    result = run("expect", "suction-a", "--at", "25", "--at", "0", "--notes", good)
    assert result.exit_code == 0
    assert result.output.replace(SPACE, " ") == (
        "T1 sensor (sensor suction-a): Table, 10k (curve table-ten)\n"
        "\n"
        "     at    expect    lowest   highest       ±\n"
        "25.0 °C  10.00 kΩ  9.900 kΩ  10.10 kΩ  0.27 K\n"
        " 0.0 °C  27.70 kΩ  27.14 kΩ  28.27 kΩ  0.43 K\n"
        "\n"
        "Source: Bench sheet (table 1). Checked by AA on 2026-01-08.\n"
    )


def test_one_at_takes_several_temperatures_below_zero_too(run, good):
    result = run("expect", "--at", "-5", "45F", "7,5", "table-ten", "--json", "--notes", good)
    told = json.loads(result.output)
    assert [point["t_c"] for point in told["points"]] == [-5.0, pytest.approx(65 / 9), 7.5]


def test_a_temperature_in_fahrenheit_is_answered_in_fahrenheit(run, good):
    assert (
        f"77.0{SPACE}°F  10.00{SPACE}kΩ"
        in run("expect", "table-ten", "--at", "77F", "--notes", good).output
    )


def test_plus_minus_is_in_the_unit_asked(run, good):
    text = run("expect", "platinum-hundred", "--at", "50F", "20", "--notes", good).output
    lines = text.replace(SPACE, " ").splitlines()
    # Class B: 0.3 K + 0.005 |t|, at 10 °C 0.35 K and that is 0.63 °F.
    assert lines[3].endswith("  0.63 °F")
    assert lines[4].endswith("  0.40 K")


def test_json_of_temperatures_is_exact(run, good):
    told = json.loads(run("expect", "beta-ten", "--at", "0", "--json", "--notes", good).output)
    r_ohm = 10000 * math.exp(3500 * (1 / 273.15 - 1 / 298.15))
    assert told["curve"] == "beta-ten"
    (point,) = told["points"]
    assert list(point) == ["t_c", "r_ohm", "low_ohm", "high_ohm", "tol_k", "ohm_digits"]
    assert point["t_c"] == 0
    assert point["r_ohm"] == pytest.approx(r_ohm, rel=1e-12)
    assert point["low_ohm"] == pytest.approx(0.98 * r_ohm, rel=1e-12)
    assert point["high_ohm"] == pytest.approx(1.02 * r_ohm, rel=1e-12)
    # ln 1.02 or ln 0.98, whichever is further, over B/T² of the B value law.
    low_c = 1 / (1 / 273.15 + math.log(0.98) / 3500) - 273.15
    assert point["tol_k"] == pytest.approx(low_c, rel=1e-9)


def test_json_through_a_sensor_names_its_curve(run, good):
    told = json.loads(run("expect", "liquid-a", "--at", "25", "--json", "--notes", good).output)
    assert told["curve"] == "beta-ten"


def test_an_unknown_tolerance_is_no_narrow_band(run, good):
    told = json.loads(
        run("expect", "coefficients-ten", "--at", "25", "--json", "--notes", good).output
    )
    assert told["points"][0]["low_ohm"] is None
    assert told["points"][0]["tol_k"] is None
    words = run("expect", "coefficients-ten", "--at", "25", "--notes", good).output
    assert "Nobody knows this part's tolerance." in words


@pytest.mark.parametrize("typed", ["10k", "10.0k", "10k0", "10000", "10,0 kΩ"])
def test_json_of_a_reading_is_its_temperature(run, good, typed):
    result = run("expect", "table-ten", "--reading", typed, "--json", "--notes", good)
    told = json.loads(result.output)
    assert (told["curve"], told["r_ohm"], told["ohm_digits"]) == ("table-ten", 10000, 4)
    assert told["t_c"] == pytest.approx(25, abs=1e-9)
    assert told["tol_k"] == pytest.approx(0.27, abs=0.005)


def test_json_says_the_digits_that_people_are_shown(run, good):
    # Pt100 changes by 0.39 % for each kelvin: half of 0.01 Ω is 0.013 K, half of 0.1 Ω 0.13 K.
    asked = ("expect", "platinum-hundred", "--at", "20", "--notes", good)
    (point,) = json.loads(run(*asked, "--json").output)["points"]
    assert point["ohm_digits"] == 5
    assert f"{point['r_ohm']:.{point['ohm_digits']}g}" in run(*asked).output


def test_several_readings_are_a_list(run, good):
    told = json.loads(
        run(
            "expect",
            "table-ten",
            "--reading",
            "10k",
            "--reading",
            "27.7k",
            "--json",
            "--notes",
            good,
        ).output
    )
    found = [one["t_c"] for one in told["readings"]]
    assert found == [pytest.approx(25), pytest.approx(0, abs=1e-9)]


def test_a_reading_in_words_says_what_its_tolerance_leaves_out(run, good):
    result = run("expect", "table-ten", "--reading", "10k", "--notes", good)
    assert result.output.replace(SPACE, " ") == (
        "Table, 10k (curve table-ten)\n"
        "\n"
        "   reads  stands for       ±       or        ±\n"
        "10.00 kΩ     25.0 °C  0.27 K  77.0 °F  0.49 °F\n"
        "\n"
        "± is the part's tolerance alone; the meter's error comes on top.\n"
        "Source: Bench sheet (table 1). Checked by AA on 2026-01-08.\n"
    )


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (
            ["table-ten", "--at", "90"],
            1,
            "the curve 'table-ten' holds from −10.0 °C to 50.0 °C, not at 90.0 °C; ask for a "
            "temperature inside",
        ),
        (
            ["table-ten", "--reading", "480"],
            1,
            "the curve 'table-ten' runs from 4.190 kΩ to 45.00 kΩ; 480.0 Ω is off it, and may be "
            "another's",
        ),
        (
            ["table-ten", "--reading", "OL"],
            1,
            "over range is an open circuit, and stands for no temperature",
        ),
        (
            ["table-ten", "--at", "warm"],
            2,
            "'warm' is not a temperature; write it as 7, -10, 7.5 or 45F",
        ),
        (
            ["table-ten", "--reading", "lots"],
            2,
            "'lots' is not a resistance; write it as 480, 6.32k, 6k32 or 1.2M, or OL for over "
            "range",
        ),
        (
            ["table-tem", "--at", "7"],
            2,
            "no curve and no sensor is called 'table-tem'; did you mean 'table-ten'?",
        ),
        (
            ["codes/a-no", "--at", "7"],
            2,
            "'codes' is neither curves nor sensors; write curves/ID or sensors/ID",
        ),
        (
            ["pressure-a", "--at", "7"],
            1,
            "the sensor 'pressure-a' has no curve. It holds electronics. Compare its reading "
            "with a gauge.",
        ),
        (
            ["motor-switch", "--reading", "120"],
            1,
            "'motor-switch' is a switching PTC: its resistance stands for no temperature; ask "
            "for its limits at a temperature, with --at T",
        ),
    ],
)
def test_what_has_no_answer_says_why_in_one_sentence(run, good, words, code, message):
    result = run("expect", *words, "--notes", good)
    assert result.output.replace(SPACE, " ") == f"Error: {message}\n"
    assert result.exit_code == code


@pytest.mark.parametrize("words", [[], ["--at", "7", "--reading", "10k"]])
def test_a_temperature_or_a_reading_is_wanted(run, good, words):
    result = run("expect", "table-ten", *words, "--notes", good)
    assert result.exit_code == 2
    assert result.output.endswith("Error: give either --at T or --reading R\n")


def test_metal_gets_a_digit_more_as_it_changes_less(run, good):
    words = run("expect", "platinum-hundred", "--at", "25", "--notes", good).output
    assert f"109.73{SPACE}Ω" in words
    words = run("expect", "platinum-hundred", "--reading", "109.73", "--notes", good).output
    assert f"109.73{SPACE}Ω" in words


def test_a_range_is_said_in_the_unit_typed(run, good):
    result = run("expect", "table-ten", "--at", "200F", "--notes", good)
    assert result.output.replace(SPACE, " ") == (
        "Error: the curve 'table-ten' holds from 14.0 °F to 122.0 °F, not at 200.0 °F; ask for a "
        "temperature inside\n"
    )


def test_a_switching_ptc_gives_its_limits(run, good):
    result = run("expect", "motor-a", "--at", "20", "--at", "120", "--at", "125", "--notes", good)
    assert result.output.replace(SPACE, " ") == (
        "T9 sensor (sensor motor-a): Motor switch, 120 °C (curve motor-switch)\n"
        "\n"
        "A switch, not a curve: 3 in series, trips at 120.0 °C.\n"
        "20.0 °C: at most 750.0 Ω\n"
        "120.0 °C: anything: it is switching here\n"
        "125.0 °C: at least 3.990 kΩ\n"
        "\n"
        "Measure a loop with at most 2.5 V on each element, never with an insulation tester.\n"
        "Source: Bench sheet. Checked by AA on 2026-01-08.\n"
    )


def test_json_of_a_switching_ptc_holds_its_limits(run, good):
    told = json.loads(run("expect", "motor-switch", "--at", "20", "--json", "--notes", good).output)
    assert told == {
        "curve": "motor-switch",
        "limits": [{"t_c": 20.0, "least_ohm": None, "most_ohm": 750.0}],
    }


def test_a_curve_with_a_fault_shows_the_fault(run, notes):
    path = notes / "docs_data" / "curves" / "beta-ten.yaml"
    path.write_text(path.read_text().replace("b_k: 3500", "b_k: many"))
    result = run("expect", "liquid-a", "--at", "7", "--notes", notes)
    assert result.exit_code == 1
    assert result.output == (
        "Error: the curve 'beta-ten' cannot be read\n"
        "docs_data/curves/beta-ten.yaml:7:6: value: 'many' is not a number\n"
        "    b_k: many\n"
        "         ^\n"
        "    hint: write a number such as 12 or 0.5\n"
    )


def test_a_fault_elsewhere_does_not_matter(run, notes):
    (notes / "docs_data" / "curves" / "beta-ten.yaml").write_text("name: 'open")
    assert run("expect", "table-ten", "--at", "7", "--notes", notes).exit_code == 0
