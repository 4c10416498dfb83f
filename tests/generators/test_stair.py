"""The stair of a code's checks says what its list says: in its order, its minutes, its chances."""

from __future__ import annotations

import re

import pytest

from generators.stair import HIGH, WIDE, draw_stair
from kb.answers.code_checks import CodeAnswer, CodeFacts, RankedSuspect, StoredCharge, answer_code
from kb.numbers.rounding import format_plain


def answered(*checks: tuple[float, float], expected_min: float) -> CodeAnswer:
    """Return the answer for checks of a share and minutes each."""
    suspects = [
        RankedSuspect(place=place, what="plug", share=share, minutes=minutes, cases=0, of_cases=0)
        for place, (share, minutes) in enumerate(checks)
    ]
    charge = StoredCharge(wait_min=10, drained_v=50)
    return answer_code(
        CodeFacts(suspects=suspects, expected_min=expected_min, charge=charge, asks={}, fields=())
    )


def test_each_step_is_as_wide_as_its_minutes_and_as_high_as_its_chance() -> None:
    stair = draw_stair(answered((0.3, 4), (0.5, 12), (0.2, 24), expected_min=17))
    found = re.search(r'd="([^"]*)" class="ohm-stair-found"', stair)
    assert found is not None
    steps = re.findall(r"h([\d.]+)v-([\d.]+)", found[1])
    drawn = [(float(wide) / WIDE * 40, float(high) / HIGH) for wide, high in steps]
    assert drawn == [pytest.approx(step, abs=0.02) for step in ((4, 0.3), (12, 0.5), (24, 0.2))]


def test_it_says_in_words_what_is_found_by_when() -> None:
    stair = draw_stair(answered((0.3, 4), (0.5, 12), (0.2, 24), expected_min=17))
    words = re.search(r'aria-label="([^"]*)"', stair)
    assert words is not None
    pairs = re.findall(r"(\d+)\s%\safter\s(\d+)\smin", words[1])
    assert [tuple(map(float, pair)) for pair in pairs] == [(30, 4), (80, 16), (100, 40)]


@pytest.mark.parametrize("expected_min", [1.0, 17.0, 39.0])
def test_the_words_over_it_stay_within_it(expected_min: float) -> None:
    stair = draw_stair(answered((0.3, 4), (0.5, 12), (0.2, 24), expected_min=expected_min))
    text = f"{format_plain(expected_min)} min expected"
    found = re.search(rf'<text x="([\d.]+)" y="11"( class="ohm-stair-to")?>{text}', stair)
    assert found is not None
    assert 0 < float(found[1]) < WIDE
    # Past the middle of the last words' room they stand before their line.
    assert bool(found[2]) == (expected_min > 30)
