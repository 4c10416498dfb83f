"""Which codes are shown so: surely, nearly, or not at all."""

from __future__ import annotations

import pytest

from kb.answers.blinks import BlinkPattern
from kb.answers.code_lookup import (
    MOST_LISTED,
    MOST_NEAR,
    CodeQuestion,
    FamilyCodes,
    KnownCode,
    KnownFamily,
    ShownWay,
    find_codes,
    find_in_families,
)
from kb.answers.family_words import KnownNames
from kb.answers.statement import Refusal
from kb.words.phrase import phrase

TEXT = ShownWay(text="K4-2")
CODES = (
    KnownCode(id="outdoor", ways=(TEXT, ShownWay(blinks=BlinkPattern(long=4, short=2)))),
    KnownCode(id="heavy", ways=(ShownWay(text="42"),)),
    KnownCode(id="locked", ways=(ShownWay(text="NO"), ShownWay(blinks=BlinkPattern(long=5)))),
    KnownCode(id="bus", ways=(ShownWay(text="--"),)),
)


def found(shown: str, codes: tuple[KnownCode, ...] = CODES) -> tuple[str, ...]:
    return find_codes(CodeQuestion(shown=shown, family="Unit A", codes=codes)).code_ids


def refused(shown: str, codes: tuple[KnownCode, ...] = CODES) -> Refusal:
    with pytest.raises(Refusal) as refusal:
        found(shown, codes)
    assert refusal.value.field == "shown"
    return refusal.value


@pytest.mark.parametrize(
    ("shown", "code_ids"),
    [
        ("k4 2", ("outdoor",)),
        ("4L2S", ("outdoor",)),
        ("42", ("heavy", "outdoor")),
        ("no", ("locked",)),
        ("5 blinks", ("locked",)),
        ("5", ("locked",)),
        ("- -", ("bus",)),
        ("––", ("bus",)),
    ],
)
def test_a_code_is_found_by_any_way_it_is_shown(shown: str, code_ids: tuple[str, ...]) -> None:
    assert found(shown) == code_ids


def test_what_may_be_a_text_and_blinks_gives_both_the_text_first() -> None:
    assert found("4-2") == ("heavy", "outdoor")


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        ("n0", "Unit A shows no code 'n0'; did you mean 'NO'?"),
        ("k43", "Unit A shows no code 'k43'; did you mean 'K4-2'?"),
        ("4 long 3 short", "Unit A shows no code '4 long 3 short'; did you mean '4 long 2 short'?"),
        ("4 long", "Unit A shows no code '4 long'; did you mean '5 long'?"),
        ("4 2 2", "Unit A shows no code '4 2 2'; did you mean '42'?"),
        ("6", "Unit A shows no code '6'; there is: 'K4-2', '42', 'NO', '--'"),
    ],
)
def test_what_is_near_is_offered_and_never_taken_for_it(shown: str, words: str) -> None:
    refusal = refused(shown)
    assert phrase(refusal.statement) == words
    assert not refusal.missing


def test_nothing_typed_is_no_fault() -> None:
    refusal = refused(" ")
    assert refusal.missing
    assert phrase(refusal.statement) == "type the code as the machine shows it"


def test_only_the_nearest_few_are_named() -> None:
    codes = tuple(KnownCode(id=f"k{i}", ways=(ShownWay(text=f"K{i}2"),)) for i in range(9))
    near = refused("X12", (*codes, KnownCode(id="x", ways=(ShownWay(text="XI2"),))))
    assert phrase(near.statement) == "Unit A shows no code 'X12'; did you mean 'XI2' or 'K12'?"
    many = refused("KX2", codes)
    assert len(many.statement.figures["near"]) == MOST_NEAR
    listed = refused("zzz", codes)
    assert len(listed.statement.figures["listed"]) == MOST_LISTED
    assert phrase(listed.statement).endswith("'K62', 'K72' and 1 more")
    assert phrase(refused("zzz", codes[:8]).statement).endswith("'K62', 'K72'")


def test_a_family_without_codes_says_so() -> None:
    assert phrase(refused("k42", ()).statement) == "Unit A has no code in these notes"


SPLIT_CODES = (
    KnownCode(id="gas", ways=(ShownWay(text="QD"), ShownWay(blinks=BlinkPattern(long=4, short=2)))),
)
FAMILIES = (
    KnownFamily(names=KnownNames(id="roof", names=("Marl RT rooftop unit", "RT 045")), codes=CODES),
    KnownFamily(
        names=KnownNames(id="split", names=("Orrin wall split", "Orrin unit")), codes=SPLIT_CODES
    ),
)


@pytest.mark.parametrize(
    ("shown", "family_id", "code_ids"),
    [
        ("rooftop flashes 4 long 2 short", "roof", ("outdoor",)),
        ("4-2 split", "split", ("gas",)),
        ("wall unit blinks 4 2", "split", ("gas",)),
        ("rt 045 42", "roof", ("heavy", "outdoor")),
        ("Orrin ---- ..", "split", ("gas",)),
        ("rooftop: k4-2", "roof", ("outdoor",)),
        # Nobody else shows it.
        ("k42", "roof", ("outdoor",)),
        ("qd", "split", ("gas",)),
    ],
)
def test_words_of_a_family_and_a_code_combine(
    shown: str, family_id: str, code_ids: tuple[str, ...]
) -> None:
    assert find_in_families(shown, families=FAMILIES) == FamilyCodes(
        family_id=family_id, code_ids=code_ids
    )


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        (
            "4 long 2 short",
            "'4 long 2 short' is shown by Marl RT rooftop unit and Orrin wall split; name the one in "
            "front of you",
        ),
        ("split k42", "Orrin wall split shows no code 'k42'; there is: 'QD'"),
        ("rooftop k43", "Marl RT rooftop unit shows no code 'k43'; did you mean 'K4-2'?"),
        ("zzz", "no family shows a code 'zzz'; name the family to be told what is near"),
        ("rooftop", "type the code as the machine shows it"),
    ],
)
def test_a_code_of_another_machine_is_never_taken_for_it(shown: str, words: str) -> None:
    with pytest.raises(Refusal) as refusal:
        find_in_families(shown, families=FAMILIES)
    assert phrase(refusal.value.statement) == words
    assert refusal.value.field == "shown"
