"""The notes as the rules of one entry see them: which other entries they look into is noted.

A rule is pure, so while those files and its own are the same it finds the same.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TypeVar, cast

from kb.model import Entry
from kb.notes.load import Notes
from kb.notes.seen_file import checksum_of
from kb.notes.yaml_text import YamlText

from .outline import Key

E = TypeVar("E", bound=Entry)


class Looking:
    """Stands for notes while the rules of one entry run."""

    def __init__(self, notes: Notes) -> None:
        self._notes = notes
        self.looked: set[Key] = set()
        """What was looked for, there or not."""
        self.beside_it: set[str] = set()
        """Photos that were looked at, by their paths from the folder of the notes."""
        self.further = False
        """Something else was asked: what a rule finds may then depend on anything."""

    @property
    def as_notes(self) -> Notes:
        """What to hand to a rule."""
        return cast(Notes, self)

    def of(self, model: type[E]) -> Mapping[str, E]:
        """Return the entries of a model's kind."""
        return cast(Mapping[str, E], self.of_kind(model.kind))

    def of_kind(self, kind: str) -> Mapping[str, Entry]:
        """Return the entries of a kind."""
        return _Looked(self, kind)

    def knows(self, *key: str) -> bool:
        """Return whether the notes hold the entry of a kind and id, readable or not."""
        kind, entry_id = key
        self.looked.add((kind, entry_id))
        return self._notes.knows(kind, entry_id)

    def beside(self, entry: Entry, *, name: str) -> Path:
        """Return where a file of that name stands beside an entry's own, there or not."""
        path = self._notes.beside(entry, name=name)
        file = self._notes.texts[(entry.kind, entry.id)].file.rpartition("/")[0] + "/" + name
        if photo_state(self._notes.folder, file=file):
            self.beside_it.add(file)
        else:
            self.further = True
        return path

    def leads_out(self, path: Path) -> bool:
        """Return whether a path of the notes leads out of them; of what is beside an entry."""
        return self._notes.leads_out(path)

    @property
    def texts(self) -> Mapping[Key, YamlText]:
        """The files that entries are read from."""
        return _LookedTexts(self)

    def __getattr__(self, name: str) -> object:
        if name != "problem":
            self.further = True
        return getattr(self._notes, name)


def photo_state(folder: Path, *, file: str) -> str:
    """Return the SHA-256 of a photo; nothing where it is a link, or cannot be read."""
    path = os.path.join(folder, file)
    if os.path.islink(path) or not os.path.isfile(path):
        return ""
    try:
        with open(path, "rb", buffering=0) as opened:
            return checksum_of(opened.read())
    except OSError:
        return ""


class _Looked(Mapping[str, Entry]):
    """The entries of one kind."""

    def __init__(self, looking: Looking, kind: str) -> None:
        self._looking, self._kind = looking, kind

    def __getitem__(self, entry_id: str) -> Entry:
        self._looking.looked.add((self._kind, entry_id))
        return self._looking._notes.of_kind(self._kind)[entry_id]

    def __iter__(self) -> Iterator[str]:
        self._looking.further = True
        return iter(self._looking._notes.of_kind(self._kind))

    def __len__(self) -> int:
        self._looking.further = True
        return len(self._looking._notes.of_kind(self._kind))


class _LookedTexts(Mapping[Key, YamlText]):
    """The file of each entry."""

    def __init__(self, looking: Looking) -> None:
        self._looking = looking

    def __getitem__(self, key: Key) -> YamlText:
        self._looking.looked.add(key)
        return self._looking._notes.texts[key]

    def __iter__(self) -> Iterator[Key]:
        self._looking.further = True
        return iter(self._looking._notes.texts)

    def __len__(self) -> int:
        self._looking.further = True
        return len(self._looking._notes.texts)
