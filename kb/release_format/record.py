"""What is remembered of a release: its list, what the notes said then, and its whole content."""

from __future__ import annotations

import json
import lzma
import math
import re
from collections.abc import Collection
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, TypedDict

from .content_pack import PackBroken, read_pack
from .places import SITE_PATH
from .release_list import NotAList, ReleaseList, read_list

XZ = b"\xfd7zXZ\x00"
_PRESET = 1
"""A sixteenth of plain JSON; more would take ten times as long for a sixth less."""
_LONGEST, _MEMORY = 1 << 28, 1 << 27
"""Of what a host answers no more is unpacked, and with no more memory: 256 MB and 128 MB."""
DEEPEST = 24
"""Blocks inside each other: an entry's file has twenty at most, and stands in four."""
_MOST = 1e100
_ID = r"[a-z0-9-]{1,100}"
_SHORT_SUM = r"[0-9a-f]{16}"
_NO_RECORD = (
    ValueError,
    KeyError,
    TypeError,
    AttributeError,
    RecursionError,
    EOFError,
    lzma.LZMAError,
    NotAList,
)


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
    kept: bytes = field(default=b"", compare=False, repr=False)
    """The record as this program wrote it before; what came from elsewhere is written anew."""

    @cached_property
    def name(self) -> str:
        """The release's name."""
        return self.release_list.name

    @property
    def number(self) -> int:
        """The release's number."""
        return self.release_list.release.number

    def contents_of(self, wanted: Collection[str]) -> dict[str, bytes] | None:
        """Return some contents by checksum; None when the pack is gone or damaged.

        All of them would fill the memory: ten thousand pages are 170 MB.
        """
        try:
            return {each: raw for each, raw in read_pack(self.pack) if each in wanted}
        except PackBroken:
            return None

    @property
    def raw(self) -> bytes:
        """The record as it is kept and published: JSON, compressed as .xz."""
        if self.kept:
            return self.kept
        content = {"list": self.release_list.text, "notes": self.notes}
        text = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        return lzma.compress(text.encode("utf-8") + b"\n", preset=_PRESET)


def read_record(content: bytes, *, pack: bytes = b"") -> Record | None:
    """Return a kept record, or None when it is not one of ours; plain JSON is an earlier one."""
    try:
        if content.startswith(XZ):
            content = lzma.LZMADecompressor(lzma.FORMAT_XZ, _MEMORY).decompress(content, _LONGEST)
        fields = json.loads(content)
        release_list = read_list(fields["list"])
        notes = fields["notes"]
        if not _is_snapshot(notes):
            return None
    except _NO_RECORD:
        return None
    return Record(release_list=release_list, notes=notes, pack=pack)


def _is_snapshot(notes: object) -> bool:
    """True when what notes said is what a release could say: a host may answer anything.

    Called before a record is believed: once kept, a wrong one would break every later build.
    """
    if not isinstance(notes, dict) or not notes.keys() >= Snapshot.__required_keys__:
        return False
    entries, numbers = notes["entries"], notes["numbers"]
    return (
        isinstance(notes["team"], dict)
        and isinstance(entries, dict)
        and all(_are_entries(of_kind) for of_kind in entries.values())
        and isinstance(numbers, dict)
        and all(isinstance(rows, list) and all(map(_is_row, rows)) for rows in numbers.values())
        and all(_are_sums(each) for each in (notes["own"], notes.get("photos", {})))
    )


def _are_entries(of_kind: object) -> bool:
    """True for entries by id, each with a name that is words where it has any."""
    return isinstance(of_kind, dict) and all(
        isinstance(entry, dict)
        and re.fullmatch(_ID, entry_id) is not None
        and isinstance(entry.get("name", ""), str)
        for entry_id, entry in of_kind.items()
    )


def _are_sums(sums: object) -> bool:
    """True for checksums by path in the site."""
    return isinstance(sums, dict) and all(
        isinstance(each, str)
        and re.fullmatch(_SHORT_SUM, each) is not None
        and re.fullmatch(SITE_PATH, path) is not None
        for path, each in sums.items()
    )


def can_be_kept(record: Record) -> bool:
    """True for a record whose every value can be written again; asked where one comes from a host.

    What is kept here already was asked then: going over all values takes as long as reading them.
    """
    return _is_plain(record.notes, depth=DEEPEST)


def _is_plain(value: object, *, depth: int) -> bool:
    """True for whole letters, figures that are some, and what does not stand too deep."""
    if isinstance(value, dict):
        return depth > 0 and all(
            _is_plain(key, depth=0) and _is_plain(inner, depth=depth - 1)
            for key, inner in value.items()
        )
    if isinstance(value, list):
        return depth > 0 and all(_is_plain(inner, depth=depth - 1) for inner in value)
    if isinstance(value, str):
        return value.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in value)
    if isinstance(value, int | float):
        # A meter over range reads endless; what is no number at all, or beyond any, is refused.
        return abs(value) < _MOST or value == math.inf
    return value is None


def _is_row(row: object) -> bool:
    """True for temperature, resistance and slope."""
    return (
        isinstance(row, list)
        and len(row) == 3
        and all(isinstance(x, float | int) and not isinstance(x, bool) for x in row)
    )
