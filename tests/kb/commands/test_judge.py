"""`ohmfolio judge`: one verdict, its figures, and what would settle it or explain it."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest

SPACE = "\u00a0"


@pytest.fixture
def say(run, good):
    """Return what `judge` prints for the good notes, with plain spaces."""

    def said(*words):
        result = run("judge", *words, "--notes", good)
        assert result.exit_code == 0
        return result.output.replace(SPACE, " ")

    return said


@pytest.fixture
def judged(run, good):
    """Return what `judge --json` gives for the good notes."""

    def told(*words):
        return json.loads(run("judge", *words, "--json", "--notes", good).output)

    return told


def test_the_figures_are_those_worked_by_hand(judged):
    # Pt100, class B, at 10 °C. The bench meter shows 104.5 Ω, its leads are 0.2 Ω: 104.3 Ω.
    # 104.3 = 100 (1 + 3.9083e-3 t − 5.775e-7 t²), so t by the quadratic formula:
    a, b = 3.9083e-3, -5.775e-7
    t = (-a + math.sqrt(a * a + 4 * b * 0.043)) / (2 * b)
    # On the 400 Ω range ± (0.5 % + 3 digits of 0.1 Ω) of what it showed, in kelvin by dT/dR:
    meter = (104.5 * 0.005 + 3 * 0.1) / (100 * (a + 2 * b * t))
    # Thermometer ± 0.4 K and half a digit of 0.1 K; strapped ± 0.5 K: drawn, as rectangles.
    rng = np.random.default_rng(1)
    off = sum(half * rng.uniform(-1, 1, 1_000_000) for half in (meter, 0.45, 0.5))
    told = judged("air-a", "--at", "10", "--reading", "104.5", "--placement", "strapped")
    assert list(told) == [
        "verdict",
        "ohm_digits",
        "t_implied_c",
        "error_k",
        "limit_k",
        "uncertainty_k",
        "dominant",
        "low_ohm",
        "high_ohm",
        "bounds_k",
        "limits",
        "next_readings",
        "explanations",
    ]
    assert told["t_implied_c"] == pytest.approx(t, abs=1e-9)
    assert told["error_k"] == pytest.approx(t - 10, abs=1e-9)
    # Class B (IEC 60751): 0.30 + 0.005 |t|.
    assert told["limit_k"] == pytest.approx(0.35, abs=1e-9)
    assert told["uncertainty_k"] == pytest.approx(np.quantile(np.abs(off), 0.9545), rel=3e-3)
    # 1.0 K of error lies between 0.35 − 2.5 and 0.35 + 2.5 K: nothing is decided.
    assert told["verdict"] == "undecided"
    assert told["dominant"] == "meter"
    assert told["explanations"] == []
    # The band: 9.65 and 10.35 °C by the same polynomial.
    assert told["low_ohm"] == pytest.approx(100 * (1 + a * 9.65 + b * 9.65**2), abs=1e-4)
    assert told["high_ohm"] == pytest.approx(100 * (1 + a * 10.35 + b * 10.35**2), abs=1e-4)


def test_a_reading_outside_limits_is_said_in_one_sentence_with_figures_under_it(say):
    assert say("liquid-a", "--at", "25", "--reading", "15k") == (
        "Outside limits: it reads as at 15.0 °C, 10 K colder than the 25.0 °C measured; more than\n"
        "is allowed.\n"
        "\n"
        "It would also fit:\n"
        "  - about 5.0 kΩ too much in series (bad contact or joint) or a drifted sensor\n"
        "\n"
        "Next: Seat the plug, read at the sensor's own tails, and again at least 15 K away: a bad\n"
        "contact is gone at the tails, and is the same ohms at both temperatures.\n"
        "\n"
        "T3 sensor (sensor liquid-a): By B value, 10k (curve beta-ten)\n"
        "Read         15.00 kΩ at 25.0 °C\n"
        "Expected     9.800 to 10.20 kΩ\n"
        "Error        −10 K\n"
        "Limit        ± 0.51 K, the part's own tolerance\n"
        "Uncertainty  ± 1.6 K: meter 0.15 K, thermometer 0.45 K, placement 1.5 K\n"
        "Taken with   Bench meter; Bench probe, thermometer held on beside the sensor (assumed:\n"
        "             --placement says otherwise)\n"
        "\n"
        "A sensor is measured with its plug off and the machine isolated, locked off and proved\n"
        "dead. The maker's instructions, local codes and licensed practice come first.\n"
    )


def test_an_allowance_of_the_machine_makes_the_limit_and_its_next_step_follows(run, notes):
    path = notes / "docs_data" / "sensors" / "unit-a" / "liquid-a.yaml"
    path.write_text(
        path.read_text() + "allow_k: 4\nwhen_good: Look at the valve.\nwhen_bad: Change it.\n"
    )

    def said(reading):
        words = ("judge", "liquid-a", "--at", "25", "--reading", reading, "--notes", notes)
        return run(*words).output.replace(SPACE, " ")

    assert said("9.9k").startswith(
        "Within limits: it reads as at 25.3 °C, 0.26 K hotter than the 25.0 °C measured; that is\n"
        "allowed.\n"
    )
    assert "Limit        ± 4.0 K, what the machine tolerates\n" in said("9.9k")
    assert "Next: Look at the valve." in said("9.9k")
    assert "If it stays so: Change it." in said("20k")
    assert "If it stays so: Change it." in said("OL")
    # 11.7 kΩ is 4.0 K off: on the limit itself nothing is decided, and another reading follows.
    assert said("11.7k").startswith("Not decided")
    assert "Next: read it again, best first:" in said("11.7k")
    assert "Look at the valve" not in said("11.7k")


def test_an_open_and_a_short_circuit_have_steps_of_their_own(run, notes):
    path = notes / "docs_data" / "sensors" / "unit-a" / "liquid-a.yaml"
    path.write_text(path.read_text() + "when_open: Bend the lead.\nwhen_bad: Change it.\n")

    def said(reading):
        words = ("judge", "liquid-a", "--at", "25", "--reading", reading, "--notes", notes)
        return run(*words).output

    assert "Next: Bend the lead." in said("OL")
    # Without a word of its own a short gets the trade's steps, then what any wrong reading gets.
    assert "Next: Dry the plug" in said("2")
    assert "If it stays so: Change it." in said("2")
    assert "If it stays so: Change it." in said("20k")


def test_fahrenheit_in_fahrenheit_out_and_the_verdict_is_the_same(say, judged):
    text = say("liquid-a", "--at", "77F", "--reading", "15k")
    assert text.startswith(
        "Outside limits: it reads as at 59.1 °F, 18 °F colder than the 77.0 °F measured"
    )
    assert " K" not in text
    celsius = judged("liquid-a", "--at", "25", "--reading", "15k")
    assert judged("liquid-a", "--at", "77F", "--reading", "15k") == celsius
    # 45 °F is 65/9 °C: (45 − 32) 5/9.
    told = judged("table-ten", "--at", "45F", "--reading", "20k")
    assert told["error_k"] == pytest.approx(told["t_implied_c"] - 65 / 9, abs=1e-9)


def test_an_undecided_reading_names_what_of_the_teams_would_settle_it(run, notes):
    path = notes / "docs_data" / "sensors" / "unit-a" / "liquid-a.yaml"
    path.write_text(path.read_text() + "allow_k: 2\n")
    text = run(
        "judge", "liquid-a", "--at", "25", "--reading", "9.63k", "--notes", notes
    ).output.replace(SPACE, " ")
    assert text.startswith(
        "Not decided: it reads as at 26.0 °C, 0.96 K hotter than the 25.0 °C measured: too close\n"
        "to call with these instruments.\n"
    )
    # L − |e| is 2 − 0.96 K.
    assert (
        "Most of the doubt is how the temperature was taken; it must come below 1.0 K.\n"
        "Next: read it again, best first:\n"
    ) in text
    assert "--placement strapped" in text or "--placement ice-water" in text
    # The strip: what is read, between its bounds, over the limits.
    assert "  off by   " in text or "  may be   " in text
    assert "  machine  " in text


def test_the_curve_itself_is_among_the_figures_where_it_counts(say):
    # A table of whole ohms, rows 25 K apart: 0.5 Ω of 8 Ω/K of print, and 0.17 K of gap. What the
    # curve by B value is known to, 0.016 K at its row, is a hundredth of U and is not said.
    assert ", curve 0.23 K\n" in say("return-a", "--at", "25", "--reading", "1k")
    assert "curve 0" not in say("liquid-a", "--at", "25", "--reading", "10k")


def test_a_meter_that_cannot_decide_is_named(say):
    text = say("suction-a", "--at", "25", "--reading", "9.95k")
    assert "Most of the doubt is how the temperature was taken; it must come below 0.14 K." in text
    assert "Bench meter cannot decide this sensor here" in " ".join(text.split())


def test_a_sister_takes_the_place_of_a_temperature(say, run, notes):
    text = say("liquid-a", "--reading", "10k", "--sister", "10k")
    assert text.startswith(("Within limits", "Not decided"))
    assert "no thermometer counts" in " ".join(text.split())
    both = ("judge", "liquid-a", "--at", "25", "--reading", "10k", "--sister", "10k")
    refused = run(*both, "--notes", notes)
    assert refused.exit_code == 2
    assert "a sister stands for the temperature" in refused.output


@pytest.mark.parametrize(
    ("reading", "verdict", "sentence"),
    [
        (
            "OL",
            "open",
            "Open circuit: over range, where a good part reads 9.900 to 10.10 kΩ. Sensor, lead or\n"
            "plug is broken.\n",
        ),
        (
            "2",
            "short",
            "Short circuit: 2.000 Ω is almost nothing. Two wires touch, or water bridges them.\n",
        ),
        (
            "480",
            "off-curve",
            "Off the curve: no part on this curve reads 480.0 Ω anywhere from −10.0 °C to 50.0 °C.\n",
        ),
    ],
)
def test_what_is_no_temperature_is_named_for_what_it_is(say, judged, reading, verdict, sentence):
    words = ("suction-a", "--at", "25", "--reading", reading)
    assert say(*words).startswith(sentence)
    told = judged(*words)
    assert told["verdict"] == verdict
    assert told["t_implied_c"] is None
    assert told["error_k"] is None


def test_still_plugged_in_is_offered_with_its_number(say, judged):
    # 10 kΩ beside the board's 10 kΩ pull-up reads 5 kΩ.
    words = ("suction-b", "--at", "25", "--reading", "5.0k")
    (told,) = judged(*words)["explanations"]
    assert told["kind"] == "plugged-in"
    # 4999.8 Ω without the leads: R = 4999.8 · 10000 / (10000 − 4999.8).
    assert told["sensor_ohm"] == pytest.approx(4999.8 * 10000 / 5000.2)
    assert (
        told["text"]
        .replace(SPACE, " ")
        .startswith("still plugged in: 9.999 kΩ beside the board's 10.00 kΩ pull-up: 25.0 °C")
    )
    assert told["text"].replace(SPACE, " ")[:80] in " ".join(say(*words).split())


@pytest.mark.parametrize(
    ("reading", "kind", "text"),
    [
        ("10", "unit-slip", "ohms typed where the meter showed kilohms: "),
        ("100k", "factor-ten", "a decimal point misread, ten times too high: 25.0 °C, "),
        ("1k", "factor-ten", "a decimal point misread, ten times too low: 25.0 °C, "),
    ],
)
def test_a_slip_of_unit_or_point_is_offered(judged, reading, kind, text):
    told = judged("suction-a", "--at", "25", "--reading", reading)["explanations"]
    # Another part of the family may fit as well, and then stands before it.
    (slip,) = (one for one in told if one["kind"] == kind)
    assert slip["text"].replace(SPACE, " ").startswith(text)


def test_a_curve_of_the_family_stands_before_one_of_the_notes(run, notes):
    # 1 kΩ at 0 °C is unit A's nickel; its copy on no sensor of unit A comes after.
    curves = notes / "docs_data" / "curves"
    copy = curves / "a-copy.yaml"
    copy.write_text((curves / "nickel-thousand.yaml").read_text())
    told = json.loads(
        run("judge", "liquid-a", "--at", "0", "--reading", "1k", "--json", "--notes", notes).output
    )["explanations"]
    others = [one for one in told if one["kind"] == "other-curve"]
    assert [one["curve"] for one in others] == ["nickel-thousand", "a-copy"]
    first, second = (one["text"].replace(SPACE, " ") for one in others)
    assert first.startswith(
        "the curve of T7 (nickel-thousand): wrong part, or plugs exchanged: 0.0 °C, "
    )
    assert second.startswith("another part, on the curve a-copy: 0.0 °C, ")


def test_nothing_is_said_of_a_limit_that_nobody_knows(say, judged):
    told = judged("coil-a", "--at", "25", "--reading", "11k")
    assert told["verdict"] == "undecided"
    assert (told["limit_k"], told["low_ohm"], told["high_ohm"]) == (None, None, None)
    assert say("coil-a", "--at", "25", "--reading", "11k").startswith(
        "Not decided: it reads as at 22.9 °C, 2.1 K colder than the 25.0 °C measured, but nobody\n"
        "knows how far this part may be off.\n"
    )


def test_over_range_where_a_good_part_may_be_beyond_the_meter_is_not_open(run, notes):
    path = notes / "docs_data" / "instruments" / "bench-meter.yaml"
    path.write_text(path.read_text().replace("- {span: 4M", "#"))
    words = ("judge", "table-ten", "--at", "-9", "--reading", "OL", "--notes", notes)
    text = run(*words).output.replace(SPACE, " ")
    assert text.startswith(
        "Not decided: over range on Bench meter, but a good part may be beyond it at −9.0 °C.\n"
        "Take a meter that reaches further.\n"
    )
    told = json.loads(run(*words, "--json").output)
    assert (told["verdict"], told["dominant"]) == ("undecided", "meter")


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (
            ["pressure-a", "--at", "7", "--reading", "480"],
            1,
            "the sensor 'pressure-a' has no curve. It holds electronics. Compare its reading with "
            "a gauge.",
        ),
        (
            ["suction-a", "--at", "90", "--reading", "2k"],
            1,
            "the curve 'table-ten' holds from −10.0 °C to 50.0 °C, not at 90.0 °C; measure at a "
            "temperature inside",
        ),
        (
            ["air-a", "--at", "-40", "--reading", "84"],
            1,
            "Bench probe reads from −30.0 °C to 120.0 °C, not −40.0 °C; take another thermometer",
        ),
        (
            ["suction-a", "--at", "7", "--reading", "2k", "--meter", "bench-meters"],
            2,
            "no instrument is called 'bench-meters'; did you mean 'bench-meter'?",
        ),
        (
            ["suction-a", "--at", "7", "--reading", "2k", "--meter", "bench-probe"],
            2,
            "Bench probe reads no resistance; there is: bench-meter",
        ),
        (
            ["suction-a", "--at", "7", "--reading", "2k", "--thermometer", "bench-meter"],
            2,
            "Bench meter reads no temperature; there is: bench-probe",
        ),
        (
            ["suction-a", "--at", "warm", "--reading", "2k"],
            2,
            "'warm' is not a temperature; write it as 7, -10, 7.5 or 45F",
        ),
        (
            ["suction-a", "--at", "7", "--reading", "2m"],
            2,
            "'2m' could be milliohms or megohms; write M for megohms, or milliohms as 0R22, or OL "
            "for over range",
        ),
        (
            ["motor-a", "--at", "-25", "--reading", "90"],
            1,
            "−25.0 °C is below −20 °C, where DIN 44081 sets no limit; warm the motor first",
        ),
    ],
)
def test_what_cannot_be_judged_says_why_and_what_to_do(run, good, words, code, message):
    result = run("judge", *words, "--notes", good)
    assert result.output.replace(SPACE, " ") == f"Error: {message}\n"
    assert result.exit_code == code


def test_a_sensor_that_has_a_curve_and_no_test_is_not_judged(run, notes):
    path = notes / "docs_data" / "sensors" / "unit-a" / "liquid-a.yaml"
    path.write_text(
        path.read_text() + "untestable: {why: It is moulded in., instead: Ask the controller.}\n"
    )
    result = run("judge", "liquid-a", "--at", "7", "--reading", "9k", "--notes", notes)
    assert result.output == (
        "Error: the sensor 'liquid-a' has no test. It is moulded in. Ask the controller.\n"
    )
    assert result.exit_code == 1


def test_notes_without_a_team_want_the_instruments_named(run, notes):
    (notes / "docs_data" / "team.yaml").unlink()
    words = ["judge", "suction-a", "--at", "25", "--reading", "10k", "--notes", notes]
    assert run(*words).output == (
        "Error: docs_data/team.yaml does not say which meter the team carries; name one with "
        "--meter\n"
    )
    named = ["--meter", "bench-meter", "--thermometer", "bench-probe"]
    assert run(*words, *named).exit_code == 0


def test_a_reading_is_said_back_with_the_digits_of_its_curve(say):
    text = say("platinum-hundred", "--at", "20", "--reading", "107.79", "--placement", "strapped")
    # Half of 0.1 Ω is 0.13 K of platinum: four digits would hide it.
    assert "107.79 Ω" in text
