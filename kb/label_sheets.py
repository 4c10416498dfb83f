"""Sheets of stickers by their dimensions: where each sticker sits, to the tenth of a millimetre."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields

PAPERS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height of each paper (ISO 216; ANSI/ASME Y14.1, 8.5 × 11 in)."""


class NotASheet(ValueError):
    """The dimensions describe no sheet of stickers that fits on the paper."""


@dataclass(frozen=True, kw_only=True)
class LabelSheet:
    """A sheet of equal stickers in rows and columns; every length in millimetres.

    `left` and `top` lead from the paper's edge to the first sticker, `across` and `down` from one
    sticker's edge to the next one's.
    """

    paper: str
    columns: int
    rows: int
    wide: float
    high: float
    left: float
    top: float
    across: float
    down: float

    def __post_init__(self) -> None:
        if self.columns < 1 or self.rows < 1 or min(self.wide, self.high) <= 0:
            raise NotASheet("a sheet has a sticker at least, and a sticker has a width and height")
        if min(self.left, self.top) < 0 or self.across < self.wide or self.down < self.high:
            raise NotASheet("stickers may not overlap, nor begin outside the paper")
        wide, high = PAPERS_MM[self.paper]
        right = self.left + (self.columns - 1) * self.across + self.wide
        foot = self.top + (self.rows - 1) * self.down + self.high
        if right > wide + _SLACK or foot > high + _SLACK:
            raise NotASheet(
                f"the last sticker ends at {right:.1f} × {foot:.1f} mm, and {self.paper} is "
                f"{wide:.1f} × {high:.1f} mm"
            )

    @property
    def stickers(self) -> int:
        """How many are on it."""
        return self.columns * self.rows

    def places(self) -> Iterator[tuple[float, float]]:
        """Yield the upper left corner of each sticker, row by row."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield self.left + column * self.across, self.top + row * self.down


_SLACK = 0.05
"""Dimensions are printed to a tenth of a millimetre."""


def _sheet(
    paper: str, *, grid: tuple[int, int], size: tuple[float, float], gap: float
) -> LabelSheet:
    """Return a sheet whose block of stickers stands in the middle of the paper."""
    (columns, rows), (wide, high), (paper_wide, paper_high) = grid, size, PAPERS_MM[paper]
    return LabelSheet(
        paper=paper,
        columns=columns,
        rows=rows,
        wide=wide,
        high=high,
        left=(paper_wide - columns * wide - (columns - 1) * gap) / 2,
        top=(paper_high - rows * high) / 2,
        across=wide + gap,
        down=high,
    )


SHEETS = {
    "a4-2x4": _sheet("a4", grid=(2, 4), size=(99.1, 67.7), gap=2.5),
    "a4-2x7": _sheet("a4", grid=(2, 7), size=(99.1, 38.1), gap=2.5),
    "a4-3x7": _sheet("a4", grid=(3, 7), size=(63.5, 38.1), gap=2.5),
    "a4-3x8": _sheet("a4", grid=(3, 8), size=(70.0, 37.0), gap=0.0),
    "letter-2x3": _sheet("letter", grid=(2, 3), size=(101.6, 84.6), gap=4.8),
    "letter-2x5": _sheet("letter", grid=(2, 5), size=(101.6, 50.8), gap=4.8),
    "letter-3x10": _sheet("letter", grid=(3, 10), size=(66.7, 25.4), gap=3.1),
}
"""Columns × rows of sizes that stationers sell. From memory, no source: hold the first print, on
plain paper, against the sheet; one that differs is given by its own dimensions."""
USUAL = {"a4": "a4-3x7", "letter": "letter-2x5"}
"""The sheet that is taken on a paper when none is named."""

_GIVEN = re.compile(r"\s*([a-z]+)\s*=\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*[,;]?(?=\s|$)")
MEASURED = "columns=3 rows=7 wide=63.5 high=38.1 left=7.2 top=15.1 across=66 down=38.1"
"""A sheet as somebody measures it."""


def measured_sheet(text: str, *, paper: str) -> LabelSheet:
    """Return the sheet that somebody measured, written as `MEASURED` is.

    Raises
    ------
    NotASheet
        With what is missing or wrong.
    """
    end, given = 0, {}
    for found in _GIVEN.finditer(text):
        if text[end : found.start()].strip():
            break
        given[found[1]] = float(found[2].replace(",", "."))
        end = found.end()
    if text[end:].strip():
        raise NotASheet(f"'{text[end:].strip()}' is not understood; write it as: {MEASURED}")
    wanted = [field.name for field in fields(LabelSheet) if field.name != "paper"]
    unknown = [name for name in given if name not in wanted]
    missing = [name for name in wanted if name not in given]
    if unknown or missing:
        missed = f"missing: {', '.join(missing)}"
        fault = f"no such length: {', '.join(unknown)}" if unknown else None
        raise NotASheet(f"{fault or missed}; write it as: {MEASURED}")
    columns, rows = given.pop("columns"), given.pop("rows")
    if not columns.is_integer() or not rows.is_integer():
        raise NotASheet("columns and rows are whole numbers")
    return LabelSheet(paper=paper, columns=int(columns), rows=int(rows), **given)
