"""Words that YAML takes away or adds without a word of warning: comments, curly quotes."""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

_COMMENT = re.compile(r"\s+#(?P<rest>[^\s#].*)")
_CURLY = "“”„‟‘’‚«»"

Trap = tuple[int, int, str, str, str]
"""Line and column, both from 1, the rule, what happens, and what would mend it."""


def traps(event: yaml.ScalarEvent, *, line: str) -> Iterator[Trap]:
    """Yield what a plain value loses or keeps that was not meant.

    Parameters
    ----------
    event : yaml.ScalarEvent
        A value without quotes.
    line : str
        The line on which it ends.
    """
    curly = event.value[:1] in _CURLY and event.value
    if "#" not in line and not curly:
        return
    start, end = event.start_mark, event.end_mark
    if start is None or end is None:
        return
    # The parser in C counts the spaces after a value to it, the one in Python does not.
    column = len(line[: end.column].rstrip())
    found = _COMMENT.match(line, column)
    if found:
        at = found.start("rest") - 1
        yield (
            end.line + 1,
            at + 1,
            "comment",
            f"'#{_short(found['rest'])}' is a comment, not text",
            "put the whole text in quotes; or, for a comment, write a space after '#'",
        )
    if curly:
        yield (
            start.line + 1,
            start.column + 1,
            "curly-quote",
            f"'{event.value[0]}' does not quote here: it becomes part of the text",
            "write straight quotes, or none",
        )


def _short(text: str) -> str:
    text = text.rstrip()
    return text if len(text) <= 24 else text[:23].rstrip() + "…"
