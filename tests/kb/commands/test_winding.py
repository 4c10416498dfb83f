"""`ohmfolio winding`: balance, the entry's own values at 20 °C, and what can hurt."""

from __future__ import annotations

import json
import math

import pytest

SPACE = "\u00a0"
PAIRS = "{U-V: 3.2, V-W: 3.2, W-U: 3.2}"


@pytest.fixture
def fine(notes):
    """Return notes whose meter reads milliohms, and whose motor is of tens of ohms."""
    meter = notes / "docs_data" / "instruments" / "bench-meter.yaml"
    meter.write_text(
        "name: Bench meter\nsource: bench-sheet\nis_a: meter\n"
        "resistance:\n- {span: 400, resolution: 0.01, percent: 0.2, digits: 2}\n"
        "leads_ohm: 0.2\n"
    )
    motor = notes / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace(PAIRS, "{U-V: 32, V-W: 32, W-U: 32}"))
    return notes


def test_the_figures_are_those_worked_by_hand(run, fine):
    told = json.loads(
        run(
            "winding",
            "motor-b",
            "--reading",
            "U-V=33.0",
            "V-W=32.8",
            "W-U=33.2",
            "--at",
            "25",
            "--json",
            "--notes",
            fine,
        ).output
    )
    # As typed, whatever the meter's leads read: they are zeroed or taken off by hand. Mean 33.0.
    assert told["constant"] == 234.5
    (balance,) = told["balance"]
    assert balance["pairs"] == ["U-V", "V-W", "W-U"]
    assert balance["off_percent"]["U-V"] == pytest.approx(0, abs=1e-9)
    assert balance["off_percent"]["V-W"] == pytest.approx(-100 * 0.2 / 33.0)
    assert balance["worst_percent"] == pytest.approx(100 * 0.2 / 33.0)
    # Copper to 20 °C: (234.5 + 20)/(234.5 + 25).
    to_20 = 254.5 / 259.5
    assert balance["mean_at_20_ohm"] == pytest.approx(33.0 * to_20)
    # One digit of 0.01 Ω each: gain and zero are the same in all three. The mean holds a third of
    # each, so of its own reading 1 − 1/3 counts and of the two others 1/3.
    digit = 0.01 / math.sqrt(3)
    u = digit * math.sqrt((2 / 3) ** 2 + 2 * (1 / 3) ** 2) / 33.0
    assert balance["uncertainty_percent"]["V-W"] == pytest.approx(100 * 2 * u, rel=1e-9)
    # 0.61 % and U 0.03 % are below the 2 % allowed.
    assert (balance["state"], balance["allowed_percent"]) == ("within", 2.0)
    one = told["windings"][0]
    assert one["at_20_ohm"] == pytest.approx(33.0 * to_20)
    assert one["expected_ohm"] == pytest.approx(32 / to_20)
    assert one["off_percent"] == pytest.approx(100 * (33.0 / (32 / to_20) - 1))
    # Against the entry the meter counts whole, ± (0.2 % + 2 digits of 0.01 Ω), and the winding's
    # temperature with ± 2 K of 234.5 + 25.
    expected = 32 / to_20
    meter, temperature = (0.002 * 33.0 + 0.02) / expected, 33.0 / expected * 2 / 259.5
    assert one["uncertainty_percent"] == pytest.approx(
        100 * 2 * math.hypot(meter, temperature) / math.sqrt(3)
    )
    assert told["verdict"] == "within"


