"""Warn of what nothing leads to: it is carried on every phone and nobody ever sees it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.catalog import Catalog
from kb.model import KINDS, Family, Lesson
from kb.model.shape import references
from kb.model.words import ID_PATTERN
from kb.notes.load import Notes
from kb.notes.problem import Problem

ID_WORD = re.compile(rf"\b(?:{ID_PATTERN})".replace("(-", "(?:-"))


def everything_is_used(notes: Notes) -> Iterator[Problem]:
    """Warn of each entry that nothing names, and each family that holds nothing."""
    named = Catalog(notes).named()
    if notes.team is not None:
        named |= {(kind, entry_id) for _, kind, entry_id in references(notes.team)}
    for lesson in notes.of(Lesson).values():
        for _, page in lesson.pages():
            kind, _, entry_id = page.partition("/")
            named.add((kind, entry_id))
    perhaps = _words_of_broken(notes)
    for kind, model in KINDS.items():
        hint = model.when_unnamed
        for entry in notes.of(model).values() if hint is not None else ():
            if (kind, entry.id) not in named and entry.id not in perhaps:
                yield notes.problem(
                    entry,
                    ("name",),
                    "orphan",
                    f"nothing names this {entry.noun}",
                    hint=hint or "",
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
