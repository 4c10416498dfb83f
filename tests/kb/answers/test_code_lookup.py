"""Which codes are shown so: surely, nearly, or not at all."""

from __future__ import annotations

import pytest

from kb.answers.blinks import BlinkPattern
from kb.answers.code_lookup import (
    MOST_LISTED,
    MOST_NEAR,
    CodeQuestion,
    KnownCode,
    ShownWay,
    find_codes,
)
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
        ("42", ("heavy",)),
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