def test_a_bad_winding_is_named_once_with_the_cautions_after_it(run, fine):
    result = run(
        "winding",
        "motor-b",
        "--reading",
        "U-V=32.0",
        "v-w=32.1",
        "U-W=36.0",
        "--at",
        "20",
        "--notes",
        fine,
    )
    assert result.exit_code == 0
    assert result.output.replace(SPACE, " ") == (
        "Outside limits: W-U is +7.9 % off the mean, and 2.0 % is allowed; W-U is +12 % off the\n"
        "32.0 Ω that its entry gives at 20.0 °C, and 7.0 % is allowed.\n"
        "\n"
        "        read  at 20 °C      off the mean     off its entry\n"
        "U-V  32.00 Ω   32.00 Ω  −4.1 % ± 0.028 %      0 % ± 0.96 %\n"
        "V-W  32.10 Ω   32.10 Ω  −3.8 % ± 0.028 %  +0.31 % ± 0.96 %\n"
        "W-U  36.00 Ω   36.00 Ω  +7.9 % ± 0.028 %     +12 % ± 1.1 %\n"
        "\n"
        "Motor of unit B (motor-b), read with Bench meter, leads zeroed, or their reading taken\n"
        "off. Allowed: 2.0 % off the mean and 7.0 % off its entry. Balance compares readings of\n"
        "one meter on one range within a minute, and nothing else: there one digit of it counts.\n"
        "2.0 % off the mean is about 6.0 % of one winding, in star and delta alike: a fault that\n"
        "is smaller stays unseen. Winding at 20.0 °C, constant 234.5 (copper, as IEC 60335-1,\n"
        "IEEE 112 and EN 61558-1 count it): each kelvin that is wrong there moves the readings by\n"
        "0.39 %, and ± 2.0 K of it is counted.\n"
        "\n"
        "Ohms from lead to lead say nothing about earth: test the insulation too, ohmfolio\n"
        "insulation motor-b.\n"
        "\n"
        "Mind:\n"
        "  - Unit B: isolate, lock off, prove dead (the switch beside it). Wait 10 min, then\n"
        "    measure below 30 V (at the two posts marked DC). Still above: never short it; cover\n"
        "    on, keep off, wait again, then ring.\n"
        "  - Every lead off the inverter, contactor, board and capacitors first, and note which\n"
        "    was where.\n"
        "  - It must have cooled through: its temperature is the reading's temperature.\n"
        "  - Isolate and lock off\n"
        "  - Prove dead, after the charge has drained\n"
        "  - The maker's instructions, local codes and licensed practice come first.\n"
    )


def test_a_meter_too_coarse_decides_nothing_and_a_closer_one_is_named(run, notes):
    # One digit of 0.1 Ω on 3.4 Ω: U = 2 · 0.1/√3 · √(2/3)/3.4 = 2.8 %, and 2 % is allowed.
    words = ("winding", "motor-b", "--reading", "U-V=3.4", "V-W=3.4", "W-U=3.4", "--notes", notes)
    text = run(*words).output.replace(SPACE, " ")
    assert text.startswith("Not decided: Bench meter is too coarse to tell at these ohms.\n")
    assert "No meter of the team reads closer." in text
    (notes / "docs_data" / "instruments" / "milliohm.yaml").write_text(
        "name: Milliohm meter\nsource: bench-sheet\nis_a: meter\n"
        "resistance:\n- {span: 20, resolution: 1e-3, percent: 0.1, digits: 2}\n"
    )
    assert "Take Milliohm meter (--meter milliohm)." in run(*words).output
    closer = run(*words, "--meter", "milliohm").output.replace(SPACE, " ")
    assert closer.startswith("Within limits: the windings are alike to the last digit.\n")


def test_equal_low_windings_are_alike_where_the_meter_cannot_tell_their_value(run, fine):
    motor = fine / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace(": 32", ": 0.96"))
    meter = fine / "docs_data" / "instruments" / "bench-meter.yaml"
    meter.write_text(meter.read_text().replace("digits: 2", "digits: 10"))
    words = ("winding", "motor-b", "--reading", "U-V=0.96", "V-W=0.96", "W-U=0.96", "--notes", fine)
    text = run(*words).output.replace(SPACE, " ")
    assert text.startswith("Within limits: the windings are alike to the last digit.\n")
    assert "U-V  0.96 Ω  0 % ± 0.98 %\n" in text
    # ± (0.2 % + 10 digits of 0.01 Ω) of 0.96 Ω is a tenth of it: the 7 % of the entry stay open.
    text = run(*words, "--at", "20").output.replace(SPACE, " ").replace("\n", " ")
    assert text.startswith(
        "Not decided: the windings are alike to the last digit, but Bench meter and a temperature "
        "known to ± 2.0 K cannot hold them against their entry's values. "
    )
    told = json.loads(run(*words, "--at", "20", "--json").output)
    assert (told["verdict"], told["balance"][0]["state"]) == ("undecided", "within")
    assert told["windings"][0]["off_percent"] == pytest.approx(0, abs=1e-9)


