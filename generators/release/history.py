"""Remember what was published before: what it said, and what it held, for the last few releases."""

from __future__ import annotations

from pathlib import Path

from kb.release_format.kept import read_history
from kb.release_format.places import RELEASES, record_path, whole_pack_path
from kb.release_format.record import Record, Snapshot
from kb.writer import remove_folder, write_if_changed

KEPT = 6
"""So many earlier releases are remembered; a phone that is older still gets the whole pack."""


def earlier(history: list[Record], *, notes: Snapshot, number: int | None) -> list[Record]:
    """Return the releases before this one, the newest last, at most KEPT.

    What says the same as the notes do now is this release itself, published before: counting it
    would make the same notes into another release at every build.
    """
    return [
        record
        for record in history
        if not (record.notes == notes and number in (None, record.number))
        and (number is None or record.number < number)
    ][-KEPT:]


def remember(work: Path, *, record: Record) -> None:
    """Keep a record for later builds, and forget what is too old to matter."""
    write_if_changed(work / whole_pack_path(record.name), record.pack)
    write_if_changed(work / record_path(record.name), record.raw)
    for old in read_history(work)[: -(KEPT + 1)]:
        remove_folder(work / RELEASES / old.name)


def published_records(record: Record, *, earlier: list[Record]) -> dict[str, bytes]:
    """Return the records that stand in the published copy, this release's and earlier, by path."""
    return {record_path(each.name): each.raw for each in [*earlier, record]}
