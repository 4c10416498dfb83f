"""Check the notes, and keep what was found: the next check reads and judges what changed alone.

Nothing that is read here is believed before its checksum is right, and nothing of another version
of this program or its libraries, nor from when other words might be published. Without what is
kept, or where it cannot be written, a check finds the same and takes longer.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from kb.check.kept_notes import KeptEntry, KeptNotes, hold_to_rules, look_at_files, open_kept
from kb.check.outline import Key, Outline
from kb.notes.problem import Problem
from kb.notes.seen_file import ChangedMeanwhile
from kb.program_key import FolderLinked, program_key
from kb.site_folder import WORK
from kb.writer import write_if_changed

FORM = 2
"""Another number when what is written here is laid out otherwise."""
FEWEST = 100
"""Of fewer entries nothing is kept: they are read as soon."""
FOUND, SINCE, VALUES = "found", "since", "values"
"""The files: what the rules found in each entry, what differs since, what each file was read as."""
MANY = 50
"""So many entries read anew: what files were read as is then written again."""
LATER = 200
"""So many rows that differ: all of them are then written again."""


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
    work, notes = folder / WORK, open_kept(folder)
    key = _key(notes)
    rows = _Rows(work, key=key)
    try:
        look_at_files(notes, kept=rows.now)
        notes.values = _Values(work, key=key)
        hold_to_rules(notes, kept=rows.now)
    except ChangedMeanwhile:
        # Somebody writes at this moment: what is read now is read once, and held.
        notes = open_kept(folder)
        look_at_files(notes, kept={})
        hold_to_rules(notes, kept=rows.now)
    if key and len(notes.files) >= FEWEST:
        with contextlib.suppress(OSError):
            rows.keep(notes.found)
            if len(notes.anew) > MANY:
                _write(work, VALUES, key=key, lines=_value_lines(notes))
    return notes


def _key(notes: KeptNotes) -> str:
    """Return what everything that is kept depends on beside the entries; nothing if none can be."""
    allowed = notes.release.may_be_published if notes.release else []
    try:
        parts = [str(FORM), program_key(), *allowed]
    except (FolderLinked, OSError):
        return ""
    return hashlib.sha256(json.dumps(parts).encode()).hexdigest()


class _Rows:
    """What was found in each entry: all of it in one file, and what differs since in a small one.

    Parameters
    ----------
    work : Path
    key : str
        What is kept under another is not believed; nothing where nothing is kept.
    """

    def __init__(self, work: Path, *, key: str) -> None:
        self._work, self._key = work, key
        self._base, base = _read(work, FOUND, key=key) if key else ("", b"")
        _, since = _read(work, SINCE, key=f"{key} {self._base}") if base else ("", b"")
        self._since = _decoded(since)
        self.now: dict[Key, KeptEntry] = {
            name: row for name, row in (_decoded(base) | self._since).items() if row is not None
        }
        """The rows as they hold now."""

    def keep(self, found: Mapping[Key, KeptEntry]) -> None:
        """Write what differs by now; all of it where that is much.

        Raises
        ------
        OSError
        """
        differs: dict[Key, KeptEntry | None] = {
            name: row for name, row in found.items() if self.now.get(name) is not row
        }
        differs = {name: row for name, row in differs.items() if self.now.get(name) != row}
        differs |= dict.fromkeys(self.now.keys() - found.keys())
        if not differs:
            return
        since = self._since | differs
        if not self.now or len(since) > LATER:
            _write(self._work, FOUND, key=self._key, lines=[_encoded(found)])
        else:
            key = f"{self._key} {self._base}"
            _write(self._work, SINCE, key=key, lines=[_encoded(since)])


def _encoded(rows: Mapping[Key, KeptEntry | None]) -> bytes:
    """Return rows as text; what they name is written once, and stands in them as its number."""
    numbers: dict[str, int] = {f"{kind}/{entry_id}": i for i, (kind, entry_id) in enumerate(rows)}

    def number(name: str) -> int:
        return numbers.setdefault(name, len(numbers))

    packed: list[object] = []
    for row in rows.values():
        if row is None:
            packed.append(None)
            continue
        looked = [number(f"{kind}/{entry_id}") for kind, entry_id in row.looked]
        outline: list[object] | None = None
        if row.outline is not None:
            outline = [[number(name) for name in row.outline.names], *row.outline[1:]]
        found = [[[*vars(problem).values()] for problem in of] for of in row[7:]]
        rest = [row.photos, row.again, *found]
        # Ten thousand rows are read at once, and hardly any has more to say.
        packed.append([*row[:3], looked, outline, *(rest if any(rest) else ())])
    text = json.dumps([[*numbers], packed], separators=(",", ":"))
    return text.encode("utf-8", "surrogateescape")


def _decoded(text: bytes) -> dict[Key, KeptEntry | None]:
    """Return what was encoded; nothing of what was not."""
    try:
        names, packed = json.loads(text)
        keys = [(kind, entry_id) for kind, _, entry_id in (name.partition("/") for name in names)]
        return {key: row and _row(row, names, keys) for key, row in zip(keys, packed, strict=False)}
    except (ValueError, TypeError, LookupError, AttributeError):
        return {}


def _row(row: list[Any], names: list[str], keys: list[Key]) -> KeptEntry:
    state, file, sign, looked, outline, *rest = row
    if outline is not None:
        outline[0] = [names[i] for i in outline[0]]
        outline = Outline._make(outline)
    looked = [keys[i] for i in looked]
    if not rest:
        return KeptEntry(state, file, sign, looked, {}, False, outline, (), ())
    photos, again, problems, private = rest
    found = [tuple([Problem(*fields) for fields in of]) for of in (problems, private)]
    return KeptEntry(state, file, sign, looked, photos, again, outline, found[0], found[1])


class _Values(Mapping[Key, tuple[str, object, bool]]):
    """What each file was read as; opened when so many are asked for that it is worth it."""

    def __init__(self, work: Path, *, key: str) -> None:
        self._work, self._key = work, key
        self._asked = 0
        self._rows: dict[Key, bytes] | None = None

    def __getitem__(self, key: Key) -> tuple[str, object, bool]:
        self._asked += 1
        if self._rows is None and self._asked > MANY and self._key:
            self._rows = self.lines()
        if self._rows is None:
            raise KeyError(key)
        try:
            state, value = json.loads(self._rows[key])
        except (ValueError, TypeError):
            raise KeyError(key) from None
        return state, value, b"null" in self._rows[key]

    def lines(self) -> dict[Key, bytes]:
        """Return what is kept of each entry, as it is written."""
        split = [
            line.split(b"\t", 2)
            for line in _read(self._work, VALUES, key=self._key)[1].split(b"\n")
        ]
        return {
            (row[0].decode(), row[1].decode("utf-8", "surrogateescape")): row[2]
            for row in split
            if len(row) == 3
        }

    def __iter__(self) -> Iterator[Key]:
        return iter(self._rows or ())

    def __len__(self) -> int:
        return len(self._rows or ())


def _file(work: Path, name: str) -> Path:
    return work / "kept" / f"{name}.txt"


def _read(work: Path, name: str, *, key: str) -> tuple[str, bytes]:
    """Return the checksum of a file and what it keeps; nothing when any of it is not as written."""
    try:
        checksum, _, text = _file(work, name).read_bytes().partition(b"\n")
    except OSError:
        return "", b""
    if hashlib.sha256(text).hexdigest().encode() != checksum:
        return "", b""
    head, _, kept = text.partition(b"\n")
    return (checksum.decode(), kept) if head == _head(name, key=key) else ("", b"")


def _write(work: Path, name: str, *, key: str, lines: Iterable[bytes]) -> None:
    text = b"\n".join([_head(name, key=key), *lines])
    write_if_changed(_file(work, name), hashlib.sha256(text).hexdigest().encode() + b"\n" + text)


def _head(name: str, *, key: str) -> bytes:
    return f"{name} {FORM} {key}".encode()


def _value_lines(notes: KeptNotes) -> Iterator[bytes]:
    """Yield what each file was read as, where nothing at all was wrong with it."""
    values = notes.values
    before = values.lines() if isinstance(values, _Values) else {}
    for (kind, entry_id), state in notes.states.items():
        loaded = notes.read.get((kind, entry_id))
        row = before.get((kind, entry_id), b"")
        if loaded is not None and loaded.entry is not None and not loaded.problems:
            value = loaded.read.value
            row = json.dumps([state, value], separators=(",", ":")).encode()
        elif not row.startswith(f'["{state}"'.encode()):
            continue
        if "\t" not in entry_id and "\n" not in entry_id:
            yield f"{kind}\t{entry_id}\t".encode("utf-8", "surrogateescape") + row
