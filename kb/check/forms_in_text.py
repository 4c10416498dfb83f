"""Try forms on a text, each of them where a word that it cannot do without is there."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

Found = Iterator[tuple[str, int, int]]
Form = tuple[str, tuple[str, ...], re.Pattern[str]]
"""What it is, what a text must hold, folded, before it is tried, and the form."""


def found_by(text: str, *, forms: Sequence[Form]) -> Found:
    """Yield (what it looks like, start, end) of each form; what it calls a name has a capital."""
    # Ten thousand entries have a hundred thousand lines, and few of these words.
    folded = text.casefold()
    for what, needs, form in forms:
        if any(map(folded.__contains__, needs)):
            for found in form.finditer(text):
                name = found.groupdict().get("name")
                if name is None or name[0].isupper():
                    yield what, *found.span()
