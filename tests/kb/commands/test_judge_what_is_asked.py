"""`ohmfolio judge` asks for what decides, and for nothing else."""

from __future__ import annotations

SPACE = "\u00a0"


def test_over_range_needs_no_temperature_and_says_so(run, good):
    text = run("judge", "suction-a", "--reading", "OL", "--notes", good).output
    assert text.startswith("Open circuit: over range, where a good part reads ")
    assert "at every temperature from " in text
    assert "Taken with  Bench meter\n" in text


def test_what_the_temperature_decides_is_asked_for(run, good):
    result = run("judge", "suction-a", "--reading", "10k", "--notes", good)
    assert result.exit_code == 1
    assert result.output == (
        "Error: what it means hangs on the temperature: type the temperature at the sensor\n"
    )


def test_a_one_may_be_over_range_and_is_asked_about(run, good):
    result = run("judge", "suction-a", "--at", "25", "--reading", "1", "--notes", good)
    assert result.output.replace(SPACE, " ") == (
        "Error: does it show over range, or 1 ohm? Many meters show 1 for over range: write OL "
        "for that, 1.0 for one ohm\n"
    )
    assert result.exit_code == 2


def test_what_follows_may_hang_on_the_code(run, notes):
    sensor = notes / "docs_data" / "sensors" / "unit-a" / "suction-a.yaml"
    sensor.write_text(sensor.read_text() + "allow_k: 5\n")
    code = notes / "docs_data" / "codes" / "unit-a" / "a-k4-2.yaml"
    suspect = "{sensor: suction-a, share: 6,"
    assert suspect in code.read_text()
    code.write_text(code.read_text().replace(suspect, f"{suspect} when_good: It tells the truth.,"))
    words = ("judge", "suction-a", "--at", "25", "--reading", "10k", "--notes", notes)
    assert "It tells the truth." not in run(*words).output
    assert "Next: It tells the truth." in run(*words, "--code", "a-k4-2").output
    unknown = run(*words, "--code", "a-k4-3")
    assert unknown.exit_code == 2
    assert unknown.output.startswith("Error: no code is called 'a-k4-3'")
