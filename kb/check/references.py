"""Every id that an entry names belongs to an entry that exists."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from kb.made_pages import AT_ROOT, written_pages
from kb.model import KINDS, Entry, Lesson
from kb.model.shape import references
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest
from kb.notes.yaml_text import Path, YamlText

from .missing_files import missing_hint
from .outline import Key, Outline


def ids_resolve(entry: Entry, *, notes: Notes) -> Iterator[Problem]:
    """Yield a problem for each id that no entry of its kind has."""
    for path, kind, entry_id in references(entry):
        if not notes.knows(kind, entry_id):
            read = notes.texts[(entry.kind, entry.id)]
            hint = id_hint(notes, kind=kind, entry_id=entry_id, families=entry.family_ids)
            yield _unknown(read, path, kind=kind, entry_id=entry_id, hint=hint)


def ids_of_the_team_resolve(notes: Notes) -> Iterator[Problem]:
    """Yield a problem for each id in the team's own file that no entry of its kind has."""
    if notes.team is not None and notes.team_text is not None:
        for path, kind, entry_id in references(notes.team):
            if not notes.knows(kind, entry_id):
                hint = id_hint(notes, kind=kind, entry_id=entry_id)
                yield _unknown(notes.team_text, path, kind=kind, entry_id=entry_id, hint=hint)


def _unknown(read: YamlText, path: Path, *, kind: str, entry_id: str, hint: str) -> Problem:
    message = f"there is no {KINDS[kind].noun} '{entry_id}'"
    return read.problem(path, "unknown-id", message, hint=hint)


def id_hint(notes: Notes, *, kind: str, entry_id: str, families: tuple[str, ...] = ()) -> str:
    """Return the kind that an id belongs to, its slip, or the file that is missing or unread.

    Parameters
    ----------
    notes : Notes
    kind, entry_id : str
        What was named.
    families : tuple of str
        The families of the entry that names it.
    """
    elsewhere = [other for other in KINDS if other != kind and entry_id in notes.of_kind(other)]
    if elsewhere:
        return f"'{entry_id}' is a {KINDS[elsewhere[0]].noun}"
    ids = [known for known in notes.ids(kind) if _at_home(notes, kind, known, families)]
    several = re.split(r"[\s;,/&+]+", entry_id)
    if len(several) > 1 and set(several) <= {*ids}:
        return f"these are several ids: put a comma between them, [{', '.join(several)}]"
    return missing_hint(notes, kind=kind, entry_id=entry_id, ids=ids, families=families)


def _at_home(notes: Notes, kind: str, entry_id: str, families: tuple[str, ...]) -> bool:
    """Return whether an entry belongs to one of some families, or to none of its own."""
    entry = notes.of_kind(kind).get(entry_id)
    own = set(entry.family_ids) if entry is not None else set()
    return kind == "families" or not families or not own or bool(own & set(families))


def lessons_lead_somewhere(notes: Notes, *, outlines: Mapping[Key, Outline]) -> Iterator[Problem]:
    """Yield a problem for each page of a lesson that will not exist."""
    pages = [*written_pages(notes), *AT_ROOT]

    def stands(page: str) -> bool:
        kind, _, entry_id = page.partition("/")
        return notes.knows(kind, entry_id) if kind in KINDS and entry_id else page in pages

    for (of_kind, lesson_id), outline in outlines.items():
        if of_kind != Lesson.kind or all(map(stands, outline.names)):
            continue
        lesson = notes.of(Lesson)[lesson_id]
        for path, page in lesson.pages():
            if stands(page):
                continue
            kind, _, entry_id = page.partition("/")
            if kind in KINDS and entry_id:
                hint = id_hint(notes, kind=kind, entry_id=entry_id)
            else:
                hint = nearest(page, pages)
                if entry_id:
                    hint = nearest(kind, KINDS)
            yield notes.problem(
                lesson, path, "unknown-page", f"there is no page '{page}'", hint=hint
            )


def former_ids_of(entry: Entry) -> Iterator[str]:
    """Yield what an entry must not have in common with another of its kind: ids it had."""
    for former_id in entry.was:
        yield f"{entry.kind}/{former_id}"


def former_ids_are_had_once(entries: Sequence[Entry], *, notes: Notes) -> Iterator[Problem]:
    """Yield each former id that another entry had too: one address cannot lead to two."""
    seen: dict[str, str] = {}
    for entry in entries:
        for i, former_id in enumerate(entry.was):
            owner = seen.get(former_id)
            seen[former_id] = entry.id
            if owner is not None and not notes.knows(entry.kind, former_id):
                yield _former(notes, entry, i, owner=owner)


def former_ids_are_free(entry: Entry, *, notes: Notes) -> Iterator[Problem]:
    """Yield each former id that another entry has."""
    for i, former_id in enumerate(entry.was):
        if notes.knows(entry.kind, former_id):
            yield _former(notes, entry, i, owner=former_id)


def _former(notes: Notes, entry: Entry, i: int, *, owner: str) -> Problem:
    return notes.problem(
        entry,
        ("was", i),
        "former-id",
        f"'{entry.was[i]}' is or was the id of the {entry.noun} '{owner}' too",
        hint="keep the former id where its address should lead, take it out here",
    )
