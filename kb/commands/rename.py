"""`ohmfolio rename` and `ohmfolio remove`: another name for an entry, or none."""

from __future__ import annotations

import re
from pathlib import Path

import click

from kb.changing import change_notes, changing
from kb.made_pages import former_pages, made_pages
from kb.model import KINDS, Entry
from kb.model.words import ID_PATTERN, tidy_id
from kb.notes.load import NO_ID, Notes, load_notes
from kb.notes.problem import nearest
from kb.renaming import NotFollowed, places_of, renamed
from kb.words.phrase import counted

from .disk_words import disk_refused
from .editor_files import refresh_schemas
from .options import NoAnswer, NotUnderstood, json_option, notes_option, read_entry, say_json

MOST_SHOWN = 10


@click.command()
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="NEW")
@notes_option
@json_option
def rename(old: str, new: str, notes: Path, as_json: bool) -> None:
    """Give an entry another id, in every file that names it: all of them, or none.

    OLD is an id, or KIND/ID where entries of two kinds share it. Comments and all else stay as
    they are typed. The old address leads to the new page from then on: the entry keeps its former
    ids under 'was'.

    Example: ohmfolio rename quellmark-coil-out quellmark-coil-left
    """
    loaded = _readable(notes)
    entry = _named(loaded, name=old)
    _refuse_id(loaded, entry, new_id=new)
    try:
        files = renamed(loaded, entry, new_id=new)
    except NotFollowed as fault:
        raise NoAnswer(f"{fault}; nothing was changed") from None
    _change(notes, files)
    changed = sorted(path for path, text in files.items() if text is not None)
    if as_json:
        say_json({"kind": entry.kind, "from": entry.id, "to": new, "files": changed})
        return
    click.echo(
        f"'{entry.id}' is '{new}' now, in {counted(len(changed), noun='file')}; "
        f"{entry.href} will lead to its new page."
    )
    for path in changed:
        click.echo(f"  {path}")


@click.command()
@click.argument("name", metavar="ENTRY")
@notes_option
@json_option
def remove(name: str, notes: Path, as_json: bool) -> None:
    """Remove an entry; refused while anything names it, with each place.

    ENTRY is an id, or KIND/ID where entries of two kinds share it. Git, or your backup, still has
    the file.

    Example: ohmfolio remove brenholt-burnt-tab
    """
    loaded = _readable(notes)
    entry = _named(loaded, name=name)
    places = places_of(loaded, entry)
    if places:
        shown = [f"  {file}:{mark.line}:{mark.column}" for file, mark in places[:MOST_SHOWN]]
        more = len(places) - len(shown)
        raise NoAnswer(
            f"{counted(len(places), noun='place')} still name{'s' * (len(places) == 1)} the "
            f"{entry.noun} '{entry.id}'; nothing was removed. Take it out there first:\n"
            + "\n".join([*shown, *([f"  and {more} more"] if more else [])])
        )
    file = loaded.texts[(entry.kind, entry.id)].file
    _change(notes, {file: None})
    if as_json:
        say_json({"kind": entry.kind, "removed": entry.id, "file": file})
    else:
        click.echo(f"{file} is removed.")


def _readable(notes: Path) -> Notes:
    """Return the notes when every file of them can be read: else a place would be passed over."""
    # What is read now is what is changed: nobody else writes until the command ends.
    click.get_current_context().with_resource(changing(notes))
    loaded = load_notes(notes)
    faulty = [problem for problem in sorted(loaded.problems) if not problem.warning]
    if faulty:
        raise NoAnswer(
            f"a file cannot be read, so not every place is known; nothing was changed\n"
            f"{faulty[0].picture()}"
        )
    return loaded


def _named(notes: Notes, *, name: str) -> Entry:
    kind, _, entry_id = name.rpartition("/")
    if kind and kind not in KINDS:
        raise NotUnderstood(f"there is no kind '{kind}'; {nearest(kind, KINDS)}")
    kinds = [each for each in ([kind] if kind else KINDS) if notes.knows(each, entry_id)]
    if not kinds:
        ids = [known for each in ([kind] if kind else KINDS) for known in notes.ids(each)]
        raise NotUnderstood(f"there is no entry '{name}'; {nearest(entry_id, ids)}")
    if len(kinds) > 1:
        raise NotUnderstood(
            f"{' and '.join(f'{each}/{entry_id}' for each in kinds)} share this id; name one"
        )
    return read_entry(notes, model=KINDS[kinds[0]], entry_id=entry_id)


def _refuse_id(notes: Notes, entry: Entry, *, new_id: str) -> None:
    if new_id == NO_ID or not re.fullmatch(ID_PATTERN, new_id):
        meant = tidy_id(new_id)
        raise NotUnderstood(
            f"'{new_id}' cannot be an id; use small letters, digits and single hyphens"
            + (f", such as {meant}" if meant and meant != new_id else "")
        )
    page = f"{entry.kind}/{new_id}"
    owner = former_pages(notes).get(page)
    if (page in made_pages(notes) and owner is None) or (owner and owner.id != entry.id):
        raise NotUnderstood(f"'{new_id}' is taken by another {entry.noun}; choose another id")


def _change(notes: Path, files: dict[str, str | None]) -> None:
    try:
        change_notes(notes, files)
    except OSError as error:
        raise disk_refused(error, at=notes, stands="nothing was changed") from None
    refresh_schemas(notes)
