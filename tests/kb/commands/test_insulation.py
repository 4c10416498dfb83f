"""`ohmfolio insulation`: the part's own limit first, then the standard's, never a test too high."""

from __future__ import annotations

import json
import math

import pytest

SPACE = "\u00a0"


@pytest.fixture
def judged(run, good):
    """Return what `insulation motor-b --json` gives for the good notes."""

    def told(*words):
        return json.loads(run("insulation", "motor-b", *words, "--json", "--notes", good).output)

    return told


def test_the_figures_are_those_worked_by_hand(judged):
    told = judged("--reading", "12M", "--volts", "500", "--at", "20")
    # Thermoset, below 40 °C: K = exp(−1245 (1/(20 + 273) − 1/313)), IEEE 43-2013, 6.3 (memory).
    at_40 = 12e6 * math.exp(-1245 * (1 / 293 - 1 / 313))
    assert told["at_40_ohm"] == pytest.approx(at_40)
    # 9.15 MΩ is above the motor's own 2 MΩ and the 5 MΩ of Table 3 for a random-wound stator.
    assert [(one["whose"], one["limit_ohm"], one["state"]) for one in told["checks"]] == [
        ("part", 2e6, "within"),
        ("IEEE 43", 5e6, "within"),
    ]
    assert told["verdict"] == "within"
    assert (told["part"], told["over_range"], told["r_ohm"]) == ("motor-b", False, 12e6)


def test_the_parts_own_limit_stands_first_and_the_standards_beside_it(run, good):
    result = run(
        "insulation", "motor-b", "--reading", "3M", "--volts", "500", "--at", "40", "--notes", good
    )
    assert result.exit_code == 0
    assert result.output.replace(SPACE, " ") == (
        "Within limits: the part's own limit is met, 3.00 MΩ at 40 °C. For comparison, IEEE 43\n"
        "asks for 5.0 MΩ and this is less.\n"
        "\n"
        "The part's own limit: at least 2.0 MΩ at 40.0 °C; here 3.00 MΩ: within limits\n"
        "For comparison, IEEE 43 (written for machines): at least 5.0 MΩ at 40.0 °C; here\n"
        "3.00 MΩ: outside limits\n"
        "\n"
        "Motor of unit B (motor-b): 3.00 MΩ at 40.0 °C and 500 V with Bench insulation tester, ±\n"
        "5.0 %.\n"
        "Brought to 40 °C as thermoset insulation (IEEE 43). ± 2.0 K of the winding's temperature\n"
        "is counted.\n"
        "\n"
        "Mind:\n"
        "  - Unit B: isolate, lock off, prove dead (the switch beside it). Wait 10 min, then\n"
        "    measure below 30 V (at the two posts marked DC). Still above: never short it; cover\n"
        "    on, keep off, wait again, then ring.\n"
        "  - Disconnect first: The three leads at the board.\n"
        "  - At most 500 V.\n"
        "  - Never on a sensor, a board, a PTC loop or anything with electronics in it: one\n"
        "    forgotten plug is one board.\n"
        "  - The winding holds charge after the test: leave the tester on until it shows zero,\n"
        "    then earth it.\n"
        "  - Nobody touches the far end while the button is down.\n"
        "  - Isolate and lock off\n"
        "  - Prove dead, after the charge has drained\n"
        "  - The maker's instructions, local codes and licensed practice come first.\n"
    )


def test_too_low_is_outside_and_not_condemned_at_once(run, good):
    text = run(
        "insulation",
        "motor-b",
        "--reading",
        "0.5M",
        "--volts",
        "500",
        "--at",
        "40",
        "--notes",
        good,
    ).output.replace(SPACE, " ")
    assert text.startswith("Outside limits: 500 kΩ at 40 °C is less than the part's own limit.\n")
    assert (
        "Damp or dirt read low as well: clean, dry or warm it for some hours "
        "and repeat before you condemn it." in " ".join(text.split())
    )


