"""`ohmfolio which`: readings without a mark find their curve, or are said not to be enough."""

from __future__ import annotations

import json
import math

import pytest

SPACE = "\u00a0"


@pytest.fixture
def which(run, good):
    """Return what `which --json` gives for the good notes."""

    def told(*words):
        return json.loads(run("which", *words, "--json", "--notes", good).output)

    return told


def test_only_one_fits_and_the_figures_are_those_worked_by_hand(which):
    told = which("--pair", "0=1000.2", "100=1618", "--placement", "ice-water")
    assert list(told) == ["ranking", "readings", "ohm_digits", "unreached", "separable", "advice"]
    assert told["readings"][0] == {"t_c": 0, "r_ohm": 1000.2}
    # A nickel sensor's kelvin is half a per cent: four digits would leave 0.1 K of it open.
    assert told["ohm_digits"] == 5
    assert told["separable"] is True
    assert told["advice"] == "Only nickel-thousand fits."
    assert [list(one) for one in told["ranking"]] == [["curve", "worst_k", "chi2"]]
    assert len(told["unreached"]) == 7
    assert told["ranking"][0]["curve"] == "nickel-thousand"
    # Less 0.2 Ω of leads 1000 Ω is 0 °C exactly. At 100 °C the polynomial of nickel 6180 gives
    # 1000 (1 + 5.485e-3 · 100 + 6.65e-6 · 1e4 + 2.805e-11 · 1e8 − 2e-17 · 1e12), and its slope
    # the 0.2 Ω that 1617.8 is off.
    r_ohm = 1000 * (1 + 0.5485 + 0.0665 + 0.002805 - 0.00002)
    slope = 1000 * (5.485e-3 + 2 * 6.65e-6 * 100 + 4 * 2.805e-11 * 1e6 - 6 * 2e-17 * 1e10)
    assert told["ranking"][0]["worst_k"] == pytest.approx(abs(1617.8 - r_ohm) / slope, abs=1e-4)
    # u² of the second: meter ± (0.5 % + 2 digits of 1 Ω), thermometer ± 0.45 K, ice water ± 0.1 K,
    # and the part ± (0.4 K + 0.007 K for each °C).
    u2 = ((1618 * 0.005 + 2) / slope) ** 2 / 3 + (0.45**2 + 0.1**2 + 1.1**2) / 3
    chi2 = (abs(1617.8 - r_ohm) / slope) ** 2 / u2
    assert told["ranking"][0]["chi2"] == pytest.approx(chi2, rel=0.05)


def test_a_curve_that_the_readings_are_off_has_no_figure(which):
    told = which("--pair", "25=1143")
    ranked = [one["curve"] for one in told["ranking"]]
    assert "coil-copper" in told["unreached"]
    assert not set(ranked) & set(told["unreached"])
    assert all(one["worst_k"] is not None for one in told["ranking"])
    assert "motor-switch" not in {*ranked, *told["unreached"]}


def test_two_that_cannot_be_told_apart_name_where_they_would_part(run, notes):
    # Against the curve by B value, a table that leaves it in the cold.
    rows = {
        t: 10e3 * math.exp(3500 * (1 / (t + 273.15) - 1 / 298.15)) * math.exp(max(0, 20 - t) / 60)
        for t in range(-20, 81, 10)
    }
    points = "\n".join(f"  {t}: {r:.0f}" for t, r in rows.items())
    curves = notes / "docs_data" / "curves"
    for other in curves.iterdir():
        if other.stem != "beta-ten":
            other.unlink()
    (curves / "cold-ten.yaml").write_text(
        "name: Like it when warm\nsource: bench-sheet\nlaw: table\nrange_c: [-20, 80]\n"
        f"points:\n{points}\n"
    )
    words = ("which", "--pair", "30=8.24k", "--placement", "strapped", "--notes", notes)
    told = json.loads(run(*words, "--json").output)
    assert told["separable"] is False
    advice = told["advice"].replace(SPACE, " ")
    assert advice.startswith("These readings cannot tell beta-ten and cold-ten apart. Measure at ")
    assert run(*words).output.startswith("These readings cannot tell beta-ten and cold-ten apart. ")
    # Just where it says, a reading does tell: on the one curve the other is outside.
    at = advice.split("Measure at ")[1].split(" °C")[0].replace("−", "-")
    t_c = float(at) - 0.5
    r_ohm = 10e3 * math.exp(3500 * (1 / (t_c + 273.15) - 1 / 298.15))
    there = json.loads(
        run(
            "which",
            "--pair",
            "30=8.24k",
            f"{t_c}={r_ohm:.0f}",
            "--placement",
            "strapped",
            "--json",
            "--notes",
            notes,
        ).output
    )
    assert there["separable"] is True
    assert there["ranking"][0]["curve"] == "beta-ten"


