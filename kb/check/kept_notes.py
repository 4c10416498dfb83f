"""The notes with what their rules found before: only what changed is read, and held to its rules.

A file that its disk calls unchanged is not read again; of every other its bytes are looked at. What
was found in an entry holds as long as its file and all that its rules looked into are the same.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterable, Iterator, Mapping, MutableMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from kb.model import KINDS, Case, Entry
from kb.notes.folder import kind_folder
from kb.notes.load import (
    OWN_FILES,
    Loaded,
    Notes,
    entry_of_value,
    files_by_id,
    load_own_files,
    loaded_entry,
    recently_loaded,
    sound_id,
)
from kb.notes.problem import Problem
from kb.notes.seen_file import bytes_of, checksum_of, sign_of
from kb.notes.strangers import strangers
from kb.notes.yaml_text import YamlText

from . import outline, problems_of_all, problems_of_entry, problems_of_file
from .looking import Looking, photo_state
from .outline import Key, Outline
from .private_files import private_in_entry


class KeptEntry(NamedTuple):
    """What the rules of one entry found, and of which bytes of which files."""

    state: str
    """SHA-256 of its file's bytes."""
    file: str
    sign: str
    """What the disk said of the file; nothing where that is not believed."""
    looked: Iterable[Key]
    """The other entries that were looked for, there or not."""
    photos: Mapping[str, str]
    """The photos that were looked at: SHA-256 by path from the folder of the notes."""
    again: bool
    """Its rules looked at more than that: they are asked each time."""
    outline: Outline | None
    """None for an entry that cannot be read."""
    problems: tuple[Problem, ...]
    private: tuple[Problem, ...]
    """What in it must not leave the house."""


@dataclass
class KeptNotes(Notes):
    """Notes whose entries are read when they are asked for; what was found in the rest is known."""

    files: dict[Key, str] = field(default_factory=dict)
    states: dict[Key, str] = field(default_factory=dict)
    """The SHA-256 of each entry's file."""
    signs: dict[Key, str] = field(default_factory=dict)
    """What the disk says of each entry's file; nothing where that is not believed."""
    values: Mapping[Key, tuple[str, object, bool]] = field(default_factory=dict)
    """What files were read as before: the state then, the value, whether some of it is nothing."""
    found: dict[Key, KeptEntry] = field(default_factory=dict)
    outlines: dict[Key, Outline] = field(default_factory=dict)
    private: list[Problem] = field(default_factory=list)
    read: dict[Key, Loaded] = field(default_factory=dict)
    anew: set[Key] = field(default_factory=set)
    """Entries whose rules ran this time."""
    raw: dict[Key, bytes] = field(default_factory=dict)
    """What was read to know its state, until it is read as an entry."""

    def loaded(self, key: Key) -> Loaded:
        """Return an entry as its file gives it; KeyError where there is no such file.

        Raises
        ------
        ChangedMeanwhile
            When the file is another than it was when the notes were opened.
        """
        loaded = self.read.get(key)
        if loaded is None:
            (kind, entry_id), file, state = key, self.files[key], self.states[key]
            raw = self.raw.pop(key, None)
            known = recently_loaded(kind=kind, entry_id=entry_id, file=file, state=state)
            loaded = self.read[key] = (
                known
                or self._of_value(key)
                or loaded_entry(
                    self._bytes(key) if raw is None else raw,
                    kind=kind,
                    entry_id=entry_id,
                    file=file,
                )
            )
        return loaded

    def _of_value(self, key: Key) -> Loaded | None:
        state, value, gaps = self.values.get(key, ("", None, True))
        if value is None or state != self.states[key]:
            return None
        return entry_of_value(
            value,
            kind=key[0],
            entry_id=key[1],
            file=self.files[key],
            state=state,
            folder=os.fspath(self.folder),
            gaps=gaps,
        )

    def _bytes(self, key: Key) -> bytes:
        path = os.path.join(os.fspath(self.folder), self.files[key])
        return bytes_of(path, checksum=self.states[key])

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
    """Return the notes in a folder with what is no entry; the entries are still to be looked at.

    Raises
    ------
    OSError
    """
    notes = KeptNotes(folder=folder)
    load_own_files(notes)
    return notes