def test_the_errors_of_tester_and_temperature_are_counted_at_the_limit(judged):
    # Thermoset, 2 K above 40 °C: exp(4230 (1/313 − 1/315)) − 1 = 9.0 %. With ± 5 % of the tester
    # U = 2 √((5² + 9²)/3) = 11.8 %: 0.26 MΩ of 2.2, and 0.271 MΩ of 2.3, less than the 0.3 above.
    assert judged("--reading", "2.2M", "--volts", "500", "--at", "40")["verdict"] == "undecided"
    assert judged("--reading", "2.3M", "--volts", "500", "--at", "40")["verdict"] == "within"
    # Nobody's tester has 400 V, so there is no error of it to count: U = 10.3 %.
    assert judged("--reading", "2.24M", "--volts", "400", "--at", "40")["verdict"] == "within"
    assert judged("--reading", "2.22M", "--volts", "400", "--at", "40")["verdict"] == "undecided"


def test_over_range_is_what_the_tester_can_show_at_least(judged, run, notes):
    told = judged("--reading", "OL", "--volts", "500", "--at", "40")
    assert (told["verdict"], told["over_range"], told["r_ohm"]) == ("within", True, None)
    assert told["at_40_ohm"] == 2e9
    assert judged("--reading", "3G", "--volts", "500", "--at", "40") == told
    # A tester that ends at 1 MΩ says nothing about 2 MΩ, and does not call it low either.
    tester = notes / "docs_data" / "instruments" / "bench-tester.yaml"
    tester.write_text(tester.read_text().replace("max_ohm: 2G", "max_ohm: 1M"))
    words = ("insulation", "motor-b", "--reading", "OL", "--volts", "500", "--at", "40")
    assert (
        run(*words, "--notes", notes)
        .output.replace(SPACE, " ")
        .startswith(
            "Not decided: Bench insulation tester ends too low to tell: over range is more than\n"
            "1.00 MΩ at 40 °C, and the part's own limit is higher. Take a tester that shows more.\n"
        )
    )


def test_over_range_on_a_tester_that_nobody_knows_decides_nothing(judged, run, good):
    words = ("--reading", "OL", "--volts", "400", "--at", "40")
    told = judged(*words)
    assert (told["verdict"], told["over_range"]) == ("undecided", True)
    assert {check["state"] for check in told["checks"]} == {"undecided"}
    assert told["at_40_ohm"] is None
    text = run("insulation", "motor-b", *words, "--notes", good).output
    assert text.startswith(
        "Not decided: over range, on a tester whose end nobody knows: say which tester it was, or\n"
        "write its figures into the notes.\n"
    )


def test_a_heater_is_not_held_against_a_standard_for_motors(run, notes):
    motor = notes / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace("is_a: motor", "is_a: heater"))
    words = ("insulation", "motor-b", "--reading", "3M", "--volts", "500", "--at", "40")
    told = json.loads(run(*words, "--json", "--notes", notes).output)
    assert [one["whose"] for one in told["checks"]] == ["part"]
    text = " ".join(run(*words, "--notes", notes).output.split())
    assert (
        "Held against its limit as read: IEEE 43 is about motor windings, and sets no least value "
        "and no correction for any other part." in text
    )
    # As read at any warmth, like the page.
    told = json.loads(run(*words[:-1], "5", "--json", "--notes", notes).output)
    assert (told["verdict"], told["at_40_ohm"], told["beyond"]) == ("within", None, None)


