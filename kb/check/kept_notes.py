"""The notes with what their rules found before: only what changed is read, and held to its rules.

Every file's bytes are looked at; nothing is known by its time. What was found in an entry holds as
long as its file and all the files that its rules looked into are the same.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Mapping, MutableMapping
from dataclasses import dataclass, field
from pathlib import Path

from kb.model import KINDS, Case, Entry
from kb.notes.load import (
    Loaded,
    Notes,
    files_by_id,
    load_own_files,
    loaded_entry,
    sound_id,
    strangers,
)
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

from . import outline, problems_of_all, problems_of_entry, problems_of_file
from .looking import Looking
from .outline import Key, Outline
from .private_files import private_in_entry

ABSENT = ""
"""The state of an entry that is not there."""


@dataclass(frozen=True)
class KeptEntry:
    """What the rules of one entry found, and in which state of which files."""

    state: str
    looked: Mapping[Key, str]
    """The other entries that were looked for, each with its state then."""
    outline: Outline | None
    """None for an entry that cannot be read."""
    problems: tuple[Problem, ...]
    private: tuple[Problem, ...]
    """What in it must not leave the house."""


@dataclass
class KeptNotes(Notes):
    """Notes whose entries are read when they are asked for; what was found in the rest is known."""

    files: dict[Key, str] = field(default_factory=dict)
    raw: dict[Key, bytes] = field(default_factory=dict)
    states: dict[Key, str] = field(default_factory=dict)
    values: Mapping[Key, tuple[str, object]] = field(default_factory=dict)
    """What files were read as before, each with the state that it had."""
    found: dict[Key, KeptEntry] = field(default_factory=dict)
    """Of each entry whose rules looked at nothing but entries: what may be kept."""
    outlines: dict[Key, Outline] = field(default_factory=dict)
    private: list[Problem] = field(default_factory=list)
    read: dict[Key, Loaded] = field(default_factory=dict)
    anew: set[Key] = field(default_factory=set)
    """Entries whose rules ran this time."""

    def loaded(self, key: Key) -> Loaded:
        """Return an entry as its file gives it; KeyError where there is no such file."""
        loaded = self.read.get(key)
        if loaded is None:
            raw, (kind, entry_id) = self.raw[key], key
            state, value = self.values.get(key, (ABSENT, None))
            loaded = self.read[key] = loaded_entry(
                raw,
                kind=kind,
                entry_id=entry_id,
                file=self.files[key],
                value=value if state == self.states[key] else None,
            )
        return loaded

    def read_all(self) -> None:
        """Read every entry: whoever looks through all of them again and again asks this first."""
        entries: dict[str, MutableMapping[str, Entry]] = {}
        for kind in KINDS:
            entries[kind] = dict(self.entries[kind].items())
        self.texts = {key: self.loaded(key).read for key in self.files}
        self.entries = entries

    def stands(self, key: Key) -> bool:
        """Return whether an entry is there and can be read."""
        if key in self.outlines:
            return True
        if key not in self.files or key in self.broken:
            return False
        return self.loaded(key).entry is not None

    def knows(self, *key: str) -> bool:
        """True when the notes hold the entry of a kind and id, readable or not."""
        return key in self.files

    def ids(self, kind: str) -> list[str]:
        """Return every id of a kind, unreadable entries' too; none that is itself refused."""
        return sorted(own for of, own in self.files if of == kind and sound_id(own))

    def counts(self) -> dict[str, int]:
        """Return how many entries of each kind there are, readable or not."""
        counts = dict.fromkeys(KINDS, 0)
        for kind, _ in self.files:
            counts[kind] += 1
        return counts


class _KeptEntries(MutableMapping[str, Entry]):
    """The entries of one kind by id, in order of id, each read at its first mention."""

    def __init__(self, notes: KeptNotes, *, kind: str) -> None:
        self._notes, self._kind = notes, kind
        self._ids = sorted(own for of, own in notes.files if of == kind)

    def __getitem__(self, entry_id: str) -> Entry:
        if (self._kind, entry_id) not in self._notes.files:
            raise KeyError(entry_id)
        entry = self._notes.loaded((self._kind, entry_id)).entry
        if entry is None:
            raise KeyError(entry_id)
        return entry

    def __contains__(self, entry_id: object) -> bool:
        return self._notes.stands((self._kind, str(entry_id)))

    def __iter__(self) -> Iterator[str]:
        return iter([own for own in self._ids if own in self])

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def __setitem__(self, entry_id: str, entry: Entry) -> None:
        raise TypeError("notes that are kept are only read")

    def __delitem__(self, entry_id: str) -> None:
        raise TypeError("notes that are kept are only read")


