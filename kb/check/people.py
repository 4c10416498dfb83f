"""A case goes to every phone of the team: it holds nobody's name, number or address."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.model import Case
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

# Possessive, from a word's beginning only: one of 40 kB would be tried at each of its letters.
_MAIL = re.compile(r"(?<![\w.+-])[\w.+-]++@[\w-]++(\.[\w-]++)++")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
# As people write them: +44 161 496 0000, 0161 496 0000, (0161) 4960000, 555-010-0199.
_PHONE = re.compile(
    r"(?<![\w.,-])(\+\d|\(?0\d|\(\d{3}\)|\d{3}-\d{3}-\d{4}(?!\w))(?:[ /()-]{0,2}\d)*(?![\w-])"
)
_PHONE_DIGITS = 9
_TITLED = re.compile(r"\b(Mr|Mrs|Ms|Miss|Herr|Frau|Mme)\b\.? [A-Z]\w+")
_STREET = re.compile(
    r"\b\d+[a-z]? ([A-Z]\w+ )+(Street|Road|Avenue|Lane|Close|Drive|Square|Terrace)\b"
)


def cases_name_nobody(notes: Notes) -> Iterator[Problem]:
    """Yield what must not be published in a case: addresses, telephone numbers, people."""
    for case in notes.of(Case).values():
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
    for found in _MAIL.finditer(text):
        yield "an e-mail address", found[0]
    for found in _PHONE.finditer(_DATE.sub("", text)):
        if sum(sign.isdigit() for sign in found[0]) >= _PHONE_DIGITS:
            yield "a telephone number", found[0].strip()
    for found in _TITLED.finditer(text):
        yield "a person's name", found[0]
    for found in _STREET.finditer(text):
        yield "a street address", found[0]
