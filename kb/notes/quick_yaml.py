"""Read the plain part of YAML, in which nearly all entries are written: their values alone.

A file that holds anything else is left to the parser, so what is read here is what it would read:
keys of letters and figures; texts of one line, plain or in quotes without an escape, or folded by
`>-`; brackets that close on their line; lists and blocks by their indentation. No remarks, signs or
second documents.
A test holds both to each other, on thousands of files that were changed by chance.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_KEY = r"-?[^\W_][\w.\-]*(?: [\w.\-]+)*"
_ROWS = re.compile(rf"^( *)((- +)?(?:({_KEY}):(?: +|$))?(.*))$", re.MULTILINE)
"""Each line as indentation and words, and these as hyphen, key, and what is behind them."""
_FIRST = r"(?:[^\W_]|[(+./]|-(?=[^\W_]))"
_PLAIN = re.compile(_FIRST)
_IN_BRACKETS = re.compile(
    rf" *(?:({_KEY}): +(?=[^\s,\]}}])|(?:({_FIRST}[^,\[\]{{}}:?#]*)|\"([^\"\\]*)\"|'([^']*)')"
    r" *(?=[,\]}])|([\[{])|([\]}])|(,))"
)
"""A key, a text that ends where it should, or a sign; a text in three ways."""
_NOT_PLAIN = re.compile("[\t\r\x85\u2028\u2029\ufeff]| #|^---|^\\.\\.\\.|^%", re.MULTILINE)
_HEAD = re.compile(r"(?:#[^\n]*\n|\n)*")
"""Remarks above an entry, such as the line for an editor."""
_MOST_BRACKETS = 5
_MOST_DEEP = 9

_Row = tuple[str, str, str, str, str]


class NotPlain(Exception):
    """The parser has to read it."""


def quick_value(text: str) -> tuple[dict[str, object], bool]:
    """Return what a file holds, and whether some of it is nothing.

    Raises
    ------
    NotPlain
        When there is anything in it that is not plain; it may be YAML or not.
    """
    head = _HEAD.match(text)
    text = text[head.end() :] if head is not None else text
    if _NOT_PLAIN.search(text):
        raise NotPlain
    rows: list[_Row] = _ROWS.findall(text.rstrip("\n"))
    filled = [row for row in rows if row[1]]
    reading = _Reading(filled, dense=len(filled) == len(rows))
    block = reading.block(0, deep=0)
    if reading.at < len(reading.rows):
        raise NotPlain
    return block, reading.gaps


class _Reading:
    """Goes over the rows of a file once."""

    def __init__(self, rows: Sequence[_Row], *, dense: bool) -> None:
        self.rows = rows
        self.dense = dense
        """No line between them is empty."""
        self.at = 0
        self.gaps = False

    def block(self, indent: int, *, deep: int) -> dict[str, object]:
        """Return the pairs whose keys stand at an indentation."""
        block: dict[str, object] = {}
        rows, last = self.rows, len(self.rows)
        if deep > _MOST_DEEP:
            raise NotPlain
        while self.at < last:
            before, _, hyphen, key, rest = rows[self.at]
            if len(before) != indent or hyphen:
                break
            self.at += 1
            self._pair(block, key, rest, indent=indent, deep=deep)
        if not block:
            raise NotPlain
        return block

    def _pair(
        self, block: dict[str, object], key: str, rest: str, *, indent: int, deep: int
    ) -> None:
        if not key or key in block:
            raise NotPlain
        if rest == ">-":
            block[key] = self._folded(indent)
        elif rest:
            block[key] = self._text(rest, indent=indent)
        elif self.at < len(self.rows):
            before, _, hyphen, _, _ = self.rows[self.at]
            further = len(before)
            if hyphen and further >= indent:
                block[key] = self._list(further, deep=deep + 1)
            elif further > indent:
                block[key] = self.block(further, deep=deep + 1)
            else:
                self.gaps, block[key] = True, None
        else:
            self.gaps, block[key] = True, None

    def _list(self, indent: int, *, deep: int) -> list[object]:
        """Return the items whose hyphens stand at an indentation."""
        items: list[object] = []
        rows, last = self.rows, len(self.rows)
        if deep > _MOST_DEEP:
            raise NotPlain
        while self.at < last:
            before, _, hyphen, key, rest = rows[self.at]
            if len(before) != indent or not hyphen:
                break
            self.at += 1
            if key:
                inner = indent + len(hyphen)
                block: dict[str, object] = {}
                self._pair(block, key, rest, indent=inner, deep=deep + 1)
                if self.at < last and len(rows[self.at][0]) == inner and not rows[self.at][2]:
                    for name, value in self.block(inner, deep=deep + 1).items():
                        if name in block:
                            raise NotPlain
                        block[name] = value
                items.append(block)
            else:
                items.append(self._text(rest, indent=indent))
        return items

    def _folded(self, indent: int) -> str:
        """Return the text of the lines further in, which stand below each other."""
        first, lines = self.at, []
        while self.at < len(self.rows) and len(self.rows[self.at][0]) > indent:
            before, words, _, _, _ = self.rows[self.at]
            if before != self.rows[first][0]:
                raise NotPlain
            lines.append(words)
            self.at += 1
        if not lines or not self.dense:
            raise NotPlain
        return " ".join(lines)

    def _text(self, rest: str, *, indent: int) -> object:
        """Return what stands behind a key or a hyphen; it ends with its line."""
        if self.at < len(self.rows) and len(self.rows[self.at][0]) > indent:
            raise NotPlain  # it goes on
        sign = rest[:1]
        if sign in ("[", "{"):
            return _bracketed(rest)
        rest = rest.rstrip(" ")
        if sign in ('"', "'"):
            inner = rest[1:-1]
            if len(rest) < 2 or rest[-1] != sign or sign in inner or "\\" in inner:
                raise NotPlain
            return inner
        if not _PLAIN.match(rest) or rest[-1] == ":" or ": " in rest:
            raise NotPlain
        return rest


def _bracketed(rest: str) -> object:
    """Return what stands in brackets, which close at the end of their line."""
    rest = rest.rstrip(" ")
    value, end = _opened(rest, 1, sign=rest[0], deep=1)
    if end != len(rest):
        raise NotPlain
    return value


def _opened(rest: str, at: int, *, sign: str, deep: int) -> tuple[object, int]:
    """Return what stands behind an opening bracket, and where it is closed again."""
    if deep > _MOST_BRACKETS:
        raise NotPlain
    items: list[object] = []
    block: dict[str, object] = {}
    closing = "]" if sign == "[" else "}"
    following = _IN_BRACKETS.match
    found = following(rest, at)
    if found is not None and found[6] == closing:
        return (items if sign == "[" else block), found.end()
    while True:
        key = ""
        if sign == "{":
            key = found[1] if found is not None and found.lastindex == 1 else ""
            if found is None or not key or key in block:
                raise NotPlain
            found = following(rest, found.end())
        if found is None:
            raise NotPlain
        kind, at = found.lastindex or 0, found.end()
        if kind in (2, 3, 4):
            value: object = found[kind].rstrip(" ") if kind == 2 else found[kind]
        elif kind == 5:
            value, at = _opened(rest, at, sign=found[5], deep=deep + 1)
        else:
            raise NotPlain
        if sign == "{":
            block[key] = value
        else:
            items.append(value)
        found = following(rest, at)
        if found is not None and found[6] == closing:
            return (items if sign == "[" else block), found.end()
        if found is None or found.lastindex != 7:
            raise NotPlain
        found = following(rest, found.end())
