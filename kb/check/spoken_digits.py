"""Digits that are said in words: one list for all who look for numbers in a text."""

from __future__ import annotations

import re
from itertools import pairwise

_ENGLISH = "zero|one|two|three|four|five|six|seven|eight|nine"
_GERMAN = "null|eins|zwei|drei|vier|fünf|sechs|sieben|acht|neun"
_TWICE = r"(?:double|triple|treble|doppel)"
SPOKEN_DIGIT = rf"(?:{_TWICE}[ -]?)?(?:{_ENGLISH}|{_GERMAN}|oh|nought|naught|zwo)"
"""One digit in words, or two or three alike."""
COUNT = {word: i for words in (_ENGLISH, _GERMAN) for i, word in enumerate(words.split("|"))} | {
    "oh": 0,
    "nought": 0,
    "naught": 0,
    "zwo": 2,
}
"""Word → its digit."""
SPOKEN_NUMBER = re.compile(
    rf"\b{SPOKEN_DIGIT}(?:[ ,.-]{{1,2}}(?:{SPOKEN_DIGIT}|\d{{1,6}})\b){{4,20}}", re.IGNORECASE
)
_TIMES = re.compile(_TWICE, re.IGNORECASE)
_FEWEST_SPOKEN, _FEWEST_DIGITS = 4, 7


def is_spoken_number(words: str) -> bool:
    """Return whether words are the digits of a number, and not somebody who counts."""
    pieces = re.split(r"[ ,.-]+", _TIMES.sub(" twice ", words.casefold()).strip())
    counts = [COUNT[piece] for piece in pieces if piece in COUNT]
    digits = len(counts) + pieces.count("twice")
    digits += sum(len(piece) for piece in pieces if piece.isdigit())
    steps = {after - before for before, after in pairwise(counts)}
    return len(counts) >= _FEWEST_SPOKEN and digits >= _FEWEST_DIGITS and len(steps) > 1
