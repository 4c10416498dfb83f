"""Name what git leaves in a file when two keepers changed the same lines."""

from __future__ import annotations

import re
from collections.abc import Iterator

from .problem import Problem

_MARK = re.compile(r"(<{7}|\|{7}|={7}|>{7})(?: .*)?")
_HINT = "keep the right lines, delete the others and the marks (<<<<<<<, =======, >>>>>>>)"


def conflicts(lines: list[str], *, file: str) -> Iterator[Problem]:
    """Yield a problem for each place that git could not merge, at its first mark.

    A line of seven equal signs alone is no conflict: it underlines a heading.
    """
    marks = [(i, found[1][0]) for i, line in enumerate(lines) if (found := _MARK.fullmatch(line))]
    open_at = middle = None
    for i, sign in marks:
        if sign == "<":
            open_at, middle = i, None
        elif sign in "|=" and open_at is not None:
            middle = (middle or (i, i))[0], i
        elif sign == ">":
            first = open_at if open_at is not None else i
            yield _problem(lines, file=file, first=first, middle=middle, last=i)
            open_at = middle = None
    if open_at is not None:
        yield _problem(lines, file=file, first=open_at, middle=middle, last=None)


def _problem(
    lines: list[str], *, file: str, first: int, middle: tuple[int, int] | None, last: int | None
) -> Problem:
    if middle is None or last is None or last == first:
        message, hint = "a mark that git left when it could not merge", "delete the line"
    else:
        message = (
            f"git could not merge this: {_rows(first + 1, middle[0])} one version, "
            f"{_rows(middle[1] + 1, last)} the other"
        )
        hint = _HINT
    return Problem(file, first + 1, 1, "conflict", message, hint, text=lines[first])


def _rows(start: int, end: int) -> str:
    """Return which lines lie between two marks, counted from 1; `start` and `end` from 0."""
    if end <= start:
        return "nothing is"
    return f"line {start + 1} is" if end - start == 1 else f"lines {start + 1} to {end} are"
