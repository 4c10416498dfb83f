"""Every statement that the vectors meet is said in German, and nothing in it stays English."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import pytest

from kb.answers.statement import Statement
from kb.words.catalogue import speaking
from kb.words.phrase import Voice, phrase
from tests.site.vectors import Vector
from tests.unplaced_words import speaking_wide

_NAMED = (
    "code common common_name curve curves drain_at family first instrument instruments isolate_at "
    "kills labels lead leads less less_name meter more_name name names no_charge pair pairs part "
    "point rival second sensor series shown text thermometer typed what when where whole winding "
    "words"
)
NAMES = set(_NAMED.split())
"""Figures that hold names of the notes, or what was typed."""
PLAIN_WORD = re.compile("[A-Za-z]{3,}")


@pytest.fixture(scope="module")
def statements(asked: list[Vector]) -> dict[str, list[Statement]]:
    """Return what all answers and refusals of the vectors say, up to three of each id."""
    found: dict[str, list[Statement]] = {}
    for vector in asked:
        for plain in _statements(vector.told):
            same = found.setdefault(plain["id"], [])
            if len(same) < 3:
                same.append(_statement(plain))
    return found


def _statements(value: object) -> Iterator[Mapping[str, object]]:
    if isinstance(value, dict):
        if value.keys() == {"id", "figures"}:
            yield value
        for inner in value.values():
            yield from _statements(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _statements(inner)


def _statement(plain: Mapping[str, object]) -> Statement:
    """Return a statement, its names replaced by what no language has."""
    figures = {name: _figure(name, value) for name, value in plain["figures"].items()}
    return Statement(id=plain["id"], figures=figures)


def _figure(name: str, value: object) -> object:
    if isinstance(value, Mapping):
        return _statement(value)
    if isinstance(value, list):
        return [_figure(name, inner) for inner in value]
    return "§" if isinstance(value, str) and name in NAMES else value


def test_every_statement_is_said_in_german(statements: dict[str, list[Statement]]) -> None:
    assert len(statements) > 300
    for unit in "CF":
        with speaking("german"):
            said = {
                statement.id: phrase(statement, voice=Voice(unit=unit))
                for same in statements.values()
                for statement in same
            }
        assert {name: text for name, text in said.items() if "{" in text or not text} == {}


def test_no_word_of_a_statement_stands_outside_of_the_catalogue(
    statements: dict[str, list[Statement]],
) -> None:
    """Said in letters that nobody writes, what is left in plain ones was hidden in a figure."""
    with speaking_wide():
        left = {
            same[0].id: PLAIN_WORD.findall(" ".join(phrase(statement) for statement in same))
            for same in statements.values()
        }
    assert {name: words for name, words in left.items() if words} == {}
