"""Remember what was published before: what it said, and what it held, for the last few releases."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from kb.writer import remove_folder, write_if_changed

from .bundle import PackBroken, read_pack
from .list import FOLDER, NotAList, ReleaseList, read_list
from .snapshot import Snapshot

KEPT = 6
"""So many earlier releases are remembered; a phone that is older still gets the whole pack."""
RECORD = "record.json"
WHOLE = "all.pack"


@dataclass(frozen=True)
class Record:
    """One published release: its name, its list, what the notes said then."""

    name: str
    told: ReleaseList
    notes: Snapshot
    pack: bytes = b""
    """Every content, compressed; empty when only the record is left of it."""

    @property
    def number(self) -> int:
        """The release's number."""
        return self.told.head["number"]

    @cached_property
    def contents(self) -> dict[str, bytes]:
        """Every content by checksum; nothing when the pack is gone or damaged."""
        try:
            return dict(read_pack(self.pack)) if self.pack else {}
        except PackBroken:
            return {}

    def record_text(self) -> str:
        """Return the record as it is kept and published."""
        told = {"list": self.told.text, "notes": self.notes}
        return json.dumps(told, sort_keys=True, ensure_ascii=False, separators=(",", ":")) + "\n"


def read_record(text: bytes, *, pack: bytes = b"") -> Record | None:
    """Return a kept record, or None when it is not one of ours."""
    try:
        told = json.loads(text)
        listed = read_list(told["list"].encode("utf-8"))
        return Record(name=listed.name, told=listed, notes=told["notes"], pack=pack)
    except (ValueError, KeyError, TypeError, AttributeError, NotAList):
        return None


def read_history(work: Path) -> list[Record]:
    """Return what was published before, oldest first; a damaged record is as good as none."""
    folder = work / FOLDER
    found = []
    for path in sorted(folder.glob(f"*/{RECORD}")) if folder.is_dir() else []:
        pack = path.with_name(WHOLE)
        record = read_record(path.read_bytes(), pack=pack.read_bytes() if pack.is_file() else b"")
        if record is not None and record.name == path.parent.name:
            found.append(record)
    return in_order(found)


def in_order(records: list[Record]) -> list[Record]:
    """Return records oldest first: by number, then by date."""
    return sorted(records, key=lambda one: (one.number, one.told.head["date"], one.name))


def earlier(history: list[Record], notes: Snapshot, *, number: int | None) -> list[Record]:
    """Return the releases before this one, the newest last, at most KEPT.

    What says the same as the notes do now is this release itself, published before: counting it
    would make the same notes into another release at every build.
    """
    return [
        one
        for one in history
        if not (one.notes == notes and number in (None, one.number))
        and (number is None or one.number < number)
    ][-KEPT:]


def remember(work: Path, record: Record) -> None:
    """Keep a record for later builds, and forget what is too old to matter."""
    folder = work / FOLDER / record.name
    write_if_changed(folder / WHOLE, record.pack)
    write_if_changed(folder / RECORD, record.record_text())
    for old in read_history(work)[: -(KEPT + 1)]:
        remove_folder(work / FOLDER / old.name)


def published_files(record: Record, before: list[Record]) -> Mapping[str, str]:
    """Return what the published copy holds of this release and the earlier ones, by path."""
    return {f"{FOLDER}/{one.name}/{RECORD}": one.record_text() for one in [*before, record]}
