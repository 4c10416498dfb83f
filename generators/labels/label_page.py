"""Sheets of stickers as one page that any browser prints at true size."""

from __future__ import annotations

from collections.abc import Sequence

from kb.label_sheets import PAPERS_MM, LabelSheet, NotASheet
from kb.site_folder import PRINT_SIGN
from kb.words.catalogue import template
from kb.words.phrase import in_words

from ..html import Html, el, join
from ..paper import SIZES
from .sticker import Sticker, sticker

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_METAS = (
    '<meta charset="utf-8">'
    f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    f'<meta name="generator" content="{PRINT_SIGN}">'
)
_STYLE = """\
@page { size: @SIZE@; margin: 0; }
* { box-sizing: border-box; margin: 0; padding: 0; }
body { font-family: system-ui, sans-serif; line-height: 1.2; color: #000; background: #fff; }
.sheet { position: relative; width: @WIDE@mm; height: @HIGH@mm; overflow: hidden; }
.sheet { break-after: page; }
.sheet:last-child { break-after: auto; }
.at { position: absolute; width: @LABEL_WIDE@mm; height: @LABEL_HIGH@mm; overflow: hidden; }
.in { display: flex; align-items: center; height: 100%; }
.in svg { flex: none; }
.words { min-width: 0; padding-right: 1.5mm; overflow-wrap: anywhere; }
.name { font-weight: 700; }
.way { font-family: ui-monospace, monospace; letter-spacing: -0.02em; }
.note { max-width: 60ch; padding: 1rem; font-size: 1rem; }
@media screen { .at { outline: 1px dashed #888; } .sheet { border-bottom: 3px solid #000; } }
@media print { .note { display: none; } }
"""


def label_page(stickers: Sequence[Sticker], *, sheet: LabelSheet, first: int) -> str:
    """Return the page, whole and asking for nothing.

    Parameters
    ----------
    stickers : sequence of Sticker
    sheet : LabelSheet
    first : int
        The place of the first one on its sheet, counted from 1 row by row: those before it were
        used already.

    Raises
    ------
    NotASheet, TooLong, TooManyWords
    """
    if not 1 <= first <= sheet.stickers:
        raise NotASheet(f"the sheet has the places 1 to {sheet.stickers}: there is no {first}")
    filled: list[Sticker | None] = [*([None] * (first - 1)), *stickers]
    sheets = [
        _sheet(filled[start : start + sheet.stickers], sheet=sheet)
        for start in range(0, len(filled), sheet.stickers)
    ]
    title = in_words("labels.title")
    head = el("head", Html(_METAS), el("title", title), el("style", Html(_style(sheet))))
    body = el("body", el("p", in_words("labels.note"), class_="note"), sheets)
    page = el("html", head, body, lang=template("language.code"))
    return f"<!doctype html>\n{page}\n"


def sheets_needed(stickers: int, *, sheet: LabelSheet, first: int) -> int:
    """Return how many sheets some stickers take."""
    return -(-(first - 1 + stickers) // sheet.stickers)


def _sheet(some: Sequence[Sticker | None], *, sheet: LabelSheet) -> Html:
    at = [
        el("div", sticker(content, sheet=sheet), class_="at", style=f"left:{x:.2f}mm;top:{y:.2f}mm")
        for content, (x, y) in zip(some, sheet.places(), strict=False)
        if content is not None
    ]
    return el("div", join(at), class_="sheet")


def _style(sheet: LabelSheet) -> str:
    wide, high = PAPERS_MM[sheet.paper]
    filled = {
        "SIZE": SIZES[sheet.paper],
        "WIDE": f"{wide:g}",
        # A hair less than the paper: a browser that rounds up would begin another sheet.
        "HIGH": f"{high - 0.1:g}",
        "LABEL_WIDE": f"{sheet.wide:g}",
        "LABEL_HIGH": f"{sheet.high:g}",
    }
    style = _STYLE
    for name, value in filled.items():
        style = style.replace(f"@{name}@", value)
    return style
