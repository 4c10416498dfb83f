"""Where the error may be, as a picture of a terminal: one bar, and the limits under it."""

from __future__ import annotations

import math

from kb.answers.reading_excluded import Excluded
from kb.numbers.rounding import format_k
from kb.words.catalogue import name_of

_WIDE = 41
"""Characters from end to end: odd, so that nothing off has one of its own."""
_ROOM = 1.15


def strip_words(excluded: Excluded | None, *, unit: str) -> str:
    """Return the strip, each line named: what is read with its bounds, then each limit.

    A limit far beyond the bar is left to its sentence: it would press all else together.
    """
    if excluded is None or not excluded.limits:
        return ""
    near = [limit for limit in excluded.limits if limit.name != "code"]
    ends_k = [limit.high_k or 0.0 for limit in near]
    reach_k = _ROOM * max(-excluded.low_k, excluded.high_k, *ends_k)
    bar = _line(excluded.low_k, excluded.high_k, reach_k=reach_k, marks="[=]")
    at = _place(excluded.error_k, reach_k=reach_k)
    rows = [("may be", f"{bar[:at]}o{bar[at + 1 :]}", "95 %")]
    for limit in excluded.limits:
        size_k = min(abs(k) for k in (limit.low_k, limit.high_k) if k is not None)
        if size_k > reach_k:
            continue
        ends = _ends(limit.low_k, limit.high_k, reach_k=reach_k)
        size = format_k(size_k, unit="K" if unit == "C" else "F")
        both = "± " if None not in (limit.low_k, limit.high_k) else ""
        rows.append((name_of("strip", name=limit.name), ends, f"{both}{size}"))
    return "\n".join(f"  {name:<8} {line}  {size}".rstrip() for name, line, size in rows)


def _place(error_k: float, *, reach_k: float) -> int:
    share = min(max(error_k / reach_k, -1.0), 1.0)
    return math.floor((share + 1) / 2 * (_WIDE - 1) + 0.5)


def _line(low_k: float, high_k: float, *, reach_k: float, marks: str) -> str:
    low, high = _place(low_k, reach_k=reach_k), _place(high_k, reach_k=reach_k)
    inner = marks[1] * max(high - low - 1, 0)
    return f"{' ' * low}{marks[0]}{inner}{marks[2]}".ljust(_WIDE)[:_WIDE]


def _ends(low_k: float | None, high_k: float | None, *, reach_k: float) -> str:
    """Return a limit: its ends, and nothing off in the middle."""
    line = [" "] * _WIDE
    line[_WIDE // 2] = "0"
    for end_k, mark in ((low_k, "|"), (high_k, "|")):
        if end_k is not None and abs(end_k) <= reach_k:
            line[_place(end_k, reach_k=reach_k)] = mark
    return "".join(line)
