"""The examples that `ohmfolio start --bare` wrote: which still stand, and which may go."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel

from kb.editor import MODELINE
from kb.model import KINDS, Lesson
from kb.model.shape import references
from kb.notes.folder import DATA
from kb.notes.load import Notes

STARTER = Path(__file__).resolve().parent / "starter"


@dataclass(frozen=True, kw_only=True)
class Example:
    """An example entry that stands in the notes.

    Parameters
    ----------
    path : str
        Its file, from the folder of the notes.
    changed : bool
        Whether somebody has changed it by hand: then it may be theirs by now.
    named_by : tuple of str
        Files of the keeper's own that name it, or name another example that does.
    """

    kind: str
    entry_id: str
    path: str
    changed: bool
    named_by: tuple[str, ...] = ()


def starter_files() -> dict[tuple[str, str], Path]:
    """Return the files of the examples by kind and id."""
    folder = STARTER / DATA
    return {
        (kind, path.stem): path
        for kind in KINDS
        for path in sorted((folder / kind).rglob("*.yaml"))
    }


def examples_of(notes: Notes) -> list[Example]:
    """Return every example that stands, in order of its file."""
    found = []
    for (kind, entry_id), path in starter_files().items():
        read = notes.texts.get((kind, entry_id))
        if read is not None:
            changed = _lines(notes.folder / read.file) != _lines(path)
            found.append(Example(kind=kind, entry_id=entry_id, path=read.file, changed=changed))
    return sorted(found, key=lambda example: example.path)


def _lines(path: Path) -> list[bytes]:
    """Return a file's lines but the editor's, however they end: git may have changed that."""
    lines = path.read_bytes().splitlines() if path.is_file() else []
    return [line.rstrip() for line in lines if not line.startswith(MODELINE.encode())]


def own_ids(notes: Notes, *, kind: str) -> list[str]:
    """Return the ids of a kind without the examples that are as they were written."""
    unchanged = {e.entry_id for e in examples_of(notes) if e.kind == kind and not e.changed}
    return [entry_id for entry_id in notes.of_kind(kind) if entry_id not in unchanged]


def removable(
    examples: list[Example], *, notes: Notes, changed_too: bool
) -> tuple[list[Example], list[Example]]:
    """Return the examples that may go, and those that stay.

    Parameters
    ----------
    examples : list of Example
    notes : Notes
    changed_too : bool
        Whether those that were changed by hand may go too.

    Returns
    -------
    (go, stay)
        What something else names stays, and so does what that names in turn.
    """
    going = {
        (example.kind, example.entry_id): example
        for example in examples
        if changed_too or not example.changed
    }
    staying = [example for example in examples if (example.kind, example.entry_id) not in going]
    waiting = [
        (file, key)
        for file, named_from, key in _names(notes)
        if named_from not in going and key in going
    ]
    while waiting:
        file, key = waiting.pop()
        example = going.pop(key, None)
        if example is None:
            continue
        kept = Example(**{**vars(example), "named_by": (file,)})
        staying.append(kept)
        waiting += [
            (kept.path, named) for _, by, named in _names(notes) if by == key and named in going
        ]
    return list(going.values()), sorted(staying, key=lambda example: example.path)


def _names(notes: Notes) -> Iterator[tuple[str, tuple[str, str], tuple[str, str]]]:
    """Yield each naming: the file, the entry it is of, and the entry that is named."""
    blocks: list[tuple[str, tuple[str, str], BaseModel]] = [
        (notes.texts[(kind, entry.id)].file, (kind, entry.id), entry)
        for kind in KINDS
        for entry in notes.of_kind(kind).values()
    ]
    if notes.team is not None and notes.team_text is not None:
        blocks.append((notes.team_text.file, ("", "team"), notes.team))
    for file, by, block in blocks:
        for _, kind, entry_id in references(block):
            yield file, by, (kind, entry_id)
        for _, page in block.pages() if isinstance(block, Lesson) else ():
            kind, _, entry_id = page.partition("/")
            yield file, by, (kind, entry_id)
