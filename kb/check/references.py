"""Every id that an entry names belongs to an entry that exists."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import BaseModel

from kb.made_pages import AT_ROOT, written_pages
from kb.model import KINDS, Entry, Lesson
from kb.model.shape import references
from kb.notes.load import Notes
from kb.notes.problem import Problem, nearest
from kb.notes.yaml_text import YamlText

from .missing_files import missing_hint


def ids_resolve(notes: Notes) -> Iterator[Problem]:
    """Yield a problem for each id that no entry of its kind has."""
    for kind in notes.entries:
        for entry in notes.of_kind(kind).values():
            yield from _unknown(notes, entry, notes.texts[(kind, entry.id)])
    if notes.team is not None and notes.team_text is not None:
        yield from _unknown(notes, notes.team, notes.team_text)


def _unknown(notes: Notes, block: BaseModel, read: YamlText) -> Iterator[Problem]:
    families = block.family_ids if isinstance(block, Entry) else ()
    for path, kind, entry_id in references(block):
        if not notes.knows(kind, entry_id):
            yield read.problem(
                path,
                "unknown-id",
                f"there is no {KINDS[kind].noun} '{entry_id}'",
                hint=id_hint(notes, kind=kind, entry_id=entry_id, families=families),
            )


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
    return missing_hint(notes, kind=kind, entry_id=entry_id, ids=ids, families=families)


def _at_home(notes: Notes, kind: str, entry_id: str, families: tuple[str, ...]) -> bool:
    """Return whether an entry belongs to one of some families, or to none of its own."""
    entry = notes.of_kind(kind).get(entry_id)
    own = set(entry.family_ids) if entry is not None else set()
    return kind == "families" or not families or not own or bool(own & set(families))


def lessons_lead_somewhere(notes: Notes) -> Iterator[Problem]:
    """Yield a problem for each page of a lesson that will not exist."""
    pages = [*written_pages(notes), *AT_ROOT]
    for lesson in notes.of(Lesson).values():
        for path, page in lesson.pages():
            kind, _, entry_id = page.partition("/")
            if kind in KINDS and entry_id:
                if notes.knows(kind, entry_id):
                    continue
                hint = id_hint(notes, kind=kind, entry_id=entry_id)
            else:
                if page in pages:
                    continue
                hint = nearest(page, pages)
                if entry_id:
                    hint = nearest(kind, KINDS)
            yield notes.problem(
                lesson, path, "unknown-page", f"there is no page '{page}'", hint=hint
            )


def former_ids_are_free(notes: Notes) -> Iterator[Problem]:
    """Yield each former id that another entry has, or had: one address cannot lead to two."""
    for kind in KINDS:
        seen: dict[str, str] = {}
        for entry in notes.of_kind(kind).values():
            for i, former_id in enumerate(entry.was):
                owner = former_id if notes.knows(kind, former_id) else seen.get(former_id)
                seen[former_id] = entry.id
                if owner is not None:
                    yield notes.problem(
                        entry,
                        ("was", i),
                        "former-id",
                        f"'{former_id}' is or was the id of the {entry.noun} '{owner}' too",
                        hint="keep the former id where its address should lead, take it out here",
                    )
