"""Open the notes and read an entry when somebody asks for it: a question needs a few of thousands.

Nothing is kept between two commands, so nothing can be out of date. An entry that names another
holds its id as text: which files may do so is found in their bytes, and only those are read.
"""

from __future__ import annotations

from collections.abc import Iterator, MutableMapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from kb.model import KINDS, Entry

from .folder import entry_files
from .load import Notes, load_entry, load_own_files, sound_id


class LateEntries(MutableMapping[str, Entry]):
    """The entries of one kind by id, in order of id, each read at its first mention.

    Whoever goes over all of them has all of them read: the answer is the same, later.
    """

    def __init__(self, notes: LateNotes, *, kind: str) -> None:
        self.notes = notes
        self.kind = kind
        self.read: dict[str, Entry] = {}
        self.tried: set[str] = set()

    @cached_property
    def files(self) -> dict[str, Path]:
        """The file of each id; of two files with one name the first, as `check` says."""
        found: dict[str, Path] = {}
        for path in entry_files(self.notes.folder, self.kind):
            found.setdefault(path.stem, path)
        return dict(sorted(found.items()))

    @cached_property
    def raw(self) -> dict[str, bytes]:
        """What stands in each file."""
        return {entry_id: path.read_bytes() for entry_id, path in self.files.items()}

    def naming(self, entry_id: str) -> Iterator[str]:
        """Yield the ids of the files that may name another entry: none that does is left out.

        In a text with a backslash the id may be written with escapes; such a file counts too.
        """
        sought = entry_id.encode("utf-8")
        for own, raw in self.raw.items():
            if sought in raw or b"\\" in raw or b"\0" in raw:
                yield own

    def __getitem__(self, entry_id: str) -> Entry:
        if entry_id not in self.tried and entry_id in self.files:
            self.tried.add(entry_id)
            path = self.files[entry_id]
            load_entry(
                path.read_bytes(),
                kind=self.kind,
                entry_id=entry_id,
                file=path.relative_to(self.notes.folder).as_posix(),
                notes=self.notes,
            )
        return self.read[entry_id]

    def __setitem__(self, entry_id: str, entry: Entry) -> None:
        self.tried.add(entry_id)
        self.read[entry_id] = entry

    def __delitem__(self, entry_id: str) -> None:
        del self.read[entry_id]

    def __iter__(self) -> Iterator[str]:
        return iter([entry_id for entry_id in self.files if entry_id in self])

    def __len__(self) -> int:
        return sum(1 for _ in self)


@dataclass
class LateNotes(Notes):
    """Notes whose entries are read as they are asked for; `broken` knows those that were."""

    def ids(self, kind: str) -> list[str]:
        """Return every id of a kind that is none that is itself refused: the names of its files."""
        return [entry_id for entry_id in self._late(kind).files if sound_id(entry_id)]

    def naming(self, kind: str, entry_id: str) -> list[str]:
        """Return the ids of a kind whose entries may name `entry_id`, in order."""
        return [own for own in self._late(kind).naming(entry_id) if own in self.entries[kind]]

    def _late(self, kind: str) -> LateEntries:
        entries = self.entries[kind]
        assert isinstance(entries, LateEntries)
        return entries


def open_notes(folder: Path) -> LateNotes:
    """Open the notes in `folder` for whoever asks one question; raises as `load_notes` does.

    Problems are those of the entries that were read; `check` says all of them.
    """
    notes = LateNotes(folder=folder)
    notes.entries = {kind: LateEntries(notes, kind=kind) for kind in KINDS}
    load_own_files(notes)
    return notes