def test_readings_on_two_ranges_are_held_against_each_other_with_the_whole_accuracy(run, fine):
    meter = fine / "docs_data" / "instruments" / "bench-meter.yaml"
    meter.write_text(
        meter.read_text().replace(
            "resistance:\n", "resistance:\n- {span: 32, resolution: 0.001, percent: 2, digits: 2}\n"
        )
    )
    words = ("winding", "motor-b", "--notes", fine, "--json", "--reading")
    apart = json.loads(run(*words, "U-V=31.9", "V-W=32.1").output)["balance"][0]
    beside = json.loads(run(*words, "U-V=31.8", "V-W=32.0").output)["balance"][0]
    assert beside["uncertainty_percent"]["U-V"] < 0.01
    assert (beside["state"], apart["state"]) == ("within", "within")
    # ± 2 % of 31.9 Ω and ± (0.2 % + 0.02 Ω) of 32.1 Ω, each by half: U = √(a² + b²)/√3/32.
    both = math.hypot(0.02 * 31.9 + 0.002, 0.002 * 32.1 + 0.02)
    assert apart["uncertainty_percent"]["U-V"] == pytest.approx(100 * both / math.sqrt(3) / 32.0)


def test_without_a_temperature_nothing_is_brought_to_20_degrees(run, fine):
    words = ("winding", "motor-b", "--reading", "U-V=33", "V-W=33", "--notes", fine)
    told = json.loads(run(*words, "--json").output)
    assert told["balance"][0]["mean_at_20_ohm"] is None
    assert {one["at_20_ohm"] for one in told["windings"]} == {None}
    assert told["unread"] == ["W-U"]
    text = run(*words).output.replace(SPACE, " ").replace("\n", " ")
    assert "Give the winding's temperature to hold it against its entry." in text
    assert "Not read: W-U." in text
    assert "at 20 °C" not in text


def test_a_broken_winding_is_open(run, fine):
    words = ("winding", "motor-b", "--reading", "U-V=33", "V-W=OL", "W-U=500", "--notes", fine)
    assert run(*words).output.startswith(
        "Open circuit: V-W, W-U are over range, and both share W: its lead is broken, or in a\n"
        "star the winding at it, or a protector inside is open. A hot shell may take hours to\n"
        "close it.\n"
    )
    told = json.loads(run(*words, "--json").output)
    assert told["verdict"] == "open"
    assert [one["r_ohm"] for one in told["windings"]] == [33.0, None, None]


def test_a_winding_that_reads_nothing_is_a_short_where_the_meter_would_have_shown_it(run, notes):
    words = ("winding", "motor-b", "--reading", "U-V=0", "V-W=3.2", "W-U=3.2", "--notes", notes)
    # Nothing on a meter that is ± 0.3 Ω off: a sound winding is of 3.2 Ω.
    assert run(*words).output.startswith(
        "Short circuit: U-V reads nothing, where Bench meter would show a sound one: look for a\n"
        "short.\n"
    )
    told = json.loads(run(*words, "--json").output)
    assert [one["state"] for one in told["windings"]] == ["short", None, None]
    assert [one["pairs"] for one in told["balance"]] == [["V-W", "W-U"]]
    motor = notes / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace(PAIRS, "{U-V: 0.1, V-W: 3.2, W-U: 3.2}"))
    assert run(*words).output.startswith(
        "Not decided: U-V reads nothing, but Bench meter may show nothing for a sound one too.\n"
        "Read it with a meter for milliohms.\n"
    )


def test_over_range_where_a_sound_winding_may_be_beyond_the_meter_decides_nothing(run, fine):
    motor = fine / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace("{U-V: 32, V-W: 32, W-U: 32}", "{U-V: 390}"))
    words = ("winding", "motor-b", "--reading", "U-V=OL", "--notes", fine)
    # 390 Ω + 7 % is more than the 400 Ω that the meter ends at.
    assert run(*words, "--at", "20").output.startswith(
        "Not decided: U-V is over range on Bench meter, but a sound one may be beyond it. Take a\n"
        "meter that reaches further.\n"
    )
    # As cold as this it cannot be: (234.5 − 20)/254.5 of 417 Ω is 352 Ω.
    assert run(*words, "--at", "-20").output.startswith("Open circuit: U-V is over range")


