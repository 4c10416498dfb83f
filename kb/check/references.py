"""Every id that an entry names belongs to an entry that exists."""

from __future__ import annotations

import re
from collections.abc import Iterator

from pydantic import BaseModel

from kb.made_pages import AT_ROOT, written_pages
from kb.model import KINDS, Lesson
from kb.model.shape import references
from kb.model.words import ID_PATTERN, tidy_id
from kb.notes.load import NO_ID, Notes
from kb.notes.problem import Problem, nearest
from kb.notes.yaml_text import YamlText


def ids_resolve(notes: Notes) -> Iterator[Problem]:
    """Yield a problem for each id that no entry of its kind has."""
    for kind in notes.entries:
        for entry in notes.of_kind(kind).values():
            yield from _unknown(notes, entry, notes.texts[(kind, entry.id)])
    if notes.team is not None and notes.team_text is not None:
        yield from _unknown(notes, notes.team, notes.team_text)


def _unknown(notes: Notes, block: BaseModel, read: YamlText) -> Iterator[Problem]:
    for path, kind, entry_id in references(block):
        if not notes.knows(kind, entry_id):
            yield read.problem(
                path,
                "unknown-id",
                f"there is no {KINDS[kind].noun} '{entry_id}'",
                hint=_hint(notes, kind, entry_id),
            )


def _hint(notes: Notes, kind: str, entry_id: str) -> str:
    """Name the kind that the id belongs to, or the nearest id of the right kind."""
    elsewhere = [other for other in KINDS if other != kind and notes.knows(other, entry_id)]
    if elsewhere:
        return f"'{entry_id}' is a {KINDS[elsewhere[0]].noun}"
    for of_kind, broken_id in sorted(notes.broken):
        if of_kind == kind and tidy_id(broken_id) == entry_id:
            return f"rename {notes.texts[(kind, broken_id)].file}: it is to be {entry_id}.yaml"
    ids = ids_of(notes, kind=kind)
    return nearest(entry_id, ids) or f"write docs_data/{kind}/{entry_id}.yaml"


def ids_of(notes: Notes, *, kind: str) -> list[str]:
    """Return every id of a kind, those of unreadable entries too; none that is itself refused."""
    broken = [
        entry_id
        for of_kind, entry_id in notes.broken
        if of_kind == kind and entry_id != NO_ID and re.fullmatch(ID_PATTERN, entry_id)
    ]
    return sorted([*notes.of_kind(kind), *broken])


def lessons_lead_somewhere(notes: Notes) -> Iterator[Problem]:
    """Yield a problem for each page of a lesson that will not exist."""
    pages = [*written_pages(notes), *AT_ROOT]
    for lesson in notes.of(Lesson).values():
        for i, read in enumerate(lesson.read):
            kind, _, entry_id = read.entry.partition("/")
            if kind in KINDS and entry_id:
                if notes.knows(kind, entry_id):
                    continue
                hint = nearest(entry_id, ids_of(notes, kind=kind))
            else:
                if read.entry in pages:
                    continue
                hint = nearest(read.entry, pages)
                if entry_id:
                    hint = nearest(kind, KINDS)
            yield notes.problem(
                lesson,
                ("read", i, "entry"),
                "unknown-page",
                f"there is no page '{read.entry}'",
                hint=hint,
            )
