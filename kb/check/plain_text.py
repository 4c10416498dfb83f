"""Bring a text to the signs that a search expects, and know where each stood in the original."""

from __future__ import annotations

import functools
import html
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

_LONGEST_TAG = 300
_TAG = rf"<!--|-->|<(?!(?:at|dot)\b)/?[A-Za-z][^<>]{{0,{_LONGEST_TAG}}}>"
_ENTITY = r"&(?:#\d{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z]{2,12});"
_MARKUP = re.compile(
    rf"(?P<gone>{_TAG}|\*+|`+|~~|\\(?=[^\w\s]))|(?P<entity>{_ENTITY})|(?P<percent>%[2-7][0-9A-Fa-f])"
)
"""What a reader does not see as it is written: bounded, so that a long word costs no more."""
_DOTS = "·•‧∙․。"


@dataclass(frozen=True)
class PlainText:
    """A text in plain signs, and for each of them the place it has in the original."""

    text: str
    original: str
    starts: list[int] | None = None
    """None where both are the same."""

    def original_span(self, start: int, *, end: int) -> tuple[int, int]:
        """Return from where to where in the original a piece of the plain text stands."""
        if self.starts is None:
            return start, end
        return self.starts[start], self.starts[end - 1] + 1


def as_written(text: str) -> PlainText:
    """Return a text with plain spaces, dashes and digits; nothing is taken for markup."""
    if text.isascii() and "\t" not in text:
        return PlainText(text, text)
    plain = text.translate(_PLAIN_SIGNS)
    if len(plain) == len(text):  # one sign for each: all stand where they stood
        return PlainText(plain, text)
    return _plain(text, pieces=((i, sign) for i, sign in enumerate(text)))


def as_read(text: str) -> PlainText | None:
    """Return a text as a browser shows it, without tags and marks; None where that is the same."""
    if not _MARKUP.search(text):
        return None
    return _plain(text, pieces=_shown(text))


def _shown(text: str) -> Iterator[tuple[int, str]]:
    done = 0
    for found in _MARKUP.finditer(text):
        yield from enumerate(text[done : found.start()], start=done)
        done = found.end()
        if found["entity"]:
            yield from ((found.start(), sign) for sign in html.unescape(found["entity"]))
        elif found["percent"]:
            yield found.start(), chr(int(found["percent"][1:], 16))
    yield from enumerate(text[done:], start=done)


def _plain(text: str, *, pieces: Iterator[tuple[int, str]]) -> PlainText:
    signs, starts = [], []
    for start, sign in pieces:
        plain = sign if sign.isascii() and sign != "\t" else _plain_sign(sign)
        if plain:
            signs.append(plain)
            starts.append(start)
    return PlainText("".join(signs), text, starts)


@functools.lru_cache(maxsize=4096)
def _plain_sign(sign: str) -> str:
    """Return what a sign is to a search: one sign, or none where nobody sees it."""
    kind = unicodedata.category(sign)
    if kind == "Cf":
        return ""
    if kind == "Zs" or sign == "\t":
        return " "
    if kind == "Pd" or sign in "−⁻﹣":
        return "-"
    if kind == "Nd":
        return str(unicodedata.decimal(sign))
    if sign in _DOTS:
        return "."
    # Wide and small forms; a superscript (kind No) stays what it is: m² is no number.
    same = unicodedata.normalize("NFKC", sign)
    return same if kind != "No" and len(same) == 1 and same.isascii() else sign


class _PlainSigns(dict[int, str]):
    """What each sign is to a search, by its number; worked out when it is met."""

    def __missing__(self, number: int) -> str:
        sign = chr(number)
        plain = sign if sign.isascii() and sign != "\t" else _plain_sign(sign)
        self[number] = plain
        return plain


_PLAIN_SIGNS = _PlainSigns()