@pytest.mark.parametrize(
    ("reading", "at", "said"),
    [
        (
            "1M",
            "5",
            "Outside limits: 1.00 MΩ as read at 5.0 °C is less than the part's own limit already, "
            "and the cold only flatters: brought to 40.0 °C it would be lower still.",
        ),
        (
            "9M",
            "5",
            "Not decided: 9.00 MΩ as read at 5.0 °C. But the cold flatters, and below 10.0 °C no "
            "correction holds. Warm it by standing indoors until it is warm and dry, isolate it "
            "again, and read again.",
        ),
        (
            "OL",
            "-5",
            "Not decided: more than 2.00 GΩ as read at −5.0 °C; nothing speaks against it. But "
            "the cold flatters, and below 10.0 °C no correction holds. Warm it by standing "
            "indoors until it is warm and dry, isolate it again, and read again.",
        ),
        (
            "1M",
            "90",
            "Not decided: 1.00 MΩ as read at 90.0 °C does not clear the part's own limit, but "
            "heat lowers it, and above 85.0 °C no correction holds. Let it cool, and read again.",
        ),
        (
            "9M",
            "90",
            "Within limits: 9.00 MΩ as read at 90.0 °C meets the part's own limit already; cooler "
            "it would read more.",
        ),
    ],
)
def test_where_no_correction_holds_it_says_what_is_certain_and_what_to_do(
    run, good, reading, at, said
):
    text = run(
        "insulation", "motor-b", "--reading", reading, "--volts", "500", "--at", at, "--notes", good
    ).output.replace(SPACE, " ")
    assert " ".join(text.split("\n\n")[0].split()) == said
    assert "As read: no correction for thermoset insulation holds (IEEE 43)." in text


def test_a_cold_compressor_has_a_heater_and_a_standard_that_is_not_for_it(run, notes):
    motor = notes / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(
        motor.read_text().replace("is_a: motor", "is_a: compressor").replace("hermetic: no, ", "")
    )
    words = ("insulation", "motor-b", "--reading", "9M", "--volts", "500", "--at", "5")
    text = " ".join(run(*words, "--notes", notes).output.split())
    assert "Warm it by its crankcase heater for some hours" in text
    assert "For comparison, IEEE 43 (written for machines, not for hermetic compressors):" in text


def test_the_standard_is_not_told_where_it_asks_for_the_same(run, notes):
    motor = notes / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace("min_ohm: 2M", "min_ohm: 5M"))
    words = ("insulation", "motor-b", "--reading", "9M", "--volts", "500", "--at", "40")
    text = run(*words, "--notes", notes).output.replace(SPACE, " ")
    assert "For comparison" not in text
    assert "Brought to 40 °C as thermoset insulation (IEEE 43)." in text


def test_a_test_below_the_parts_voltage_proves_less(run, good):
    text = run(
        "insulation",
        "motor-b",
        "--reading",
        "9M",
        "--volts",
        "250",
        "--at",
        "104F",
        "--notes",
        good,
    ).output.replace(SPACE, " ")
    text = " ".join(text.split())
    assert (
        "It was read below the part's 500 V: a bad figure counts, a good one proves less." in text
    )
    assert "its tester's error not counted (name it with --tester)." in text
    assert "at least 2.0 MΩ at 104.0 °F; here 9.00 MΩ: within limits" in text


