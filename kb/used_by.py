"""Who names whom: for every entry, the entries that refer to it."""

from __future__ import annotations

from collections import defaultdict

from kb.model import Entry
from kb.model.shape import references
from kb.notes.load import Notes


def used_by(notes: Notes) -> dict[tuple[str, str], list[Entry]]:
    """Return `(kind, id)` → entries that name it, each once, by kind and id."""
    users: dict[tuple[str, str], dict[tuple[str, str], Entry]] = defaultdict(dict)
    for kind in notes.entries:
        for entry in notes.of(kind).values():
            for _, target_kind, target_id in references(entry):
                users[(target_kind, target_id)][(kind, entry.id)] = entry
    return {target: [found[key] for key in sorted(found)] for target, found in users.items()}
