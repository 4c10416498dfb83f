"""YAML read as text: nothing is turned into a number, a date or a yes, and every word has a place."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from kb.model import Code
from kb.notes import yaml_text
from kb.notes.load import load_notes
from kb.notes.yaml_text import Mark, read_yaml

TRAPS = ["012", "1:30", "NO", "1E3", "0x1F", "2026-01-02", "1_000", "null", ".inf", "y"]


@pytest.mark.parametrize("text", TRAPS)
def test_what_yaml_would_turn_into_something_else_stays_as_typed(text):
    assert read_yaml(f"code: {text}\nlist: [{text}]\n{text}: key", file="x").value == {
        "code": text,
        "list": [text],
        text: "key",
    }


@pytest.mark.parametrize(
    ("file", "text"), [("a-012", "012"), ("a-1-30", "1:30"), ("a-no", "NO"), ("a-1e3", "1E3")]
)
def test_a_code_reaches_its_entry_as_typed(good, file, text):
    assert load_notes(good).of(Code)[file].shown[0].text == text


def test_a_quoted_empty_text_is_text_and_a_bare_one_is_nothing():
    assert read_yaml('a: ""\nb:\nc: ~\nd: "~"', file="x").value == {
        "a": "",
        "b": None,
        "c": None,
        "d": "~",
    }


def test_a_place_is_that_of_the_value_or_of_the_key_or_of_the_nearest_parent():
    read = read_yaml("name: x\nlist:\n- one: 1\n  two: 2\n", file="x")
    assert read.place(("list", 0, "two")) == Mark(4, 8)
    assert read.place(("list", 0, "two"), key=True) == Mark(4, 3)
    assert read.place(("list", 0, "three")) == Mark(3, 3)
    assert read.place(("gone",)) == Mark(1, 1)


def test_an_id_that_stands_for_a_block_is_its_own_place():
    assert read_yaml("source: some-id", file="x").place(("source", 0, "id")) == Mark(1, 9)


def test_both_parsers_see_the_same_text_at_the_same_places(good, monkeypatch):
    files = sorted(Path(good).rglob("*.yaml"))
    assert len(files) > 40
    for path in files:
        text = path.read_text(encoding="utf-8")
        fast = read_yaml(text, file="x")
        monkeypatch.setattr(yaml_text, "_FAST", yaml.BaseLoader)
        assert read_yaml(text, file="x") == fast
        monkeypatch.undo()


def test_brackets_a_thousand_deep_are_a_problem_and_no_crash():
    for text in ("a: " + "[" * 1200, "a: " + "[" * 5000 + "]" * 5000):
        problems = read_yaml(text, file="x").problems
        assert [one.headline() for one in problems] == [
            "x:1:23: too-deep: brackets or lists stand more than 20 deep here"
        ]


@pytest.mark.parametrize("fast", [yaml_text._FAST, yaml.BaseLoader])
@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a: panel #3\n", ["x:1:10: warning: comment: '#3' is a comment, not text"]),
        ("a: #1   # where\n", ["x:1:4: warning: comment: '#1   # where' is a comment, not text"]),
        ("a: {b: x #3\n }\n", ["x:1:10: warning: comment: '#3' is a comment, not text"]),
        ("a: one\n  two #3\nb: c\n", ["x:2:7: warning: comment: '#3' is a comment, not text"]),
        (
            f"a: one #{'n' * 24}\n",
            [f"x:1:8: warning: comment: '#{'n' * 24}' is a comment, not text"],
        ),
        (
            f"a: one #{'n' * 25}\n",
            [f"x:1:8: warning: comment: '#{'n' * 23}…' is a comment, not text"],
        ),
        ("a: x # three\nb: y#3\nc: 'x' #3\nd:\n#e: f\ng: h\n", []),
        ('a: "“x”"\n', []),
    ],
)
def test_a_comment_in_a_word_is_told_alike_by_both_parsers(monkeypatch, fast, text, told):
    monkeypatch.setattr(yaml_text, "_FAST", fast)
    read = read_yaml(text, file="x")
    assert [one.headline() for one in read.warnings] == told
    assert read.problems == []


def test_twenty_deep_can_still_be_read():
    read = read_yaml("a: " + "[" * 19 + "x" + "]" * 19, file="x")
    assert read.problems == []


def test_an_escape_that_names_no_sign_is_a_problem_and_no_crash():
    assert [one.rule for one in read_yaml('a: "\\U00110000"', file="x").problems] == ["yaml"]
