"""What is remembered of a release: its list, what the notes said then, and its whole content."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypedDict

from .content_pack import PackBroken, read_pack
from .release_list import NotAList, ReleaseList, read_list


class _Always(TypedDict):
    """What every record says."""

    entries: dict[str, dict[str, dict[str, Any]]]
    """Kind → id → what the file said."""
    numbers: dict[str, list[list[float]]]
    """Curve → [t_c, r_ohm, slope_ohm_per_k] at set temperatures: a move is told in ohms and kelvin
    whatever law gives them."""
    team: dict[str, Any]
    own: dict[str, str]
    """Hand-written page → a checksum of its text."""


class Snapshot(_Always, total=False):
    """What the notes said, as plain JSON values."""

    photos: dict[str, str]
    """Photo, by its path in the site → a checksum of its file; older records have none."""


@dataclass(frozen=True)
class Record:
    """One published release: its list, what the notes said then."""

    release_list: ReleaseList
    notes: Snapshot
    pack: bytes = b""
    """Every content, compressed; empty when only the record is left of it."""

    @cached_property
    def name(self) -> str:
        """The release's name."""
        return self.release_list.name

    @property
    def number(self) -> int:
        """The release's number."""
        return self.release_list.release.number

    @cached_property
    def contents(self) -> dict[str, bytes]:
        """Every content by checksum; nothing when the pack is gone or damaged."""
        try:
            return dict(read_pack(self.pack)) if self.pack else {}
        except PackBroken:
            return {}

    @property
    def text(self) -> str:
        """The record as it is kept and published."""
        content = {"list": self.release_list.text, "notes": self.notes}
        return json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":")) + "\n"


def read_record(content: bytes, *, pack: bytes = b"") -> Record | None:
    """Return a kept record, or None when it is not one of ours."""
    try:
        fields = json.loads(content)
        release_list = read_list(fields["list"])
        notes = fields["notes"]
        if not _is_snapshot(notes):
            return None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError, NotAList):
        return None
    return Record(release_list=release_list, notes=notes, pack=pack)


def _is_snapshot(notes: object) -> bool:
    """True when what notes said has the shape that a build counts on: a host may answer anything.

    Called before a record is believed: once kept, a wrong one would break every later build.
    """
    if not isinstance(notes, dict) or not notes.keys() >= Snapshot.__required_keys__:
        return False
    entries, numbers = notes["entries"], notes["numbers"]
    sums = [notes["own"], notes.get("photos", {})]
    return (
        isinstance(notes["team"], dict)
        and isinstance(entries, dict)
        and all(_of(dict, of_kind) for of_kind in entries.values())
        and isinstance(numbers, dict)
        and all(isinstance(rows, list) and all(map(_is_row, rows)) for rows in numbers.values())
        and all(_of(str, each) for each in sums)
    )


def _of(what: type, block: object) -> bool:
    return isinstance(block, dict) and all(isinstance(value, what) for value in block.values())


def _is_row(row: object) -> bool:
    """True for temperature, resistance and slope."""
    return (
        isinstance(row, list)
        and len(row) == 3
        and all(isinstance(x, float | int) and not isinstance(x, bool) for x in row)
    )