def test_two_that_are_the_same_everywhere_are_said_to_be(run, good):
    result = run("which", "--pair", "77F=10k", "--placement", "ice-water", "--notes", good)
    text = " ".join(result.output.replace(SPACE, " ").split())
    assert text.startswith(
        "These readings cannot tell table-ten, beta-ten, polynomial-ten and coefficients-ten apart. "
    )
    # There the two are known to 1.1 K (a rough table) and 0.01 K.
    assert "Never do table-ten and beta-ten part by more than 2.4 °F, at 44.8 °F, where " in text
    assert "5.2 °F would be needed" in text
    assert "or go by what is printed on the part." in text


def test_none_that_fits_says_what_to_do(which):
    assert which("--pair", "25=2k", "50=9k")["advice"] == (
        "No curve of the notes fits. Was the plug off, and sensor and thermometer at one "
        "temperature? If so its curve is not in the notes: measure it at several temperatures. "
        "See 'ohmfolio fit'."
    )


def test_the_terminal_says_what_fits_and_the_nearest_misses(run, good):
    result = run("which", "--pair", "0=1k", "--notes", good)
    assert result.exit_code == 0
    assert result.output.replace(SPACE, " ") == (
        "Only nickel-thousand fits. One more reading, some 20 K away, makes sure.\n"
        "\n"
        "Read 1.0000 kΩ at 0.0 °C, with Bench meter; Bench probe, thermometer held on beside the\n"
        "sensor (assumed: --placement says otherwise).\n"
        "\n"
        "It fits:\n"
        "  nickel-thousand: at most 0.036 K off (Nickel, 1000 ohms)\n"
        "\n"
        "It does not fit:\n"
        "  table-rising: at most 25 K off (Table with low and high columns)\n"
        "\n"
        "6 more curves are further off, or do not reach these readings.\n"
        "\n"
        "A sensor is measured with its plug off and the machine isolated, locked off and proved\n"
        "dead. The maker's instructions, local codes and licensed practice come first.\n"
    )


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--pair", "25"], "'25' is not a pair; write it as 25=10k"),
        (["--pair", "25=OL"], "over range belongs to every curve or none; give what it reads"),
        (["--pair", "25=5M"], "over range belongs to every curve or none; give what it reads"),
        (["--pair", "warm=10k"], "'warm' is not a temperature; write it as 7, -10, 7.5 or 45F"),
        (
            ["--pair", "25=10m", "--pair", "9"],
            "'10m' could be milliohms or megohms; write M for megohms, or milliohms as 0R22, or OL "
            "for over range\n'9' is not a pair; write it as 25=10k",
        ),
    ],
)
def test_a_pair_that_cannot_be_read_says_what_would_work(run, good, words, message):
    result = run("which", *words, "--notes", good)
    assert result.output == f"Error: {message}\n"
    assert result.exit_code == 2


def test_a_thermometer_that_does_not_reach_is_named(run, good):
    result = run("which", "--pair", "-40=10k", "--notes", good)
    assert result.exit_code == 1
    assert result.output.replace(SPACE, " ") == (
        "Error: Bench probe reads from −30.0 °C to 120.0 °C, not −40.0 °C; take another "
        "thermometer\n"
    )
