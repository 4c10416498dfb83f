"""Pack what is to be uploaded, in the order in which it is safe to upload it."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from pathlib import Path

from kb.check import check_notes
from kb.notes.load import RELEASE_FILE
from kb.site_folder import WORK, refuse_foreign, refuse_foreign_zip, refuse_place
from kb.writer import only_writer, write_in_order, write_zip

from ..build import PUBLISHED, Progress, Summary, build
from .history import KEPT, RECORD, WHOLE, Record, read_history, read_record, remember
from .list import (
    FOLDER,
    LIST,
    NEWEST,
    OUTSIDE,
    SCRIPT,
    WORKER,
    NotAList,
    ReleaseList,
    name_of,
    read_list,
)
from .privacy_guard import unfit_to_publish
from .published import Copy, open_copy

LAST = (SCRIPT, LIST, NEWEST, WORKER)
"""What leads a phone to a release, uploaded last and in this order: the list only when every file
stands, the news of it only when the list does, the worker that serves it at the very end."""


class NotToPublish(Exception):
    """The notes hold what must not leave the house, or the number was used already."""

    def __init__(self, reasons: list[str]) -> None:
        super().__init__("\n".join(reasons))
        self.reasons = reasons


EARLIEST = (1980, 1, 1, 0, 0, 0)
"""No zip file can name an earlier day."""


@dataclass(frozen=True)
class Packed:
    """What was packed."""

    summary: Summary
    to: Path
    files: int
    bytes: int
    written: int


def pack(
    notes_folder: Path,
    to: Path | None = None,
    *,
    published: str | None = None,
    progress: Progress = lambda step, done, of: None,
) -> Packed:
    """Build the site and put what is to be uploaded into a folder or a zip file.

    Parameters
    ----------
    notes_folder : Path
    to : Path, optional
        A folder, or a file that ends in `.zip`; by default `release-NUMBER.zip` in the notes.
    published : str, optional
        Folder, zip file or address of the copy that is published now, to tell changes from.

    Raises
    ------
    NotToPublish
        Before anything is built.
    NotesHaveFaults, and whatever else stops a build
    NoCopyThere
        When `published` cannot be read.
    FolderNotOurs
        When `to` is not ours to replace.
    OSError
        When the disk refuses; a folder may hold a part of the release then, its list still the old.
    """
    work = notes_folder / WORK
    notes = check_notes(notes_folder)
    unfit = unfit_to_publish(notes)
    if unfit:
        raise NotToPublish(unfit)
    if to is not None:
        refuse_place(to, notes=notes_folder)
        refuse = refuse_foreign_zip if to.suffix == ".zip" else refuse_foreign
        refuse(to)
    for where in (published, str(to) if to is not None and to.exists() else None):
        if where is not None:
            _learn(open_copy(where), work)
    out = work / PUBLISHED
    summary = build(notes_folder, out, progress=progress)
    _refuse_used_number(summary.record, read_history(work), told=notes.release is not None)
    to = to or notes_folder / f"release-{summary.number}.zip"
    files = upload_order(out)
    with only_writer(work):
        if to.suffix == ".zip":
            written = len(files) if write_zip(to, zipped(files, told=summary.record.told)) else 0
        else:
            written = write_in_order(to, files)
        remember(work, summary.record)
    size = sum(len(content) for _, content in files)
    return Packed(summary=summary, to=to, files=len(files), bytes=size, written=written)


def upload_order(site: Path) -> list[tuple[str, bytes]]:
    """Return every file of a finished release in the order in which to upload it."""
    paths = [one.relative_to(site).as_posix() for one in site.rglob("*") if one.is_file()]
    paths.sort(
        key=lambda path: (
            LAST.index(path) + 2 if path in OUTSIDE else path.startswith(f"{FOLDER}/"),
            path,
        )
    )
    return [(path, (site / path).read_bytes()) for path in paths]


def zipped(files: list[tuple[str, bytes]], *, told: ReleaseList) -> bytes:
    """Return a zip file that no clock was asked for: the same files are the same bytes.

    Every file is dated by the release's day and number. Were all releases dated alike, a server
    that goes by date and size would take one for another.
    """
    day = told.head["date"] or "1980-01-01"
    minutes = told.head["number"] % (24 * 60)
    date = (*(int(one) for one in day.split("-")), minutes // 60, minutes % 60, 0)
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as packed:
        for path, content in files:
            entry = zipfile.ZipInfo(path, date_time=max(date, EARLIEST))
            entry.external_attr = 0o644 << 16
            entry.create_system = 3
            entry.compress_type = zipfile.ZIP_DEFLATED
            packed.writestr(entry, content)
    return raw.getvalue()


def records_of(copy: Copy) -> list[Record]:
    """Return what a published copy remembers: its own release and those before it.

    Raises
    ------
    NoCopyThere
        When a host cannot be reached.
    """
    raw = copy.read(LIST)
    try:
        told, name = read_list(raw or b""), name_of(raw or b"")
    except NotAList:
        return []
    found = []
    for one in [name, *sorted(told.head.get("since", {}))][: KEPT + 1]:
        text = copy.read(f"{FOLDER}/{one}/{RECORD}")
        content = copy.read(f"{FOLDER}/{one}/{WHOLE}") if one == name else None
        record = read_record(text or b"", pack=content or b"")
        if record is not None and record.name == one:
            found.append(record)
    return found


def _learn(copy: Copy, work: Path) -> None:
    known = {one.name for one in read_history(work) if one.pack}
    with only_writer(work):
        for record in records_of(copy):
            if record.name not in known:
                remember(work, record)


def _refuse_used_number(record: Record, history: list[Record], *, told: bool) -> None:
    """Refuse a number that other notes were published under: phones would not take it."""
    used = [
        one for one in history if told and one.number >= record.number and one.notes != record.notes
    ]
    if used:
        last = used[-1]
        raise NotToPublish(
            [
                f"{RELEASE_FILE}: number {record.number} was published already with other notes "
                f"(release {last.number}, {last.name}); write number: {last.number + 1}"
            ]
        )
