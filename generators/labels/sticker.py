"""One sticker: the code on its left, the machine in words on its right, as large as it goes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.label_sheets import LabelSheet

from ..html import Html, el, join
from .qr_code import QrCode, held_to

PAD_MM = 1.5
"""Between the words and the edges: printers pull paper askew by as much (common practice)."""
MOST_SIDE_MM = 32.0
"""A code is not larger than that, however large the sticker."""
CODE_SHARE = 0.5
"""Of a sticker's width, at most, is the code's with the white around it."""
_POINT_MM = 25.4 / 72
_SIZES_PT = (13, 12, 11, 10, 9, 8, 7)
_WIDE_EM = 0.6
"""A sign's width in its own size, on the safe side for a bold sans-serif."""
_LINE_EM = 1.22


class TooManyWords(ValueError):
    """The words do not fit beside the code, in letters that can be read."""


@dataclass(frozen=True)
class Sticker:
    """What stands on a sticker."""

    code: QrCode
    name: str
    lines: tuple[str, ...]
    """Room, number, serial: what tells this machine from its like."""
    team: str

    @property
    def words(self) -> tuple[tuple[str, float, str], ...]:
        """Each piece: its text, its size as a share of the name's, its class."""
        shown = self.code.address.partition("://")[2]
        return (
            (self.name, 1.0, "name"),
            *((line, 0.85, "line") for line in self.lines),
            (shown.replace("/", "/ "), 0.62, "way"),
            (self.team, 0.7, "team"),
        )


def sticker(content: Sticker, *, sheet: LabelSheet) -> Html:
    """Return a sticker's picture and words, to stand at its place on the sheet.

    Raises
    ------
    TooLong, TooManyWords
    """
    side_mm = side_of(content.code, sheet=sheet)
    held_to(content.code, side_mm=side_mm)
    room_mm = sheet.wide - code_room(content.code, side_mm=side_mm) - PAD_MM
    size_pt = _largest(content, wide_mm=room_mm, high_mm=sheet.high - 2 * PAD_MM)
    words = [
        el(
            "p",
            _breaking(text) if class_ == "way" else text,
            class_=class_,
            style=f"font-size:{size_pt * share:.1f}pt",
        )
        for text, share, class_ in content.words
    ]
    return el("div", content.code.drawn(side_mm), el("div", words, class_="words"), class_="in")


def _breaking(address: str) -> Html:
    """Return an address that stands in pieces as one that breaks between them."""
    return join([join(part) for part in address.split()], Html("<wbr>"))


def side_of(code: QrCode, *, sheet: LabelSheet) -> float:
    """Return how wide the code is on a sheet's stickers, in mm, without the white around it."""
    return min(code.side_in(min(sheet.high, sheet.wide * CODE_SHARE)), MOST_SIDE_MM)


def code_room(code: QrCode, *, side_mm: float) -> float:
    """Return the code's width with the white around it, in mm."""
    return side_mm * side_mm / code.side_in(side_mm)


def _largest(content: Sticker, *, wide_mm: float, high_mm: float) -> float:
    for size_pt in _SIZES_PT:
        if _high_mm(content, size_pt=size_pt, wide_mm=wide_mm) <= high_mm:
            return size_pt
    raise TooManyWords(
        f"the words do not fit beside the code in letters of {_SIZES_PT[-1]} points: shorten "
        f"{' / '.join((content.name, *content.lines))}, or take a larger sticker with --sheet"
    )


def _high_mm(content: Sticker, *, size_pt: float, wide_mm: float) -> float:
    """Return how high the words stand in letters of a size, lines that must break counted."""
    high = 0.0
    for text, share, _ in content.words:
        em_mm = size_pt * share * _POINT_MM
        signs = max(int(wide_mm / (em_mm * _WIDE_EM)), 1)
        high += _lines(text, signs=signs) * em_mm * _LINE_EM
    return high


def _lines(text: str, *, signs: int) -> int:
    """Return how many lines a text takes of so many signs, broken between words where it can be."""
    lines, at = 1, 0
    for word in text.split():
        if at and at + 1 + len(word) <= signs:
            at += 1 + len(word)
            continue
        lines += 1 if at else 0
        lines += math.ceil(len(word) / signs) - 1
        at = len(word) % signs or len(word)
    return lines
