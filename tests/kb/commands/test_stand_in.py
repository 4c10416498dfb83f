"""`ohmfolio stand-in`: what to plug in place of a sensor, and what the board should then show."""

from __future__ import annotations

import json
import math

import pytest

SPACE = "\u00a0"


def test_the_nearest_single_and_pair_are_those_worked_by_hand(run, good):
    told = json.loads(run("stand-in", "beta-ten", "--at", "0", "--json", "--notes", good).output)
    # 10 kΩ exp(3500 (1/273.15 − 1/298.15)) is 29.28 kΩ; in E24 30 kΩ is nearer than 27 kΩ.
    wanted = 10e3 * math.exp(3500 * (1 / 273.15 - 1 / 298.15))
    assert told["r_ohm"] == pytest.approx(wanted, rel=1e-12)
    single = told["singles"][0]
    assert (single["parts_ohm"], single["wired"]) == ([30000.0], "single")
    shows = 1 / (1 / 298.15 + math.log(3) / 3500) - 273.15
    assert single["shows_c"] == pytest.approx(shows, abs=1e-9)
    assert single["error_k"] == pytest.approx(shows, abs=1e-9)
    assert told["volts"] is None
    # Every pair of E24 values, one after the other and side by side, by brute force.
    e24 = [
        x * 10**p
        for p in range(2, 7)
        for x in (
            1,
            1.1,
            1.2,
            1.3,
            1.5,
            1.6,
            1.8,
            2,
            2.2,
            2.4,
            2.7,
            3,
            3.3,
            3.6,
            3.9,
            4.3,
            4.7,
            5.1,
            5.6,
            6.2,
            6.8,
            7.5,
            8.2,
            9.1,
        )
    ]
    best = min(
        abs(math.log(r / wanted)) for a in e24 for b in e24 for r in (a + b, a * b / (a + b))
    )
    assert abs(math.log(told["pairs"][0]["r_ohm"] / wanted)) == pytest.approx(best, abs=1e-9)


def test_a_sensor_with_a_known_board_input_gives_the_volts_at_its_plug(run, good):
    result = run("stand-in", "suction-b", "--at", "25", "--series", "E12", "--notes", good)
    assert result.exit_code == 0
    # Half of 5 V, since 10 kΩ meets a pull-up of 10 kΩ; 8.2 of 18.2 and 12 of 22 beside it.
    assert result.output.replace(SPACE, " ") == (
        "10 kΩ stands for 25.0 °C: the board should show 25.0 °C, 2.50 V at the plug.\n"
        "\n"
        "B1 Suction sensor of unit B (sensor suction-b): Table, 10k (curve table-ten)\n"
        "At 25.0 °C it reads 10.00 kΩ, 2.50 V at the plug.\n"
        "The board feeds 5.0 V through 10.00 kΩ.\n"
        "\n"
        "One resistor:\n"
        "  10 kΩ: shows 25.0 °C, +0 K, 2.50 V at the plug\n"
        "  12 kΩ: shows 20.0 °C, −5.0 K, 2.73 V at the plug\n"
        "  8.2 kΩ: shows 30.4 °C, +5.4 K, 2.25 V at the plug\n"
        "\n"
        "Two together:\n"
        "  1.8 kΩ and 8.2 kΩ in series: shows 25.0 °C, +0 K, 2.50 V at the plug\n"
        "  10 kΩ and 1.0 MΩ in parallel: shows 25.3 °C, +0.27 K, 2.49 V at the plug\n"
        "  100 Ω and 10 kΩ in series: shows 24.7 °C, −0.27 K, 2.51 V at the plug\n"
        "\n"
        "Measure the resistor first: E12 may be ± 10 % off unless marked better, and here that is\n"
        "± 2.9 K.\n"
        "\n"
        "Mind:\n"
        "  - Isolate, lock off, prove dead and let the charge drain before the plug comes off and\n"
        "    before the resistor goes in.\n"
        "  - Some boards carry mains on their sensor inputs. Powered, neither the resistor nor\n"
        "    the plug is touched.\n"
        "  - The board is live while you read it: hands out, cover on where it has one.\n"
        "  - A stand-in is for a test and comes out again: with it in place the machine has lost\n"
        "    that sensor's protection, so do not let it run.\n"
        "  - The maker's instructions, local codes and licensed practice come first.\n"
    )


def test_the_volts_and_the_cautions_are_there_for_machines_too(run, good):
    told = json.loads(run("stand-in", "suction-b", "--at", "0", "--json", "--notes", good).output)
    assert told["volts"] == pytest.approx(5 * 27.7 / 37.7)
    assert told["singles"][0]["volts"] == pytest.approx(5 * 27 / 37)
    assert any("comes out again" in caution for caution in told["cautions"])


def test_a_fine_series_shows_the_three_digits_that_its_parts_carry(run, good):
    result = run("stand-in", "table-ten", "--at", "7", "--series", "E96", "--notes", good)
    assert result.output.replace(SPACE, " ").startswith(
        "20.0 kΩ stands for 7.0 °C: the board should show 7.0 °C.\n"
    )
    assert "E96 may be ± 1.0 % off unless marked better" in result.output.replace(SPACE, " ")


def test_fahrenheit_in_fahrenheit_out(run, good):
    text = run("stand-in", "table-ten", "--at", "45F", "--notes", good).output.replace(SPACE, " ")
    assert text.startswith("20 kΩ stands for 45.0 °F: the board should show 44.7 °F.\n")
    assert "20 kΩ: shows 44.7 °F, −0.34 °F\n" in text
    assert " °C" not in text


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (
            ["table-ten", "--at", "99"],
            1,
            "the curve 'table-ten' holds from −10.0 °C to 50.0 °C, not at 99.0 °C; ask for a "
            "temperature inside",
        ),
        (
            ["motor-a", "--at", "20"],
            1,
            "'motor-switch' is a switching PTC: it has limits and no curve; see 'ohmfolio expect' "
            "and 'ohmfolio judge'",
        ),
        (
            ["table-tem", "--at", "7"],
            2,
            "no curve and no sensor is called 'table-tem'; did you mean 'table-ten'?",
        ),
    ],
)
def test_what_has_no_stand_in_says_why(run, good, words, code, message):
    result = run("stand-in", *words, "--notes", good)
    assert result.output.replace(SPACE, " ") == f"Error: {message}\n"
    assert result.exit_code == code