def test_the_cautions_are_there_for_machines_too(judged):
    told = judged("--reading", "9M", "--volts", "500", "--at", "40")["cautions"]
    assert "Disconnect first: The three leads at the board." in told
    assert any("holds charge after the test" in one for one in told)


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (
            ["motor-b", "--reading", "9M", "--volts", "1000", "--at", "20"],
            1,
            "Motor of unit B is tested at 500 V at most, and 1000 V may break its insulation down: "
            "no verdict is given on that. Do not repeat it; discharge the winding, and test at "
            "500 V.",
        ),
        (
            ["motor-b", "--reading", "25.0", "--volts", "500", "--at", "20"],
            2,
            "'25.0' of what? Write 25.0M for megohms or 25.0k for kilohms",
        ),
        (
            ["board-a", "--reading", "9M", "--volts", "500", "--at", "20"],
            1,
            "the entry of 'board-a' gives no insulation limit; there is: motor-b",
        ),
        (
            ["motor-b", "--reading", "9M", "--volts", "0", "--at", "20"],
            2,
            "0 is no test voltage; give direct volts above zero",
        ),
        (
            ["motor-b", "--reading", "9m", "--volts", "500", "--at", "20"],
            2,
            "'9m' could be milliohms or megohms; write M for megohms, or milliohms as 0R22, or OL "
            "for over range",
        ),
        (
            [
                "motor-b",
                "--reading",
                "9M",
                "--volts",
                "250",
                "--at",
                "20",
                "--tester",
                "bench-tester",
            ],
            2,
            "Bench insulation tester tests at 500 V, not at 250 V",
        ),
        (
            [
                "motor-b",
                "--reading",
                "9M",
                "--volts",
                "500",
                "--at",
                "20",
                "--tester",
                "bench-meter",
            ],
            2,
            "Bench meter is no insulation tester",
        ),
        (
            ["motor-b", "--reading", "9M", "--volts", "500", "--at", "20", "--tester", "tester"],
            2,
            "no instrument is called 'tester'; did you mean 'bench-tester'?",
        ),
    ],
)
def test_what_is_not_judged_says_why_and_what_to_do(run, good, words, code, message):
    result = run("insulation", *words, "--notes", good)
    assert result.output.replace(SPACE, " ") == f"Error: {message}\n"
    assert result.exit_code == code


def test_a_board_is_never_tested_whatever_its_entry_says(run, notes):
    motor = notes / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace("is_a: motor", "is_a: board"))
    result = run(
        "insulation", "motor-b", "--reading", "9M", "--volts", "500", "--at", "20", "--notes", notes
    )
    assert result.output == (
        "Error: Motor of unit B is a board: an insulation test destroys it. Do not test it.\n"
    )
    assert result.exit_code == 1


def test_without_a_temperature_it_says_from_where_on_the_limit_is_met(run, good):
    words = ("insulation", "motor-b", "--reading", "40M", "--volts", "500", "--notes", good)
    result = run(*words)
    assert result.exit_code == 0
    assert result.output.replace(SPACE, " ").startswith(
        "40.0 MΩ meets the part's own limit at any temperature from 10 °C up. Colder than that,\n"
        "the cold flatters.\n"
    )
    told = json.loads(run(*words, "--json").output)
    assert (told["verdict"], told["beyond"], told["at_40_ohm"], told["checks"]) == (
        None,
        None,
        None,
        [],
    )
    assert told["cautions"]


def test_dampness_and_how_it_moved_are_typed_beside(run, good):
    words = ("insulation", "motor-b", "--reading", "500k", "--volts", "500", "--at", "12")
    words = (*words, "--air", "20", "--humidity", "61", "--at-30s", "800k", "--notes", good)
    answer = " ".join(run(*words).output.replace(SPACE, " ").split())
    assert answer.startswith(
        "Not decided: 338 kΩ is too little, but the winding at 12.0 °C is not above the dew point "
        "of 12.2 °C: water stands on it and reads low by itself."
    )
    assert "It fell while the voltage stood" in answer.partition("The part's own limit")[0]
    told = json.loads(run(*words, "--json").output)
    assert (told["verdict"], told["surface"], told["trend"]) == ("undecided", "wet", "falling")
    assert told["dew_c"] == pytest.approx(12.25, abs=0.05)
    assert told["ratio"] is None


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--air", "90", "--humidity", "50"), "air at 90.0 °C has no dew point here: the formula"),
        (("--air", "20", "--humidity", "wet"), "wet is no relative humidity; give per cent"),
    ],
)
def test_air_that_there_is_not_is_refused(run, good, words, message):
    asked = ("insulation", "motor-b", "--reading", "5M", "--volts", "500", "--at", "40")
    result = run(*asked, *words, "--notes", good)
    assert result.exit_code == 2
    assert result.output.replace(SPACE, " ").startswith(f"Error: {message}")
