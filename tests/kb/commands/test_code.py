"""`ohmfolio code` says what a code means and what to check first, however it was typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]


@pytest.mark.parametrize("typed", [["k4-2"], ["K42"], ["k4", "2"], ["K4.2"]])
def test_a_code_is_found_however_it_is_typed(run, good, typed):
    told = run("code", "unit-a", *typed, "--notes", good)
    assert told.exit_code == 0
    assert told.output.startswith("K4-2")


def test_the_first_thing_to_check_stands_first_and_cautions_stand_before_it(run, good):
    lines = run("code", "unit-a", "k42", "--notes", good).output.splitlines()
    caution = next(i for i, line in enumerate(lines) if line.startswith("Before you measure"))
    checks = next(i for i, line in enumerate(lines) if line.startswith("Check in this order"))
    assert caution < checks
    assert lines[checks + 1].startswith("  1. ")
    assert lines[-1] == "The maker's instructions, local codes and licensed practice come first."


@pytest.mark.parametrize(
    "typed",
    [
        "4-2",
        "4 2",
        "4/2",
        "four long two short",
        "viermal lang, zweimal kurz",
        "4L2K",
        "---- ..",
        "-- -- ..",
        "L4S2",
        "2 short, 4 long",
        "4 × long, 2 × short",
        "flashes 4 long and 2 short",
    ],
)
@pytest.mark.parametrize("apart", [False, True])
def test_blinks_are_found_however_they_are_written(run, good, typed, apart):
    """As one word of the shell, and as several."""
    told = run("code", "unit-a", *(typed.split() if apart else [typed]), "--notes", good)
    assert told.output.startswith("K4-2, 4 long 2 short (red lamp), 42: Suction sensor\n")


def test_dots_after_two_dashes_are_not_four_dots_alone(run, notes):
    path = notes / "docs_data" / "codes" / "unit-a" / "a-no.yaml"
    path.write_text(
        path.read_text().replace("- text: NO\n", "- blinks: {lamp: red lamp, short: 4}\n")
    )
    told = run("code", "unit-a", "--notes", notes, "--", "....")
    assert "shows no code '–– ....'" in told.output
    assert run("code", "unit-a", "....", "--notes", notes).output.startswith("4 short (red lamp)")


def test_a_code_of_two_dashes_is_still_a_text(run, notes):
    path = notes / "docs_data" / "codes" / "unit-a" / "a-no.yaml"
    path.write_text(path.read_text().replace("- text: NO\n", "- text: '--'\n"))
    told = run("code", "unit-a", "--notes", notes, "--", "--")
    assert told.output.startswith("--: Shown as NO\n")


@pytest.mark.parametrize(
    "typed", ["flashes 3 times", "three blinks", "...", "blinkt dreimal", "Lampe blinkt 3 mal"]
)
def test_a_count_in_words_or_dots_is_found(run, notes, typed):
    path = notes / "docs_data" / "codes" / "unit-a" / "a-no.yaml"
    path.write_text(
        path.read_text().replace("- text: NO\n", "- blinks: {lamp: red lamp, short: 3}\n")
    )
    told = run("code", "unit-a", typed, "--notes", notes)
    assert told.output.startswith("3 short (red lamp): Shown as NO\n")


@pytest.mark.parametrize(
    ("typed", "near"),
    [("N0", "NO"), ("O12", "012"), ("IE3", "1E3"), ("4 long 3 short", "4 long 2 short")],
)
def test_what_only_looks_alike_is_offered_and_not_taken_for_it(run, good, typed, near):
    told = run("code", "unit-a", typed, "--notes", good)
    assert told.exit_code == 2
    assert told.output == f"Error: Unit A shows no code '{typed}'; did you mean '{near}'?\n"


def test_live_work_is_named_at_its_check(run, notes):
    path = notes / "docs_data" / "codes" / "unit-a" / "a-k4-2.yaml"
    path.write_text(path.read_text().replace("method: volts}", "method: volts, live: yes}"))
    lines = run("code", "unit-a", "k42", "--notes", notes).output.splitlines()
    board = next(i for i, line in enumerate(lines) if "(board-a)" in line)
    assert lines[board + 1] == "     Live work, for those authorised to do it."


@pytest.mark.parametrize("typed", [["3 blinks"], ["3", "blinks"], ["3x"], ["3"], ["3S"]])
def test_blinks_without_a_long_one_are_found_by_their_count_alone(run, notes, typed):
    path = notes / "docs_data" / "codes" / "unit-a" / "a-no.yaml"
    path.write_text(
        path.read_text().replace("- text: NO\n", "- blinks: {lamp: red lamp, short: 3}\n")
    )
    told = run("code", "unit-a", *typed, "--notes", notes)
    assert told.output.startswith("3 short (red lamp): Shown as NO\n")


@pytest.mark.parametrize("typed", ["2", "2 blinks", "4x"])
def test_a_count_alone_is_no_pattern_with_long_blinks(run, good, typed):
    assert run("code", "unit-a", typed, "--notes", good).exit_code == 2


def test_a_number_that_is_shown_stays_a_number(run, good):
    assert run("code", "unit-a", "42", "--notes", good).output.startswith("K4-2")


def test_an_unknown_code_names_the_nearest(run, good):
    told = run("code", "unit-a", "k4-22", "--notes", good)
    assert told.exit_code == 2
    assert told.output == "Error: Unit A shows no code 'k4-22'; did you mean 'K4-2'?\n"


def test_where_nothing_is_stored_it_says_why_and_asks_to_measure_all_the_same(run, notes):
    path = notes / "docs_data" / "families" / "unit-a.yaml"
    path.write_text(
        path.read_text().replace("drain_min: 5", "drain_min: 0\nno_charge: It has relays only.")
    )
    assert (
        "Before you measure: isolate, lock off, prove dead. Nothing is stored: It has relays only. "
        "Measure all the same: below 30 V.\n"
    ) in run("code", "unit-a", "k42", "--notes", notes).output


def test_an_unknown_family_names_the_nearest(run, good):
    told = run("code", "unit-q", "k42", "--notes", good)
    assert told.exit_code == 2
    assert told.output.startswith("Error: no family is called 'unit-q'; did you mean 'unit-")


def test_for_machines_the_shares_sum_to_one_and_the_counts_are_raw(run, good):
    (told,) = json.loads(run("code", "unit-a", "k42", "--notes", good, "--json").output)
    assert told["code"] == "a-k4-2"
    assert sum(one["share"] for one in told["suspects"]) == pytest.approx(1)
    assert {one["of_cases"] for one in told["suspects"]} == {1}
    suction = next(one for one in told["suspects"] if one["sensor"] == "suction-a")
    assert suction["cases"] == 1


def test_a_family_without_a_code_asks_for_the_code(run, good):
    told = run("code", "unit-a", "--notes", good)
    assert (told.exit_code, told.output) == (2, "Error: type the code as the machine shows it\n")


@pytest.fixture()
def two_machines(notes):
    path = notes / "docs_data" / "families" / "unit-a.yaml"
    path.write_text(path.read_text().replace("name: Unit A\n", "name: Marl rooftop\n"))
    return notes


@pytest.mark.parametrize("apart", [False, True])
@pytest.mark.parametrize("typed", ["rooftop flashes 4 long 2 short", "marl k42", "4-2 rooftop"])
def test_words_of_the_family_stand_in_for_its_id(run, two_machines, typed, apart):
    told = run("code", *(typed.split() if apart else [typed]), "--notes", two_machines)
    assert told.output.startswith("K4-2, 4 long 2 short (red lamp), 42: Suction sensor\n")


def test_a_code_that_one_family_alone_shows_needs_no_family(run, good):
    assert run("code", "1e3", "--notes", good).output.startswith("1E3")


def test_a_code_that_nobody_shows_is_refused_in_words(run, good):
    told = run("code", "zzz", "--notes", good)
    assert told.exit_code == 2
    assert told.output == (
        "Error: no family shows a code 'zzz'; name the family to be told what is near\n"
    )


def test_the_demo_s_rooftop_is_asked_in_words(run):
    told = run("code", "rooftop flashes 4 long 2 short", "--notes", ROOT)
    assert told.output.startswith("K4-2, 4 long 2 short (H1), 27")


def test_blinks_that_several_machines_show_name_them_and_open_none(run):
    told = run("code", "4 long 2 short", "--notes", ROOT)
    assert told.exit_code == 2
    assert "name the one in front of you" in told.output
    assert "Quellmark RT rooftop heat pump" in told.output
