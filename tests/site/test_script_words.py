"""What a person reads stands in the catalogue of words, and not in a script.

A text of a script with two words in it, or with a word that begins large, is for a person unless it
is thrown, names a class, a key or a type, or is listed here with the reason.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

DRESSING = Path(__file__).resolve().parents[2] / "site_config"
LIVE = DRESSING / "live"
"""Only the keeper of the notes sees it, beside what check says: it speaks English as commands do."""

_COMMENT = re.compile(r"/\*.*?\*/|(?<![:\"'`\\/])//[^\n]*", re.DOTALL)
_THROWN = re.compile(
    r"\b(?:throw\b|new (?:Unreadable|RangeError|Error)\()(?:[^;`\"']|`[^`]*`|\"[^\"]*\"|'[^']*')*;"
)
_PATTERN = re.compile(
    r"(?<=[(=,:\s])/(?:[^/*\\\n\[]|\\.|\[(?:[^\]\\\n]|\\.)*\])(?:[^/\\\n\[]|\\.|\[(?:[^\]\\\n]|\\.)*\])*/"
)
_TEXT = re.compile(r"\"((?:[^\"\\\n]|\\.)*)\"|'((?:[^'\\\n]|\\.)*)'|`((?:[^`\\]|\\.)*)`")
_FILLED = re.compile(r"\$\{(?:[^{}]|\{[^{}]*\})*\}")
_TWO_WORDS = re.compile(r"[A-Za-z]{2,}[,;:.]? +[A-Za-z]{2,}")
_JOINS = re.compile(r"(?:^|[ \0])(?:and|at|by|from|in|is|of|on|or|to|with) (?=\0|$)|^ [a-z]{2,} ")
"""One small word between two figures."""
_BEGINS_LARGE = re.compile(r"(?<![A-Za-z-])[A-Z][a-z]+")


_TAG = re.compile(r"<[^<>]*>")
_CLASSES = re.compile(r"ohm-[a-z-]+(?: ohm-[a-z-]+)*")
_SOURCE_OF_A_PATTERN = re.compile(r"\\\\[d.]|\(\?:")
NAMES = {
    # Errors, by the browser's name or ours.
    *(
        "AbortError",
        "NotSupportedError",
        "OutOfRange",
        "QuotaExceededError",
        "Refusal",
        "Unreadable",
    ),
    # Keys of a keyboard.
    *("ArrowDown", "ArrowUp", "Enter", "Escape"),
    # What a browser is told.
    *(
        "Content-Type",
        "Ed25519",
        "text/html; charset=utf-8",
        "text/plain; charset=utf-8",
        "details script[data-later]",
        "use strict",
        "not all",
        "(pointer: coarse)",
    ),
    "(prefers-reduced-motion: reduce)",
    "(window.Ohm=window.Ohm||{}).release=",
    # What OutOfRange is thrown about.
    *("this curve", "this thermometer", "the insulation correction"),
}
OUT_OF_RANGE = "assets/numbers/out-of-range.js"
"""What it throws is for programmers, as in kb/numbers: a page says a statement instead."""


SCRIPTS = sorted(
    path
    for path in DRESSING.rglob("*.js")
    if LIVE not in path.parents and path.relative_to(DRESSING).as_posix() != OUT_OF_RANGE
)


def read_by_people(text: str) -> Iterator[str]:
    """Yield each text of a script that looks as if it were for a person."""
    for form in (_COMMENT, _THROWN, _PATTERN):
        text = form.sub(" ", text)
    for found in _TEXT.finditer(text):
        words = found[1] or found[2] or _FILLED.sub("\0", found[3] or "")
        if words.startswith("<!doctype"):
            words = _TAG.sub(" ", words)
        if words in NAMES or _CLASSES.fullmatch(words) or _SOURCE_OF_A_PATTERN.search(words):
            continue
        if _TWO_WORDS.search(words) or _JOINS.search(words) or _BEGINS_LARGE.search(words):
            yield found[0]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.relative_to(DRESSING).as_posix())
def test_a_script_says_nothing_that_no_catalogue_holds(path: Path) -> None:
    assert list(read_by_people(path.read_text("utf-8"))) == []


@pytest.mark.parametrize(
    "text",
    [
        'key.textContent = "Check now";',
        "key.textContent = 'change it';",
        'key.textContent = "Close";',
        "says.append(`${count} of them, see there`);",
        'if (wrong) throw new RangeError("no such thing"); say("Not on this phone");',
        'const address = "https://a.b/c"; say("not there");',
        "say(` at ${figure}`);",
        "say(`${low} to ${high}`);",
        'const PLAIN = /"/; say("not there");',
    ],
)
def test_words_are_found_however_they_are_written(text: str) -> None:
    assert len(list(read_by_people(text))) == 1


@pytest.mark.parametrize(
    "text",
    [
        'throw new RangeError(`the catalogue has no ${form} of "${id}"`);',
        '// It says "Check now" here.',
        '/** @param {string} words such as "Check now" */',
        'el("p", "ohm-key ohm-tick-finish");',
        'inWords("copy.check");',
        'if (key !== "Escape") return;',
        "const id = `${section}.${name} `;",
    ],
)
def test_what_is_for_no_reader_is_left_alone(text: str) -> None:
    assert list(read_by_people(text)) == []
