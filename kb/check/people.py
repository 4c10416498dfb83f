"""A case goes to every phone of the team: it holds nobody's name, number or address."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.model import Case
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

from .private_words import private_in

_STREET_DE = re.compile(r"\b[A-ZÄÖÜ][\wäöüß-]{2,40}?(?:weg|platz) \d{1,4}[a-z]?\b")
"""In notes these are ways and places of a machine too."""


def cases_name_nobody(case: Case, *, notes: Notes) -> Iterator[Problem]:
    """Yield what must not be published in a case: addresses, telephone numbers, people."""
    yield from named_in(
        notes.texts[("cases", case.id)],
        why="a case never names a customer",
        hint="take it out: the job's paperwork is the place for it",
    )


def named_in(read: YamlText, *, why: str, hint: str) -> Iterator[Problem]:
    """Yield a problem for whatever in a file is about somebody, with why it may not stand there."""
    for path, text in read.texts():
        for what, found in personal(text):
            yield read.problem(
                path, "personal", f"'{found}' looks like {what}, and {why}", hint=hint
            )


def personal(text: str) -> Iterator[tuple[str, str]]:
    """Yield (what it looks like, the words) for whatever in a text is about somebody."""
    for what, start, end in private_in(text):
        yield what, text[start:end]
    for found in _STREET_DE.finditer(text):
        yield "a street address", found[0]
