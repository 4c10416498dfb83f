"""`ohmfolio judge` of a motor's PTC loop: held against the limits of a switch, not of a curve."""

from __future__ import annotations

import json

import pytest

SPACE = "\u00a0"


@pytest.mark.parametrize(
    ("at", "reading", "verdict", "sentence"),
    [
        ("25", "300", "within", "Within limits: 300.0 Ω is what a sound loop reads at 25.0 °C."),
        (
            "25",
            "1.2k",
            "outside",
            "Outside limits: 1.200 kΩ is more than a sound loop reads at 25.0 °C; it or its lead is",
        ),
        (
            "130",
            "2k",
            "outside",
            "Outside limits: 2.000 kΩ is less than a tripped loop reads at 130.0 °C; it does not",
        ),
        (
            "25",
            "752",
            "undecided",
            "Not decided: too close to a limit to call; most of the doubt is",
        ),
        (
            "115",
            "1k",
            "undecided",
            "Not decided: too close to a limit to call; most of the doubt is",
        ),
        (
            "119",
            "1k",
            "undecided",
            "Not decided: at 119.0 °C it is switching, and any reading is right. Let the motor cool.",
        ),
        ("25", "OL", "open", "Open circuit: over range, where a sound loop reads at most 750.0 Ω."),
        ("130", "OL", "undecided", "Not decided: over range, which a tripped loop may read."),
        ("25", "3", "short", "Short circuit: 3.000 Ω: loop or lead is bridged, so nothing"),
        ("25", "15", "short", "Short circuit: 15.00 Ω: loop or lead is bridged, so nothing"),
        ("25", "20", "undecided", "Not decided: 20.00 Ω is too close to the 20 Ω below which a"),
        (
            "25",
            "45",
            "undecided",
            "Not decided: 45.00 Ω is less than a loop of 3 usually reads, at",
        ),
    ],
)
def test_a_motors_loop_is_judged_on_its_limits(run, notes, at, reading, verdict, sentence):
    probe = notes / "docs_data" / "instruments" / "bench-probe.yaml"
    probe.write_text(probe.read_text().replace("[-30, 120]", "[-30, 200]"))
    words = ("judge", "motor-a", "--at", at, "--reading", reading, "--notes", notes)
    result = run(*words)
    assert result.exit_code == 0
    assert result.output.replace(SPACE, " ").startswith(sentence)
    assert "never with an insulation tester" in result.output.replace("\n", " ")
    told = json.loads(run(*words, "--json").output)
    assert told["verdict"] == verdict
    assert told["explanations"] == []


def test_a_cold_loop_is_right_without_a_temperature_and_names_no_thermometer(run, notes):
    result = run("judge", "motor-a", "--reading", "300", "--notes", notes)
    assert result.exit_code == 0
    said = result.output.replace(SPACE, " ")
    assert said.startswith("Within limits: 300.0 Ω is what a sound loop reads in a cold motor")
    taken_with = next(line for line in said.splitlines() if line.startswith("Taken with"))
    assert "probe" not in taken_with and "thermometer" not in taken_with
