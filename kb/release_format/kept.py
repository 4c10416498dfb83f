"""Read what this machine remembers of the releases that were published before."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from .places import RELEASES, plain_record_path, record_path, whole_pack_path
from .record import XZ, Record, read_record


def read_history(work: Path) -> list[Record]:
    """Return what was published before, oldest first; a damaged record is as good as none."""
    folder = work / RELEASES
    names = [path.name for path in folder.iterdir()] if folder.is_dir() else []
    kept = (_kept_record(work, name) for name in names)
    return in_order([record for record in kept if record is not None])


def _kept_record(work: Path, name: str) -> Record | None:
    pack = work / whole_pack_path(name)
    files = (work / record_path(name), work / plain_record_path(name))
    file = next((file for file in files if file.is_file()), None)
    if file is None:
        return None
    raw = file.read_bytes()
    record = read_record(raw, pack=pack.read_bytes() if pack.is_file() else b"")
    if record is None or record.name != name:
        return None
    # Each build publishes it again: packed once, it is not packed anew every time.
    return replace(record, kept=raw) if raw.startswith(XZ) else record


def in_order(records: list[Record]) -> list[Record]:
    """Return records oldest first: by number, then by date."""
    return sorted(
        records, key=lambda record: (record.number, record.release_list.release.date, record.name)
    )
