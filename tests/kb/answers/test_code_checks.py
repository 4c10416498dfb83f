"""What to do on a code: the cautions, whose steps to ask with, the checks, what follows."""

from __future__ import annotations

import dataclasses

import pytest

from kb.answers.code_checks import CodeFacts, RankedSuspect, StoredCharge, answer_code
from kb.words.phrase import phrase

SUSPECT = RankedSuspect(
    place=0, sensor="suction", share=0.3, minutes=4.5, cases=2, of_cases=6, live=False
)
FACTS = CodeFacts(
    suspects=[SUSPECT],
    expected_min=15.5,
    charge=StoredCharge(wait_min=5, drained_v=30),
    asks={"code": True, "family": True},
    fields=("afterwards", "clear"),
)


def test_every_code_has_the_isolating_first_and_the_maker_last() -> None:
    assert answer_code(FACTS).cautions == ("isolate-first", "maker-first")


def test_stored_charge_is_waited_for_or_measured_all_the_same() -> None:
    assert phrase(answer_code(FACTS).charge) == "wait 5 min, then measure: below 30 V."
    none = StoredCharge(wait_min=0, drained_v=30, nothing_stored="It has relays only.")
    answer = answer_code(dataclasses.replace(FACTS, charge=none))
    assert phrase(answer.charge) == (
        "nothing is stored: It has relays only. Measure all the same: below 30 V."
    )


@pytest.mark.parametrize(
    ("own", "familys", "whose"),
    [(True, True, "code"), (True, False, "code"), (False, True, "family"), (False, False, "")],
)
def test_a_codes_own_way_to_ask_stands_before_its_familys(
    own: bool, familys: bool, whose: str
) -> None:
    facts = dataclasses.replace(FACTS, asks={"code": own, "family": familys})
    assert answer_code(facts).ask == whose


@pytest.mark.parametrize(
    ("of_cases", "words"),
    [
        (6, "30 % likely, 4.5 min to check, 2 of 6 here"),
        (0, "30 % likely, 4.5 min to check, no past job yet"),
    ],
)
def test_a_check_says_how_likely_how_long_and_how_often_before(of_cases: int, words: str) -> None:
    suspect = dataclasses.replace(SUSPECT, cases=min(2, of_cases), of_cases=of_cases)
    (check,) = answer_code(dataclasses.replace(FACTS, suspects=[suspect])).checks
    assert phrase(check.likely).replace("\u00a0", " ") == words
    assert check.untestable is None
    assert check.cautions == ()


def test_what_has_no_test_says_why_and_what_to_do_instead() -> None:
    suspect = dataclasses.replace(SUSPECT, why="It is a chip.", instead="Hang a gauge beside it.")
    (check,) = answer_code(dataclasses.replace(FACTS, suspects=[suspect])).checks
    assert phrase(check.untestable) == (
        "it has no test: It is a chip. Instead: Hang a gauge beside it."
    )


def test_live_work_is_named_beside_its_check() -> None:
    live = dataclasses.replace(SUSPECT, live=True)
    checks = answer_code(dataclasses.replace(FACTS, suspects=[SUSPECT, live])).checks
    assert [check.cautions for check in checks] == [(), ("live-work",)]


def test_the_steps_that_follow_have_one_order_and_no_empty_ones() -> None:
    assert answer_code(FACTS).steps == ("clear", "afterwards")


@pytest.mark.parametrize(("expected_min", "words"), [(15.4, "15"), (15.6, "16"), (0.4, "0")])
def test_the_expected_time_is_whole_minutes(expected_min: float, words: str) -> None:
    answer = answer_code(dataclasses.replace(FACTS, expected_min=expected_min))
    assert phrase(answer.expected) == f"{words} min expected"
    assert answer.expected_min == expected_min
