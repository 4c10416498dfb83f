"""What `pack` and `pocket` refuse though the notes are sound; `check` warns in the same words."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import TYPE_CHECKING

from kb.made_pages import written_pages
from kb.model import Case
from kb.notes.load import RELEASE_FILE, TEAM_FILE, Notes, own_file
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText
from kb.release_format.places import RELEASES
from kb.site_folder import WORK

from .dates import dates_to_come, years_to_come
from .kept_notes import KeptNotes
from .private_files import private_in_bytes, private_in_entry

if TYPE_CHECKING:
    from kb.release_format.record import Record

NO_NUMBER = "no-number"
"""The rule of what `due` alone says: that nobody knows the next release's number."""


def refused_by_pack(notes: Notes, *, today: datetime.date, last: int = 0) -> list[Problem]:
    """Return what must not be published, as warnings, sorted by place: one list for all who ask.

    Parameters
    ----------
    notes : Notes
    today : date
        What is dated later is refused; a build, which asks no clock, gives `date.max`.
    last : int
        The last number that was published elsewhere, where no record of it is here.
    """
    return sorted([*unfit_to_leave(notes, today=today), *used_number(notes, last=last)])


def warned_of_today(notes: Notes, *, today: datetime.date) -> list[Problem]:
    """Return what `check` and `due` warn of beyond the rules: what needs a clock, or is refused."""
    return sorted([*refused_by_pack(notes, today=today), *years_to_come(notes, today=today)])


def _history(notes: Notes) -> list[Record]:
    """Return what was published before; what reads it is imported where there is any."""
    work = notes.folder / WORK
    if not (work / RELEASES).is_dir():
        return []
    from kb.release_format.kept import read_history

    return read_history(work)


def unknown_number(notes: Notes) -> Iterator[Problem]:
    """Warn that nothing here tells which number was published last; `pack` asks for it then."""
    team = notes.team
    known = notes.release is not None or team is None or team.published is not None
    if not known and not _history(notes):
        yield Problem(
            TEAM_FILE,
            1,
            1,
            NO_NUMBER,
            "nothing here tells which release was published last",
            "write published: and the address here, or pack once: ohmfolio pack --after NUMBER",
            warning=True,
        )


def unfit_to_leave(notes: Notes, *, today: datetime.date) -> list[Problem]:
    """Return what must not leave the house, by whatever way: private words, and dates to come."""
    return sorted([*private_words(notes), *dates_to_come(notes, today=today)])


def private_words(notes: Notes) -> Iterator[Problem]:
    """Warn of addresses, numbers, keys and passwords in what would be published.

    The keeper allows exact texts by `may_be_published` in `docs_data/release.yaml`. What a case
    says about somebody is a fault of the notes, and told as one.
    """
    allowed = notes.release.may_be_published if notes.release else []
    pages = [path.relative_to(notes.folder).as_posix() for path in written_pages(notes).values()]
    own = [file for file in (TEAM_FILE, RELEASE_FILE) if own_file(notes, file) is not None]
    for file in (*own, *pages):
        public = _public_keys(notes) if file == TEAM_FILE else []
        raw = (notes.folder / file).read_bytes()
        yield from private_in_bytes(raw, file=file, allowed=[*allowed, *public])
    if isinstance(notes, KeptNotes):
        yield from notes.private
        return
    for (kind, _), read in notes.texts.items():
        if kind != Case.kind:
            yield from private_in_entry(read, allowed=allowed)


def _public_keys(notes: Notes) -> list[str]:
    """Return what `ohmfolio key` wrote into the team's file: it looks secret and is public."""
    signing = notes.team.signing if notes.team is not None else None
    if signing is None:
        return []
    return [signing.key, *(text for each in signing.before for text in (each.key, each.by))]


def used_number(notes: Notes, *, last: int = 0) -> Iterator[Problem]:
    """Warn of a release number that other notes were published under: no phone would take it.

    Parameters
    ----------
    notes : Notes
    last : int
        The last number that was published elsewhere, where no record of it is here.
    """
    keeper, read = notes.release, notes.release_text
    if keeper is None or read is None or any(not problem.warning for problem in notes.problems):
        return
    history = _history(notes)
    says = None
    if history and history[-1].number >= keeper.number:
        from kb.catalog import Catalog
        from kb.snapshot import take_snapshot

        says = take_snapshot(Catalog(notes))
    used = [old for old in history if old.number >= keeper.number and old.notes != says]
    if used:
        newest = used[-1]
        by = f"with other notes (release {newest.number}, {newest.name})"
        yield _used(read, number=keeper.number, by=by, last=newest.number)
    elif keeper.number <= last:
        yield _used(read, number=keeper.number, by=f"elsewhere: the last is {last}", last=last)


def _used(read: YamlText, *, number: int, by: str, last: int) -> Problem:
    return read.problem(
        ("number",),
        "used-number",
        f"number {number} was published already {by}",
        hint=f"write number: {last + 1}",
        warning=True,
    )
