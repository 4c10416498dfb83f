"""An entry's other id in every file that names it: all else stays as it is typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import PurePosixPath

from pydantic import BaseModel

from kb.model import KINDS, Entry, Lesson
from kb.model.shape import references
from kb.notes.folder import page_files
from kb.notes.load import Notes
from kb.notes.yaml_text import Mark, YamlText

Place = tuple[str, Mark]
"""A file, and where in it an entry is named."""

_WAS = re.compile(r"^was:[ ]*(?P<ids>[^#\n]*?)[ ]*(?P<rest>#.*)?$", re.MULTILINE)


class NotFollowed(Exception):
    """A place names the entry in a way that nothing here can change."""


def renamed(notes: Notes, entry: Entry, *, new_id: str) -> dict[str, str | None]:
    """Return what has to stand in each file for an entry to have another id.

    Returns
    -------
    dict of path from the folder of the notes → its text; None for the file that goes

    Raises
    ------
    NotFollowed
        When a place cannot be changed; it says which.
    """
    texts: dict[str, str] = {}
    for file, places in _by_file(notes, entry).items():
        lines = _text(notes, file).splitlines(keepends=True)
        for mark in sorted(set(places), key=lambda mark: (mark.line, mark.column), reverse=True):
            lines[mark.line - 1] = _replaced(lines[mark.line - 1], mark, file, entry, new_id)
        texts[file] = "".join(lines)
    for file in _pages(notes):
        text = _text(notes, file)
        other = _link_to(entry).sub(rf"\g<before>{new_id}\g<after>", text)
        if other != text:
            texts[file] = other
    own = notes.texts[(entry.kind, entry.id)].file
    text = _with_former_ids(texts.pop(own, _text(notes, own)), entry, new_id=new_id)
    return {**texts, own: None, PurePosixPath(own).with_name(f"{new_id}.yaml").as_posix(): text}


def places_of(notes: Notes, entry: Entry) -> list[Place]:
    """Return every place where something else names an entry, in order."""
    own = notes.texts[(entry.kind, entry.id)].file
    found = [
        (file, mark)
        for file, marks in _by_file(notes, entry).items()
        for mark in set(marks)
        if file != own
    ]
    for file in _pages(notes):
        for number, line in enumerate(_text(notes, file).splitlines(), start=1):
            found += [
                (file, Mark(number, link.end("before") + 1))
                for link in _link_to(entry).finditer(line)
            ]
    return sorted(found, key=lambda place: (place[0], place[1].line, place[1].column))


def _by_file(notes: Notes, entry: Entry) -> dict[str, list[Mark]]:
    found: dict[str, list[Mark]] = {}
    for block, read in _blocks(notes):
        for path, kind, entry_id in references(block):
            if (kind, entry_id) == (entry.kind, entry.id):
                found.setdefault(read.file, []).append(read.place(path))
        for path, page in block.pages() if isinstance(block, Lesson) else ():
            if page == f"{entry.kind}/{entry.id}":
                found.setdefault(read.file, []).append(read.place(path))
    for file, slip in notes.slips.items():
        if slip.entry == f"{entry.kind}/{entry.id}":
            found.setdefault(file, []).append(notes.slip_texts[file].place(("entry",)))
    return found


def _blocks(notes: Notes) -> Iterator[tuple[BaseModel, YamlText]]:
    for kind in KINDS:
        for entry in notes.of_kind(kind).values():
            yield entry, notes.texts[(kind, entry.id)]
    if notes.team is not None and notes.team_text is not None:
        yield notes.team, notes.team_text


def _pages(notes: Notes) -> list[str]:
    return [path.relative_to(notes.folder).as_posix() for path in page_files(notes.folder)]


def _text(notes: Notes, file: str) -> str:
    # Read as bytes: the ends of lines stay what they are.
    return (notes.folder / file).read_bytes().decode("utf-8-sig")


def _replaced(line: str, mark: Mark, file: str, entry: Entry, new_id: str) -> str:
    named = re.compile(rf"(?P<before>['\"]?(?:{entry.kind}/)?){re.escape(entry.id)}(?![\w-])")
    found = named.match(line, mark.column - 1)
    if found is None:
        raise NotFollowed(
            f"{file}:{mark.line}:{mark.column}: '{entry.id}' is written here in a way that cannot "
            "be followed; write it plainly, on one line"
        )
    return f"{line[: found.end('before')]}{new_id}{line[found.end() :]}"


def _link_to(entry: Entry) -> re.Pattern[str]:
    return re.compile(
        rf"(?P<before>\b{entry.kind}/){re.escape(entry.id)}(?P<after>(?:\.html|\.md)\b)"
    )


def _with_former_ids(text: str, entry: Entry, *, new_id: str) -> str:
    """Return the entry's text with the id that it had among its former ones."""
    former = [*(old for old in entry.was if old != new_id), entry.id]
    line = f"was: [{', '.join(former)}]"
    found = _WAS.search(text)
    if found is None:
        return f"{text.rstrip()}\n{line}\n"
    if entry.was and not found["ids"]:
        raise NotFollowed("'was' stands on several lines; write it as 'was: [old-id]'")
    comment = f"  {found['rest']}" if found["rest"] else ""
    return f"{text[: found.start()]}{line}{comment}{text[found.end() :]}"
