"""Warn of what nothing leads to: it is carried on every phone and nobody ever sees it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.catalog import Catalog
from kb.model import Family, Lesson
from kb.model.shape import references
from kb.model.words import ID_PATTERN
from kb.notes.load import Notes
from kb.notes.problem import Problem

ID_WORD = re.compile(rf"\b(?:{ID_PATTERN})".replace("(-", "(?:-"))

NEEDED = {
    "sources": "cite it where its facts stand, or delete it",
    "curves": "name it in a sensor, or delete it",
    "methods": "name it in a sensor, a part or a suspect, or delete it",
    "instruments": "name it in team.yaml, a case or a source, or delete it",
    "parts": "name it in a plug, a suspect or a case, or delete it",
    "drawings": "name it in its family, or pin a sensor on it",
}
"""Kinds that are there for others, and what to do with one that nobody names."""


def everything_is_used(notes: Notes) -> Iterator[Problem]:
    """Warn of each entry that nothing names, and each family that holds nothing."""
    named = Catalog(notes).named()
    if notes.team is not None:
        named |= {(kind, entry_id) for _, kind, entry_id in references(notes.team)}
    for lesson in notes.of(Lesson).values():
        for read in lesson.read:
            kind, _, entry_id = read.entry.partition("/")
            named.add((kind, entry_id))
    perhaps = _words_of_broken(notes)
    for kind, hint in NEEDED.items():
        for entry in notes.of_kind(kind).values():
            if (kind, entry.id) not in named and entry.id not in perhaps:
                yield notes.problem(
                    entry,
                    ("name",),
                    "orphan",
                    f"nothing names this {entry.noun}",
                    hint=hint,
                    warning=True,
                )
    lived_in = {
        family
        for kind in ("sensors", "codes")
        for entry in notes.of_kind(kind).values()
        for family in entry.family_ids
    }
    for family in notes.of(Family).values():
        if family.id not in lived_in and family.id not in perhaps:
            yield notes.problem(
                family,
                ("name",),
                "orphan",
                "this family has no sensor and no code",
                hint="write its sensors and codes, or delete it",
                warning=True,
            )


def _words_of_broken(notes: Notes) -> set[str]:
    """Return every word of the files that could not be read: any may be the id that is missed."""
    texts = [notes.texts[key] for key in notes.broken]
    if notes.team is None and notes.team_text is not None:
        texts.append(notes.team_text)
    return {word for read in texts for line in read.lines for word in re.findall(ID_WORD, line)}
