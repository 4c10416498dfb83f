"""Which number comes next: counted on from what is published, and never begun anew by accident."""

from __future__ import annotations

from pathlib import Path

from kb.check.publishing import unknown_number
from kb.notes.load import Notes
from kb.release_format.head import MOST_NUMBER
from kb.release_format.kept import read_history
from kb.release_format.newest import read_newest
from kb.release_format.places import LIST, NEWEST, plain_record_path, record_path, whole_pack_path
from kb.release_format.record import Record, can_be_kept, read_record
from kb.release_format.release_list import NotAList, name_of, read_list
from kb.site_folder import WORK
from kb.writer import only_writer

from ..release.history import KEPT, remember
from .published import Copy, NoCopyThere, open_copy
from .signing import not_as_signed

SAY_THE_LAST = (
    "so nobody knows which number comes next; say the last one published, which stands at the foot "
    "of every page on a phone: --after NUMBER, or --after 0 for the very first release"
)
_WITHOUT_IT = (
    "to go on without it, say the last number that you published, which stands at the foot of "
    "every page on a phone: --after NUMBER"
)
_ELSEWHERE = "put the new release into a new folder, or move away what stands there"


BROKEN = "is damaged, or says what no release can"


class RecordBroken(NoCopyThere):
    """What a copy remembers of its own release cannot be believed."""


def learn_last(notes: Notes, *, to: Path | None, published: str | None, after: int | None) -> int:
    """Take in the records of what is published; return the last number that no record is here of.

    Parameters
    ----------
    notes : Notes
    to : Path or None
        Where the release goes; an older one may stand there.
    published : str or None
        The copy to ask instead of the one that the team names.
    after : int or None
        The last number, known by the keeper: then only `to` and `published` are looked at.

    Raises
    ------
    NoCopyThere
        When a copy that was named cannot be read, or holds no release.
    """
    numbers = [after or 0]
    asked = published or (_of_team(notes) if after is None else None)
    if asked is not None:
        copy = _open(asked)
        _refuse_unsigned(copy, notes=notes, hint=_WITHOUT_IT)
        numbers.append(_learn(copy, work=notes.folder / WORK))
    if to is not None and to.exists():
        copy = open_copy(str(to))
        _refuse_unsigned(copy, notes=notes, hint=_ELSEWHERE)
        numbers.append(_learn(copy, work=notes.folder / WORK, may_be_empty=True))
    return max(numbers)


def _refuse_unsigned(copy: Copy, *, notes: Notes, hint: str) -> None:
    """Raise NoCopyThere where releases are signed and the keeper's key did not sign this one.

    A release that was packed from these notes here is known by its list: it may be of a time before
    anybody signed, or before the key was changed.
    """
    signing = notes.team.signing if notes.team is not None else None
    listed = copy.read(LIST)
    if signing is None or not signing.signs or listed is None:
        return
    own = {record.release_list.text for record in read_history(notes.folder / WORK)}
    if listed.decode("utf-8", "replace") in own:
        return
    newest = read_newest(copy.read(NEWEST) or b"")
    if newest is None:
        faults = [f"its {NEWEST} says no release"]
    else:
        faults = list(not_as_signed(copy, newest=newest, key=signing.key))
        if newest.name != name_of(listed):
            faults.append(f"{NEWEST} names another release than {LIST}")
    if faults:
        raise NoCopyThere(
            f"{copy.where} is not what your key signed, so nothing is learned from it: "
            f"{faults[0].partition(';')[0]}. 'ohmfolio verify {copy.where}' says more; {hint}"
        )


def nothing_is_known(
    notes: Notes, *, to: Path | None, published: str | None, after: int | None
) -> bool:
    """Return whether nothing at all tells if the notes were published before."""
    if after is not None or published is not None or (to is not None and to.exists()):
        return False
    return any(unknown_number(notes))


def _of_team(notes: Notes) -> str | None:
    return notes.team.published if notes.team is not None else None


def _open(where: str) -> Copy:
    try:
        return open_copy(where)
    except NoCopyThere as gone:
        raise NoCopyThere(f"{gone}, {SAY_THE_LAST}") from None


def _learn(copy: Copy, *, work: Path, may_be_empty: bool = False) -> int:
    """Remember what a copy knows; return its number where it came without a record, else 0."""
    try:
        newest = read_list(copy.read(LIST) or b"")
        records = records_of(copy)
    except NotAList:
        if may_be_empty:
            return 0
        raise NoCopyThere(
            f"{copy.where} holds no release that can be read, {SAY_THE_LAST}"
        ) from None
    except RecordBroken as broken:
        # What stands where the release goes is written anew.
        if may_be_empty:
            return newest.release.number
        raise NoCopyThere(f"{broken}, {SAY_THE_LAST}") from None
    except NoCopyThere as gone:
        raise NoCopyThere(f"{gone}, {SAY_THE_LAST}") from None
    if newest.release.number > MOST_NUMBER:
        raise NoCopyThere(
            f"{copy.where} calls its release number {newest.release.number}, which none has, "
            f"{SAY_THE_LAST}"
        )
    known = {record.name for record in read_history(work) if record.pack}
    with only_writer(work):
        for record in records:
            if record.name not in known:
                remember(work, record=record)
    return 0 if any(record.name == newest.name for record in records) else newest.release.number


def records_of(copy: Copy) -> list[Record]:
    """Return what a published copy remembers: its own release and those before it.

    Raises
    ------
    NoCopyThere
        When a host cannot be reached.
    RecordBroken
        When the record of its own release says what no release can.
    """
    content = copy.read(LIST) or b""
    try:
        newest, newest_name = read_list(content), name_of(content)
    except NotAList:
        return []
    found = []
    for name in [newest_name, *sorted(newest.release.since)][: KEPT + 1]:
        pack = copy.read(whole_pack_path(name)) if name == newest_name else None
        path, record = record_of(copy, name=name, pack=pack or b"")
        if record is not None:
            found.append(record)
        elif path and name == newest_name:
            raise RecordBroken(f"{copy.where}: {path} {BROKEN}; nothing was learned from it")
    return found


def record_of(copy: Copy, *, name: str, pack: bytes = b"") -> tuple[str, Record | None]:
    """Return where a copy keeps the record of a release, and what it says.

    Returns
    -------
    (path, record)
        An empty path where it remembers nothing; no record where it is damaged, or says what no
        release can.
    """
    for path in (record_path(name), plain_record_path(name)):
        content = copy.read(path)
        if content:
            record = read_record(content, pack=pack)
            if record is None or record.name != name or record.number > MOST_NUMBER:
                return path, None
            return path, record if can_be_kept(record) else None
    return "", None
