"""Say of an id that no entry has: its slip, the unread file it probably is, or the file missing.

Another entry is offered only where the two ids are one slip of the hand apart. A neighbour such as
`t3` for `t4` would be obeyed, and then the wrong sensor stands accused.
"""

from __future__ import annotations

import difflib
import functools
import os
import re
from collections.abc import Iterable
from pathlib import Path

from kb.model import KINDS
from kb.model.words import tidy_id
from kb.notes.folder import DATA, other_files
from kb.notes.load import Notes, sound_id

MOST_NAMED = 5
_ENDING = re.compile(r"(?:\.(?:ya?ml|txt|bak|old|orig))+~?$", re.IGNORECASE)
_COPY = re.compile(r"-(?:\d{1,2}|copy(?:-\d+)?)$")
_LONG_TOKEN, _TOKEN, _EXCHANGED = 7, 4, 3
"""Letters that bear two slips, or one, and signs that bear an exchange: our own choice."""


def missing_hint(
    notes: Notes, *, kind: str, entry_id: str, ids: Iterable[str], families: tuple[str, ...] = ()
) -> str:
    """Return what would mend the name of an entry that is not there.

    Parameters
    ----------
    notes : Notes
    kind, entry_id : str
        What was named.
    ids : iterable of str
        The ids that there are of that kind.
    families : tuple of str
        The families of the entry that names it: their files stand together.
    """
    known = sorted(ids)
    unread = unread_file(notes, kind=kind, entry_id=entry_id)
    if unread is not None:
        return _as_entry(notes, unread, kind=kind, entry_id=entry_id, families=families)
    place = expected_file(notes, kind=kind, entry_id=entry_id, families=families)
    slips = [other for other in known if is_slip(entry_id, of=other)]
    tails = [other for other in known if other.endswith(f"-{entry_id}")]
    meant = slips or (tails if len(tails) == 1 else [])
    if meant and meant[0] == tidy_id(entry_id):
        return f"did you mean '{meant[0]}'?"
    if meant:
        return f"did you mean '{meant[0]}'? If not, its file is missing: {place}"
    if not known:
        return f"write {place}"
    return f"its file is missing: {place}; there is: {_some(known, like=entry_id)}"


def expected_file(notes: Notes, *, kind: str, entry_id: str, families: tuple[str, ...] = ()) -> str:
    """Return the path at which an entry is expected, beside others of its family."""
    folder = f"{DATA}/{kind}"
    for family in families:
        # What stands in a field may be no name that a file can have, or too long for one.
        if sound_id(family) and os.path.isdir(notes.folder / folder / family):
            folder = f"{folder}/{family}"
            break
    return f"{folder}/{tidy_id(entry_id) or entry_id}.yaml"


def unread_file(notes: Notes, *, kind: str, entry_id: str) -> Path | None:
    """Return the file that has this entry's name and is not read as one, if there is one."""
    # Asked for each id that is missing, of which a sheet may name thousands.
    if notes.strays is None:
        notes.strays = [path for path in _stray_files(notes) if _meant_by(path.name)]
    wanted = tidy_id(entry_id)
    found = [path for path in notes.strays if wanted in _meant_by(path.name)]
    # What stands in the folder of another kind and cannot be read as one is perhaps of this kind.
    for key in notes.broken:
        file = notes.texts[key].file
        if wanted in _meant_by(file.rpartition("/")[2]):
            found.append(notes.folder / file)
    return min(found, key=lambda path: (f"/{kind}/" not in path.as_posix(), path), default=None)


def _stray_files(notes: Notes) -> list[Path]:
    data = notes.folder / DATA
    files = [path for kind in KINDS for path in other_files(notes.folder, kind)]
    for folder in (notes.folder, data, *_foreign_folders(data)):
        if folder.is_dir():
            files += [path for path in folder.iterdir() if path.is_file()]
    return files


def _foreign_folders(data: Path) -> list[Path]:
    folders = data.iterdir() if data.is_dir() else ()
    return [path for path in folders if path.is_dir() and path.name not in KINDS]


@functools.lru_cache(maxsize=50_000)
def _meant_by(name: str) -> tuple[str, ...]:
    """Return the ids that a file's name may mean; none where no entry is named so."""
    stem = _ENDING.sub("", name)
    if stem == name or name.startswith("."):
        return ()
    tidy = tidy_id(stem)
    return tidy, _COPY.sub("", tidy)


def _as_entry(
    notes: Notes, path: Path, *, kind: str, entry_id: str, families: tuple[str, ...]
) -> str:
    """Say how an unread file becomes the entry that is missing."""
    shown = path.relative_to(notes.folder).as_posix()
    if shown.startswith(f"{DATA}/{kind}/"):
        return f"rename {shown}: it is to be {tidy_id(entry_id)}.yaml"
    place = expected_file(notes, kind=kind, entry_id=entry_id, families=families)
    noun = KINDS[kind].noun
    return f"{shown} is not read as a {noun}: if it is this one, move it to {place}"


def is_slip(word: str, *, of: str) -> bool:
    """Return whether two ids differ by no more than a slip of the hand.

    A digit that is another one is no slip: `t3` is another sensor than `t4`. Two digits exchanged
    in a longer number are.
    """
    word = tidy_id(word)
    if word.replace("-", "") == of.replace("-", ""):
        return True
    ours, theirs = word.split("-"), of.split("-")
    if len(ours) != len(theirs):
        return False
    return all(_is_slip_of_a_token(a, b) for a, b in zip(ours, theirs, strict=True) if a != b)


def _is_slip_of_a_token(a: str, b: str) -> bool:
    if re.search(r"\d", a + b):
        digits = sum(sign.isdigit() for sign in a)
        return digits >= _EXCHANGED and _exchanged(a, b)
    if len(a) >= _EXCHANGED and _exchanged(a, b):
        return True
    shorter = min(len(a), len(b))
    most = 2 if shorter >= _LONG_TOKEN else 1 if shorter >= _TOKEN else 0
    return _distance(a, b) <= most


def _exchanged(a: str, b: str) -> bool:
    """Return whether two neighbours changed places, and no more."""
    return sorted(a) == sorted(b) and _distance(a, b) == 1


def _distance(a: str, b: str) -> int:
    """Return how many letters were left out, added, mistaken, or exchanged with the next one."""
    before: list[int] = []
    row = list(range(len(b) + 1))
    for i, left in enumerate(a, start=1):
        before, above, row = row, row if i == 1 else before, [i]
        for j, right in enumerate(b, start=1):
            least = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (left != right))
            if i > 1 and j > 1 and left == b[j - 2] and a[i - 2] == right:
                least = min(least, above[j - 2] + 1)
            row.append(least)
    return row[-1]


def _some(known: list[str], *, like: str) -> str:
    """Return the ids that there are, the most alike first, and how many more."""
    alike = sorted(known, key=lambda other: -difflib.SequenceMatcher(None, like, other).ratio())[
        :MOST_NAMED
    ]
    more = len(known) - len(alike)
    return ", ".join(alike) + (f" and {more} more" if more else "")