class _KeptTexts(MutableMapping[Key, YamlText]):
    """The file of each entry, read at its first mention."""

    def __init__(self, notes: KeptNotes) -> None:
        self._notes = notes

    def __getitem__(self, key: Key) -> YamlText:
        return self._notes.loaded(key).read

    def __iter__(self) -> Iterator[Key]:
        return iter(self._notes.files)

    def __len__(self) -> int:
        return len(self._notes.files)

    def __setitem__(self, key: Key, read: YamlText) -> None:
        raise TypeError("notes that are kept are only read")

    def __delitem__(self, key: Key) -> None:
        raise TypeError("notes that are kept are only read")


def open_kept(folder: Path) -> KeptNotes:
    """Return the notes in a folder with the bytes of every entry, none of them read as one yet.

    Raises
    ------
    OSError
    """
    notes, root = KeptNotes(folder=folder), os.fspath(folder)
    for kind in KINDS:
        files, problems = files_by_id(folder, kind=kind)
        notes.problems.extend(problems)
        for entry_id, file in files.items():
            key = (kind, entry_id)
            notes.files[key] = file
            with open(os.path.join(root, file), "rb", buffering=0) as opened:
                notes.raw[key] = raw = opened.read()
            notes.states[key] = state_of(raw, file=file)
    notes.entries = {kind: _KeptEntries(notes, kind=kind) for kind in KINDS}
    notes.texts = _KeptTexts(notes)
    notes.problems.extend(strangers(folder))
    load_own_files(notes)
    return notes


def state_of(raw: bytes, *, file: str) -> str:
    """Return what is another when a file has another name or holds anything else."""
    return hashlib.sha256(file.encode("utf-8", "surrogateescape") + b"\0" + raw).hexdigest()


def hold_to_rules(notes: KeptNotes, *, kept: Mapping[Key, KeptEntry]) -> None:
    """Add every problem to opened notes; what is kept of an entry holds while nothing changed."""
    problems = {*notes.problems}
    allowed = notes.release.may_be_published if notes.release else []
    for key in sorted(notes.files, key=lambda key: (_ORDER[key[0]], key[1])):
        found = kept.get(key)
        further = False
        if found is None or not _holds(found, key, notes=notes):
            notes.anew.add(key)
            found, further = _found_in(key, notes=notes, allowed=allowed)
        if not further:
            notes.found[key] = found
        if found.outline is None:
            notes.broken.add(key)
        else:
            notes.outlines[key] = found.outline
        problems.update(found.problems)
        notes.private.extend(found.private)
    problems.update(problems_of_all(notes, outlines=notes.outlines))
    notes.problems = sorted(problems)


_ORDER = {kind: i for i, kind in enumerate(KINDS)}


def _holds(found: KeptEntry, key: Key, *, notes: KeptNotes) -> bool:
    if found.state != notes.states[key]:
        return False
    states = notes.states
    return all(states.get(other, ABSENT) == state for other, state in found.looked.items())


def _found_in(key: Key, *, notes: KeptNotes, allowed: list[str]) -> tuple[KeptEntry, bool]:
    """Return what the rules find in an entry, and whether they looked at more than entries."""
    loaded, looking = notes.loaded(key), Looking(notes)
    problems = [*loaded.problems, *problems_of_file(loaded.read)]
    if loaded.entry is not None:
        problems += problems_of_entry(loaded.entry, notes=looking.as_notes)
    private: list[Problem] = []
    if key[0] != Case.kind:
        private = private_in_entry(loaded.raw, read=loaded.read, allowed=allowed)
    found = KeptEntry(
        state=notes.states[key],
        looked={other: notes.states.get(other, ABSENT) for other in sorted(looking.looked)},
        outline=None if loaded.entry is None else outline(loaded.entry),
        problems=tuple(dict.fromkeys(problems)),
        private=tuple(private),
    )
    return found, looking.further
