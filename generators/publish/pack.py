"""Pack what is to be uploaded, in the order in which it is safe to upload it."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from kb.check import check_notes
from kb.check.publishing import refused_by_pack, unfit_to_leave
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.release_format.head import Head
from kb.release_format.places import upload_rank
from kb.site_folder import WORK, refuse_foreign, refuse_foreign_zip, refuse_place
from kb.whole_folders import finish_arriving, packing, write_release
from kb.writer import only_writer, sweep, write_if_changed

from ..build import PUBLISHED, Built, build
from ..release.history import remember
from .numbering import learn_last
from .signing import signer_of


class NotToPublish(Exception):
    """The notes hold what must not leave the house, or the number was used already."""

    def __init__(self, reasons: list[str]) -> None:
        super().__init__("\n".join(reasons))
        self.reasons = reasons


EARLIEST = (1980, 1, 1, 0, 0, 0)
LATEST = (2107, 12, 31, 23, 59, 58)
"""No zip file can name an earlier day, or a later one."""


@dataclass(frozen=True)
class Packed:
    """What was packed."""

    summary: Built
    to: Path
    files: int
    bytes: int
    written: int
    signed_by: str | None = None
    """The mark of the key that signed it."""


def pack(
    notes_folder: Path,
    *,
    to: Path | None = None,
    published: str | None = None,
    after: int | None = None,
    key: Path | None = None,
) -> Packed:
    """Build the site and put what is to be uploaded into a folder or a zip file.

    Parameters
    ----------
    notes_folder : Path
    to : Path, optional
        A folder, or a file that ends in `.zip`; by default `release-NUMBER.zip` in the notes.
    published : str, optional
        Folder, zip file or address of the copy that is published now, to count on and to tell
        changes from; by default what the team says.
    after : int, optional
        The last number that was published, 0 for none: then nobody is asked.
    key : Path, optional
        The private key's file, where releases are signed; by default its usual place.

    Raises
    ------
    NotToPublish, NoSigning
        Before anything is built.
    NotesHaveFaults, and whatever else stops a build
    NoCopyThere
        When the copy that is published cannot be read, or is none.
    FolderNotOurs
        When `to` is not ours to replace.
    OSError
        When the disk refuses; a folder that holds a part then, the next command finishes.
    """
    work = notes_folder / WORK
    notes = check_notes(notes_folder)
    _refuse_unpublishable(notes, last=0)
    _refuse_target(to, notes=notes_folder)
    signer = signer_of(notes, file=key)
    last = learn_last(notes, to=to, published=published, after=after)
    # What is published elsewhere is known only now.
    _refuse_unpublishable(notes, last=last)
    summary = build(notes_folder, out=work / PUBLISHED, after=last)
    to = to or notes_folder / f"release-{summary.number}.zip"
    files = signer.signed(upload_order(work / PUBLISHED))
    with only_writer(work):
        written = _write(files, to=to, summary=summary, notes=notes_folder)
        remember(work, record=summary.record)
    return Packed(summary, to, len(files), _bytes(files), written, signed_by=signer.mark)


def _bytes(files: list[tuple[str, bytes]]) -> int:
    return sum(len(content) for _, content in files)


def _refuse_target(to: Path | None, *, notes: Path) -> None:
    if to is None:
        return
    if not is_zip(to):
        finish_arriving(to)
    refuse_place(to, notes=notes)
    refuse = refuse_foreign_zip if is_zip(to) else refuse_foreign
    refuse(to)


def _write(files: list[tuple[str, bytes]], *, to: Path, summary: Built, notes: Path) -> int:
    """Write a release into a folder or a zip file; return how many files were written."""
    if not is_zip(to):
        with packing(notes, to=to):
            return write_release(to, files)
    refuse_foreign_zip(to)
    sweep(to.parent)
    return (
        len(files)
        if write_if_changed(to, zipped(files, head=summary.record.release_list.release))
        else 0
    )


def is_zip(to: Path) -> bool:
    """Return whether a release that goes there becomes a zip file, and not a folder."""
    return to.suffix == ".zip"


def refuse_unfit(notes: Notes) -> None:
    """Raise NotToPublish when the notes hold what must not leave the house.

    The clock is asked here, and changes no byte of what is made.
    """
    _refuse(unfit_to_leave(notes, today=date.today()))


def _refuse_unpublishable(notes: Notes, *, last: int) -> None:
    """Refuse what `check` and `due` say that `pack` refuses, a used number among it."""
    _refuse(refused_by_pack(notes, today=date.today(), last=last))


def _refuse(unfit: list[Problem]) -> None:
    if unfit:
        raise NotToPublish(list(map(_as_refused, unfit)))


def _as_refused(warned: Problem) -> str:
    """Return in words what `check` only warns of."""
    return replace(warned, warning=False).picture()


def upload_order(site: Path) -> list[tuple[str, bytes]]:
    """Return every file of a finished release in the order in which to upload it."""
    paths = (path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())
    return [(path, (site / path).read_bytes()) for path in sorted(paths, key=upload_rank)]


def zipped(files: list[tuple[str, bytes]], *, head: Head) -> bytes:
    """Return a zip file that no clock was asked for: the same files are the same bytes.

    Every file is dated by the release's day and number. Were all releases dated alike, a server
    that goes by date and size would take one for another.
    """
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as packed:
        for path, content in files:
            entry = zipfile.ZipInfo(path, date_time=_zip_date(head))
            entry.external_attr = 0o644 << 16
            entry.create_system = 3
            entry.compress_type = zipfile.ZIP_DEFLATED
            packed.writestr(entry, content)
    return raw.getvalue()


def _zip_date(head: Head) -> tuple[int, int, int, int, int, int]:
    day = date.fromisoformat(head.date) if head.date else date.min
    hours, minutes = divmod(head.number % (24 * 60), 60)
    return min(max((day.year, day.month, day.day, hours, minutes, 0), EARLIEST), LATEST)
