"""`ohmfolio code` says what a code means and what to check first, however it was typed."""

from __future__ import annotations

import json

import pytest


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
