"""Notes of the first version are read as they stand: warnings say what to change, and nothing more.

`tests/data/old/` is kept for ever. `starter` is what `start --bare` handed out in 0.1.0; `coldroom`
is a part of that version's demo with every law that it knew.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from kb.check import check_notes
from tests.kept_fields import fields_of_today, kept_fields

OLD = Path(__file__).resolve().parents[2] / "data/old/0.1.0"


@pytest.mark.parametrize(
    ("name", "entries", "warned"),
    [
        ("starter", 12, {"cut-sentence": 2, "examples-left": 1, "refit-not-pinned": 1}),
        (
            "coldroom",
            52,
            {
                "earth-not-first": 2,
                "earth-not-last": 2,
                "live-step": 3,
                "live-volts": 1,
                "orphan": 5,
                "refit-not-pinned": 25,
            },
        ),
    ],
)
def test_notes_of_the_first_version_have_no_fault_and_each_warning_says_what_to_change(
    name: str, entries: int, warned: dict[str, int]
) -> None:
    notes = check_notes(OLD / name)
    assert sum(notes.counts().values()) == entries
    assert [problem.picture() for problem in notes.problems if not problem.warning] == []
    assert dict(Counter(problem.rule for problem in notes.problems)) == warned
    assert [problem for problem in notes.problems if not problem.hint] == []


def test_no_field_and_no_word_of_choice_that_notes_ever_had_is_gone() -> None:
    assert kept_fields() - fields_of_today() == set()
