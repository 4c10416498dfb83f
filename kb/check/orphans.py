"""Warn of what nothing leads to: it is carried on every phone and nobody ever sees it."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model.shape import references
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.used_by import used_by

from .families import families_of

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
    named = {target for target, users in used_by(notes).items() if users}
    if notes.team is not None:
        named |= {(kind, entry_id) for _, kind, entry_id in references(notes.team)}
    for lesson in notes.of("lessons").values():
        for read in lesson.read:
            kind, _, entry_id = read.entry.partition("/")
            named.add((kind, entry_id))
    for kind, hint in NEEDED.items():
        for entry in notes.of(kind).values():
            if (kind, entry.id) not in named:
                yield notes.problem(
                    entry, ("name",), "orphan", f"nothing names this {entry.noun}",
                    hint=hint, warning=True,
                )
    lived_in = {
        family
        for kind in ("sensors", "codes")
        for entry in notes.of(kind).values()
        for family in families_of(entry)
    }
    for family in notes.of("families").values():
        if family.id not in lived_in:
            yield notes.problem(
                family, ("name",), "orphan", "this family has no sensor and no code",
                hint="write its sensors and codes, or delete it", warning=True,
            )