def look_at_files(notes: KeptNotes, *, kept: Mapping[Key, KeptEntry]) -> None:
    """Note the state of every entry's file in opened notes, and read none of them as one yet.

    Parameters
    ----------
    notes : KeptNotes
    kept : mapping of Key to KeptEntry
        A file is not read where its disk says the same of it as then.

    Raises
    ------
    OSError
    """
    there, now_ns = {}, time.time_ns()
    for kind in KINDS:
        there[kind] = kind_folder(notes.folder, kind)
        files, problems = files_by_id(there[kind])
        notes.problems.extend(problems)
        for entry_id in sorted(files):
            key = (kind, entry_id)
            notes.files[key] = files[entry_id]
            _look(key, notes=notes, known=kept.get(key), now_ns=now_ns)
    notes.entries = {kind: _KeptEntries(notes, kind=kind) for kind in KINDS}
    notes.texts = _KeptTexts(notes)
    notes.problems.extend(strangers(notes.folder, there=there, own=OWN_FILES))


def _look(key: Key, *, notes: KeptNotes, known: KeptEntry | None, now_ns: int) -> None:
    """Note the state of an entry's file."""
    file = notes.files[key]
    path = f"{notes.folder}/{file}"
    sign = notes.signs[key] = sign_of(os.stat(path), now_ns=now_ns)
    if known is not None and sign and known.sign == sign and known.file == file:
        notes.states[key] = known.state
        return
    with open(path, "rb", buffering=0) as opened:
        notes.raw[key] = raw = opened.read()
    notes.states[key] = checksum_of(raw)


def hold_to_rules(notes: KeptNotes, *, kept: Mapping[Key, KeptEntry]) -> None:
    """Add every problem to opened notes; what is kept of an entry holds while nothing changed.

    Parameters
    ----------
    notes : KeptNotes
    kept : mapping of Key to KeptEntry
        All of it from one and the same check.
    """
    problems = {*notes.problems}
    allowed = notes.release.may_be_published if notes.release else []
    changed = set(_changed(notes, kept=kept))
    for key in notes.files:
        found = kept.get(key)
        if found is None or not _holds(found, key, notes=notes, changed=changed):
            notes.anew.add(key)
            found = _found_in(key, notes=notes, allowed=allowed)
        elif found.sign != notes.signs[key]:
            found = found._replace(sign=notes.signs[key])
        notes.found[key] = found
        if found.outline is None:
            notes.broken.add(key)
        else:
            notes.outlines[key] = found.outline
        problems.update(found.problems)
        notes.private.extend(found.private)
    problems.update(problems_of_all(notes, outlines=notes.outlines))
    notes.problems = sorted(problems)


def _changed(notes: KeptNotes, *, kept: Mapping[Key, KeptEntry]) -> Iterator[Key]:
    """Yield the entries that came, went, or are others than they were."""
    for key, state in notes.states.items():
        found = kept.get(key)
        if found is None or found.state != state or found.file != notes.files[key]:
            yield key
    yield from kept.keys() - notes.states.keys()


def _holds(found: KeptEntry, key: Key, *, notes: KeptNotes, changed: set[Key]) -> bool:
    if found.again or key in changed or not changed.isdisjoint(found.looked):
        return False
    states = found.photos.items()
    return all(photo_state(notes.folder, file=file) == state for file, state in states)


def _found_in(key: Key, *, notes: KeptNotes, allowed: list[str]) -> KeptEntry:
    """Return what the rules find in an entry, and what they looked at."""
    loaded, looking = notes.loaded(key), Looking(notes)
    problems = [*loaded.problems, *problems_of_file(loaded.read)]
    if loaded.entry is not None:
        problems += problems_of_entry(loaded.entry, notes=looking.as_notes)
    private: list[Problem] = []
    if key[0] != Case.kind:
        private = private_in_entry(loaded.read, allowed=allowed)
    return KeptEntry(
        state=notes.states[key],
        file=notes.files[key],
        sign=notes.signs[key],
        looked=sorted(looking.looked),
        photos={file: photo_state(notes.folder, file=file) for file in sorted(looking.beside_it)},
        again=looking.further,
        outline=None if loaded.entry is None else outline(loaded.entry),
        problems=tuple(dict.fromkeys(problems)),
        private=tuple(private),
    )
