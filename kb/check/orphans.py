"""Warn of what nothing leads to: it is carried on every phone and nobody ever sees it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from kb.model import KINDS, Family
from kb.model.shape import references
from kb.model.words import ID_PATTERN
from kb.notes.load import Notes
from kb.notes.problem import Problem

from .outline import Key, Outline

ID_WORD = re.compile(rf"\b(?:{ID_PATTERN})".replace("(-", "(?:-"))


def everything_is_used(notes: Notes, *, outlines: Mapping[Key, Outline]) -> Iterator[Problem]:
    """Warn of each entry that nothing names, and each family that holds nothing."""
    named = {name for outline in outlines.values() for name in outline.names}
    if notes.team is not None:
        named |= {f"{kind}/{entry_id}" for _, kind, entry_id in references(notes.team)}
    perhaps = _words_of_broken(notes)
    for kind, entry_id in outlines:
        hint = KINDS[kind].when_unnamed
        if hint is None or f"{kind}/{entry_id}" in named or entry_id in perhaps:
            continue
        entry = notes.of_kind(kind)[entry_id]
        yield notes.problem(
            entry, ("name",), "orphan", f"nothing names this {entry.noun}", hint=hint, warning=True
        )
    lived_in = {
        family
        for (kind, _), outline in outlines.items()
        if kind in ("sensors", "codes")
        for family in outline.families
    }
    for kind, family_id in outlines:
        if kind == Family.kind and family_id not in lived_in and family_id not in perhaps:
            yield notes.problem(
                notes.of(Family)[family_id],
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
