"""Check the notes, and keep what was found: the next check reads and judges what changed alone.

Nothing that is read here is believed before its checksum is right, and nothing of another version
of this program or its libraries, nor from when other words might be published. Without what is
kept, or where it cannot be written, a check finds the same and takes longer.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Iterator, Mapping
from pathlib import Path

from kb.check.kept_notes import KeptEntry, KeptNotes, hold_to_rules, open_kept
from kb.check.outline import Key, Outline
from kb.notes.problem import Problem
from kb.program_key import FolderLinked, program_key
from kb.site_folder import WORK
from kb.writer import write_if_changed

FORM = 1
"""Another number when what is written here is laid out otherwise."""
FEWEST = 100
"""Of fewer entries nothing is kept: they are read as soon."""
FOUND, VALUES = "found", "values"
"""The files: what the rules found in each entry, and what each file was read as."""
MANY = 50
"""So many entries read anew: what files were read as is then written again."""


def check_kept(folder: Path) -> KeptNotes:
    """Return the notes with every problem, as `kb.check.check_notes` does, reading what changed.

    Parameters
    ----------
    folder : Path
        The folder that holds `docs_data/`.

    Raises
    ------
    OSError
        When a file of the notes cannot be read.
    """
    notes = open_kept(folder)
    key = _key(notes)
    if len(notes.files) < FEWEST or not key:
        hold_to_rules(notes, kept={})
        return notes
    work = folder / WORK
    rows = _read(work, FOUND, key=key)
    notes.values = _Values(work, key=key)
    hold_to_rules(notes, kept=_Kept(rows))
    with contextlib.suppress(OSError):
        if notes.anew or rows.keys() != notes.found.keys():
            _write(work, FOUND, key=key, rows=dict(_found_rows(notes, rows=rows)))
        if len(notes.anew) > MANY:
            _write(work, VALUES, key=key, rows=dict(_value_rows(notes)))
    return notes


def _key(notes: KeptNotes) -> str:
    """Return what everything that is kept depends on beside the entries; nothing if none can be."""
    allowed = notes.release.may_be_published if notes.release else []
    try:
        parts = [str(FORM), program_key(), *allowed]
    except (FolderLinked, OSError):
        return ""
    return hashlib.sha256(json.dumps(parts).encode()).hexdigest()


class _Kept(Mapping[Key, KeptEntry]):
    """What was found in each entry, made of its row when it is asked for."""

    def __init__(self, rows: Mapping[Key, bytes]) -> None:
        self._rows = rows

    def __getitem__(self, key: Key) -> KeptEntry:
        try:
            return _kept_entry(self._rows[key])
        except (ValueError, TypeError, AttributeError):
            raise KeyError(key) from None

    def __iter__(self) -> Iterator[Key]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)


class _Values(Mapping[Key, tuple[str, object]]):
    """What each file was read as; opened when so many are asked for that it is worth it."""

    def __init__(self, work: Path, *, key: str) -> None:
        self._work, self._key = work, key
        self._asked = 0
        self._rows: dict[Key, bytes] | None = None

    def __getitem__(self, key: Key) -> tuple[str, object]:
        self._asked += 1
        if self._rows is None and self._asked > MANY:
            self._rows = _read(self._work, VALUES, key=self._key)
        if self._rows is None:
            raise KeyError(key)
        try:
            state, value = json.loads(self._rows[key])
        except (ValueError, TypeError):
            raise KeyError(key) from None
        return state, value

    def __iter__(self) -> Iterator[Key]:
        return iter(self._rows or ())

    def __len__(self) -> int:
        return len(self._rows or ())


def _file(work: Path, name: str) -> Path:
    return work / "kept" / f"{name}.txt"


def _read(work: Path, name: str, *, key: str) -> dict[Key, bytes]:
    """Return the rows of a file; none when any of it is not as this program wrote it."""
    try:
        checksum, _, text = _file(work, name).read_bytes().partition(b"\n")
    except OSError:
        return {}
    if hashlib.sha256(text).hexdigest().encode() != checksum:
        return {}
    head, *lines = text.split(b"\n")
    if head != f"{name} {FORM} {key}".encode():
        return {}
    split = [line.split(b"\t", 2) for line in lines]
    return {
        (row[0].decode(), row[1].decode("utf-8", "surrogateescape")): row[2]
        for row in split
        if len(row) == 3
    }


def _write(work: Path, name: str, *, key: str, rows: Mapping[Key, bytes]) -> None:
    lines = [f"{name} {FORM} {key}".encode()]
    for (kind, entry_id), row in rows.items():
        lines.append(f"{kind}\t{entry_id}\t".encode("utf-8", "surrogateescape") + row)
    text = b"\n".join(lines)
    write_if_changed(_file(work, name), hashlib.sha256(text).hexdigest().encode() + b"\n" + text)


def _found_rows(notes: KeptNotes, *, rows: Mapping[Key, bytes]) -> Iterator[tuple[Key, bytes]]:
    for key, found in notes.found.items():
        if "\t" in key[1] or "\n" in key[1]:
            continue  # no id, and its file has a problem that the keeper sees
        yield key, rows[key] if key not in notes.anew else _row(found)


def _value_rows(notes: KeptNotes) -> Iterator[tuple[Key, bytes]]:
    """Yield what each file was read as, where nothing at all was wrong with it."""
    for key, loaded in notes.read.items():
        if loaded.entry is not None and not loaded.problems:
            row = json.dumps([notes.states[key], loaded.read.value], separators=(",", ":"))
            yield key, row.encode()


def _row(found: KeptEntry) -> bytes:
    row = [
        found.state,
        [f"{kind}/{entry_id}" for kind, entry_id in found.looked],
        [*found.looked.values()],
        found.outline.row() if found.outline is not None else None,
        [_fields(problem) for problem in found.problems],
        [_fields(problem) for problem in found.private],
    ]
    return json.dumps(row, separators=(",", ":")).encode()


def _fields(problem: Problem) -> list[object]:
    return [*vars(problem).values()]


def _kept_entry(row: bytes) -> KeptEntry:
    state, looked, states, outline, problems, private = json.loads(row)
    keys = [(kind, entry_id) for kind, _, entry_id in (name.partition("/") for name in looked)]
    return KeptEntry(
        state=state,
        looked=dict(zip(keys, states, strict=True)),
        outline=None if outline is None else Outline.of_row(outline),
        problems=tuple(Problem(*fields) for fields in problems),
        private=tuple(Problem(*fields) for fields in private),
    )
