"""What git leaves where it could not merge is named at its lines."""

from __future__ import annotations

import pytest

from kb.notes.merge_marks import conflicts


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a\n<<<<<<< HEAD\nb\n=======\nc\nd\n>>>>>>> x\n", [(2, "line 3 is", "lines 5 to 6 are")]),
        ("<<<<<<< HEAD\n=======\nc\n>>>>>>> x\n", [(1, "nothing is", "line 3 is")]),
        (
            "<<<<<<< HEAD\nb\n||||||| base\no\n=======\nc\n>>>>>>> x\n",
            [(1, "line 2 is", "line 6 is")],
        ),
        (
            "<<<<<<< a\nb\n=======\nc\n>>>>>>> a\nd\n<<<<<<< a\ne\n=======\nf\n>>>>>>> a\n",
            [(1, "line 2 is", "line 4 is"), (7, "line 8 is", "line 10 is")],
        ),
    ],
)
def test_both_versions_are_named_by_their_lines(
    text: str, expected: list[tuple[int, str, str]]
) -> None:
    found = list(conflicts(text.splitlines(), file="f"))
    assert [(problem.line, problem.message) for problem in found] == [
        (line, f"git could not merge this: {ours} one version, {theirs} the other")
        for line, ours, theirs in expected
    ]


@pytest.mark.parametrize(
    "text", ["a\n>>>>>>> x\n", "b\n<<<<<<< HEAD\n", "c\n<<<<<<< HEAD\nb\n======="]
)
def test_a_mark_alone_is_to_be_deleted(text: str) -> None:
    (problem,) = conflicts(text.splitlines(), file="f")
    assert (problem.line, problem.hint) == (2, "delete the line")


@pytest.mark.parametrize("text", ["Safety\n=======\n", "a: <<<<<<< HEAD\n", "========\n"])
def test_what_only_looks_like_a_mark_is_none(text: str) -> None:
    assert list(conflicts(text.splitlines(), file="f")) == []