def test_windings_that_should_differ_are_held_against_their_own_values(run, fine):
    motor = fine / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(motor.read_text().replace("{U-V: 32, V-W: 32, W-U: 32}", "{C-R: 20, C-S: 50}"))
    told = json.loads(
        run(
            "winding",
            "motor-b",
            "--reading",
            "C-R=20",
            "S-C=60",
            "--at",
            "20",
            "--json",
            "--notes",
            fine,
        ).output
    )
    assert told["balance"] == []
    assert [one["state"] for one in told["windings"]] == ["within", "outside"]
    assert told["windings"][1]["off_percent"] == pytest.approx(20)


def test_the_cautions_are_there_for_machines_too(run, fine):
    told = json.loads(
        run(
            "winding", "motor-b", "--reading", "U-V=33", "--at", "20", "--json", "--notes", fine
        ).output
    )
    assert told["cautions"][0].startswith("Unit B: isolate, lock off, prove dead")
    assert told["cautions"][-1] == (
        "The maker's instructions, local codes and licensed practice come first."
    )


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (
            ["motor-q", "--reading", "U-V=3"],
            2,
            "no part is called 'motor-q'; did you mean 'motor-b'?",
        ),
        (
            ["board-a", "--reading", "U-V=3"],
            1,
            "the entry of 'board-a' gives no windings; there is: motor-b",
        ),
        (
            ["motor-b", "--reading", "V-X=3"],
            2,
            "it has no pair of leads 'V-X'; write U-V, V-W or W-U",
        ),
        (
            ["motor-b", "--reading", "U-V=3", "V-U=OL"],
            2,
            "U-V read 3.00 Ω and over range: no good contact, or a lead that breaks when it is moved. "
            "Clip on, move the lead, read again.",
        ),
        (
            ["motor-b", "--reading", "U-V=3", "--at", "900"],
            1,
            "a winding at 900.0 °C is not cold, and is judged up to 150.0 °C only. Let it cool, then "
            "read.",
        ),
        (
            ["motor-b", "--reading", "U-V=3", "--at", "-234.5"],
            1,
            "no winding is judged at −234.5 °C, only from −40.0 °C. Look at the thermometer, or let "
            "it warm up, then read.",
        ),
        (
            ["motor-b", "--reading", "U-V=3q", "V-W=OL", "W-U=4,1,"],
            2,
            "'3q' is not a resistance; write it as 480, 6.32k, 6k32 or 1.2M, or OL for over range\n"
            "'4,1,' is not a resistance; write it as 480, 6.32k, 6k32 or 1.2M, or OL for over range",
        ),
        (["motor-b", "--reading", "U-V"], 2, "'U-V' is not a pair; write it as U-V=3.2"),
    ],
)
def test_what_cannot_be_compared_says_why_and_what_to_do(run, good, words, code, message):
    result = run("winding", *words, "--notes", good)
    assert result.output.replace(SPACE, " ") == f"Error: {message}\n"
    assert result.exit_code == code


def test_leads_without_names_and_repeats_are_typed_as_they_come(run, notes):
    motor = notes / "docs_data" / "parts" / "motor-b.yaml"
    motor.write_text(
        motor.read_text()
        .replace(PAIRS, "{C-R: 21, C-S: 52}, connection: single-phase")
        .replace(", balance_percent: 2", "")
    )
    words = ("winding", "motor-b", "--reading", "1-2=73", "2-3=20.8 21.2", "1-3=52", "--at", "20")
    answer = run(*words, "--notes", notes).output.replace(SPACE, " ")
    assert answer.startswith(
        "Lead 3 is C, the common one; 2 is R, usually run; 1 is S, usually start.\n\n"
    )
    told = json.loads(run(*words, "--json", "--notes", notes).output)
    assert told["names"].startswith("Lead 3 is C")
    assert [(one["pair"], one["repeats"]) for one in told["windings"]] == [
        ("1-2", 1),
        ("2-3", 2),
        ("1-3", 1),
    ]


def test_each_winding_of_a_star_is_solved(run, fine):
    motor = fine / "docs_data" / "parts" / "motor-b.yaml"
    text = motor.read_text()
    motor.write_text(text.replace("W-U: 32}", "W-U: 32}, connection: star"))
    words = ("winding", "motor-b", "--reading", "U-V=30.5", "V-W=32", "W-U=30.5", "--notes", fine)
    assert "turns of the winding at U are shorted" in " ".join(run(*words).output.split())
    told = json.loads(run(*words, "--json").output)
    assert told["solved_ohm"] == pytest.approx({"U": 14.5, "V": 16.0, "W": 16.0})
