"""Which codes of a family are shown so, however somebody types it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from kb.check.codes import plain
from kb.model import Code
from kb.model.code import Blinks

_LONG = re.compile(r"(\d+)\s*(?:l\b|l(?=\d)|long)", re.IGNORECASE)
_SHORT = re.compile(r"(\d+)\s*(?:s\b|short)", re.IGNORECASE)
_COUNT = re.compile(r"(\d+)\s*(?:x|×|times|blinks?|flash(?:es)?)?", re.IGNORECASE)


def codes_shown_as(asked: str, *, codes: Iterable[Code]) -> list[Code]:
    """Return the codes shown as `asked`: text or number however spaced, or a blink pattern.

    Parameters
    ----------
    asked : str
        `k4-2`, `K42`, `4 long 2 short`, `4L2S`; `3 blinks`, `3x` or `3` where none is long.
    codes : iterable of Code
        Those of one family.
    """
    pattern = _blinks(asked)
    return [
        code
        for code in codes
        if any(
            pattern == (way.blinks.long, way.blinks.short)
            if isinstance(way.blinks, Blinks)
            else plain(way.spoken()) == plain(asked)
            for way in code.shown
        )
    ]


def _blinks(asked: str) -> tuple[int, int] | None:
    count = _COUNT.fullmatch(asked.strip())
    if count:
        return (0, int(count[1]))
    long, short = _LONG.search(asked), _SHORT.search(asked)
    if long is None and short is None:
        return None
    return (int(long[1]) if long else 0, int(short[1]) if short else 0)
