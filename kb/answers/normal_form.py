"""The one form in which codes, marks and words are compared, and what is only close to it.

`K4-2`, `k4 2` and `Ｋ４２` are one; `012` and `12` are two. Mirrored by answers/normal-form.js.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

SHORTEST_SLIP = 3
"""One letter of fewer than these is another word, no slip."""
ALIKE: Mapping[str, str] = {"o": "0", "i": "1", "l": "1", "s": "5", "b": "8"}
"""What a display of seven strokes shows alike, in normal form."""
SIGNS: Mapping[str, str] = {
    **dict.fromkeys("‐‒–—―−⁃", "-"),
    **dict.fromkeys("×✕✖⨯", "x"),
    "ß": "ss",
    "ς": "σ",
}
"""Signs that mean another one; those with a compatible form, such as full-width, come before."""

_PLAIN_SIGNS = {ord(sign): meant for sign, meant in SIGNS.items()}
_CONTROLS = dict.fromkeys([*range(33), 127], " ")
"""ASCII has its own quick way through all three functions below; a test holds both alike."""
_ASCII_SIGNS = {place: None for place in range(128) if not chr(place).isalnum()}
_PARTED = re.compile(r"[^\w]|_")
_LOOKS = {ord(sign): shown for sign, shown in ALIKE.items()}


def plain_text(text: str) -> str:
    """Return a text in small plain letters and signs, one space where anything parted words."""
    if text.isascii():
        return " ".join(text.lower().translate(_CONTROLS).split())
    folded = unicodedata.normalize("NFKD", text).lower().translate(_PLAIN_SIGNS)
    spaced = "".join(" " if unicodedata.category(sign)[0] in "ZC" else sign for sign in folded)
    return " ".join(piece for piece in spaced.split(" ") if piece)


def normal_form(text: str) -> str:
    """Return letters and digits only; a code of other signs only, such as `--`, keeps them."""
    plain = plain_text(text)
    if plain.isascii():
        kept = plain.translate(_ASCII_SIGNS)
    else:
        kept = "".join(sign for sign in plain if unicodedata.category(sign)[0] in "LN")
    return kept or plain.replace(" ", "")


def words_of(text: str) -> list[str]:
    """Return the words of a text in normal form, in order; what joins two words parts them too."""
    plain = plain_text(text)
    return [word for word in _PARTED.split(plain if plain.isascii() else unmarked(plain)) if word]


def unmarked(plain: str) -> str:
    """Return a plain text without its accents: `fünf` is `funf`."""
    return "".join(sign for sign in plain if unicodedata.category(sign)[0] != "M")


def look_of(form: str) -> str:
    """Return a normal form as a display of seven strokes shows it: `n0` for `no` and `n0`."""
    return form.translate(_LOOKS)


def one_slip(form: str, *, other: str) -> bool:
    """Return whether one wrong, missing, extra or swapped sign makes `other` of it."""
    if form == other or abs(len(form) - len(other)) > 1:
        return False
    pairs = zip(form, other, strict=False)
    i = next((i for i, (a, b) in enumerate(pairs) if a != b), min(len(form), len(other)))
    if len(form) < len(other):
        return form[i:] == other[i + 1 :]
    if len(form) > len(other):
        return form[i + 1 :] == other[i:]
    swapped = other[i + 1 : i + 2] + other[i]
    return form[i + 1 :] == other[i + 1 :] or form[i:] == swapped + other[i + 2 :]
