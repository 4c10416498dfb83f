"""What is read quickly is what the parser reads, or is left to it: files changed by chance."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from kb.notes.file_text import decoded
from kb.notes.quick_yaml import NotPlain, quick_value
from kb.notes.yaml_text import read_yaml

TOP = Path(__file__).resolve().parents[3]
SEED, CHANGED, LONGEST = 20, 900, 900
SIGNS = [
    *"\"'[]{},:#&*!|>%@`?-~=\\ \n.<\t",
    *(": ", " #", "- ", "\n- ", "\n  ", "''", "{}", "[]", "[a, b]", "{a: b}", "a: b", "---\n"),
    *(", ", " ,", "~", '""', ">-\n", "|\n", "«", "ü", "²", "\u00a0", "\u2028", "x:y", "? ", "<<: "),
    *("\n\n", "\n \n", "\ufeff", "=", "null", "- - ", "-1", ":", "é: ", "  - "),
]


def texts() -> list[str]:
    """Return entries of the demo and of the good and bad ones, those that are not long."""
    files = [*(TOP / "docs_data").rglob("*.yaml"), *(TOP / "tests/data/entries").rglob("*.yaml")]
    read = [decoded(path.read_bytes(), file="x") for path in sorted(files) if _short(path)]
    return [text for text, problems in read if text and not problems]


def _short(path: Path) -> bool:
    return path.stat().st_size < LONGEST


def changed(text: str, *, chance: random.Random) -> str:
    """Return a text with a few signs put in, taken out, or moved to another line."""
    for _ in range(chance.randrange(1, 4)):
        at = chance.randrange(len(text) + 1)
        until = at + chance.choice([0, 0, 1, 3])
        text = text[:at] + chance.choice([*SIGNS, ""]) + text[until:]
        if chance.random() < 0.3:
            lines = text.split("\n")
            lines.insert(chance.randrange(len(lines)), lines.pop(chance.randrange(len(lines))))
            text = "\n".join(lines)
    return text


def same(text: str) -> bool:
    """Return whether a text is read quickly, and fail where the parser reads it otherwise."""
    if decoded(text.encode(), file="x")[1]:
        return False
    try:
        value, gaps = quick_value(text)
    except NotPlain:
        return False
    read = read_yaml(text, file="x.yaml")
    assert (read.problems, read.warnings) == ([], []), text
    assert (read.value, read.gaps) == (value, gaps), text
    return True


def test_changed_by_chance_it_is_read_as_the_parser_does_or_not_at_all() -> None:
    chance, originals = random.Random(SEED), texts()
    assert sum(map(same, originals[::3])) > len(originals) / 5
    quickly = sum(same(changed(chance.choice(originals), chance=chance)) for _ in range(CHANGED))
    assert CHANGED / 8 < quickly < CHANGED / 2


@pytest.mark.parametrize(
    "text",
    [
        "a: b\n  c\n",
        "a: b: c\n",
        "a: b #c\n",
        "a: [b, c: d]\n",
        "a: {b}\n",
        "a: [Why?, b]\n",
        "a: 'it''s'\n",
        'a: "b\\n"\n',
        "a: b\na: c\n",
        "- a\n",
        "a: >-\n  b\n\n  c\n",
        "a: «b»\n",
        "a:\n  - b\n - c\n",
        "",
        "a: |\n  b\n",
    ],
)
def test_what_is_not_plain_is_left_to_the_parser(text: str) -> None:
    with pytest.raises(NotPlain):
        quick_value(text)
