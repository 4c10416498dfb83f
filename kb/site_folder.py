"""Tell a site that was built here from everything else on the disk, and where none may go."""

from __future__ import annotations

import contextlib
import errno
import json
import os
import zipfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from kb.notes.folder import CONTENT, DATA, DRESS, leads_out
from kb.release_format.places import LIST, UPLOADED_LAST, is_record_or_pack

WORK = ".build"
"""Where a build works, in the notes."""
CRUMB = ".ohmfolio-"
"""What begins the name of a file that is being written."""
FILLING = f"{CRUMB}filling"
"""Where a release waits in its folder while it is written."""
ARRIVING = f"{CRUMB}arriving"
"""Where it waits once it is whole, until each of its files and folders has its name."""
LEAVING = f"{CRUMB}leaving"
"""Where what it replaced waits to be removed."""
NAMES = f"{CRUMB}names.json"
"""In the folder that arrives: the names of the release."""
POCKET_SIGN = " data-pocket>"
"""Stands in every family's file, and in no page of a site."""
PRINT_SIGN = "ohmfolio-printed"
"""Stands in every PDF that was printed here, as a remark at its end."""

_DESKTOP = {".DS_Store", "Thumbs.db", "desktop.ini"}
"""What desktops leave in a folder by themselves when it is looked at."""


class FolderNotOurs(Exception):
    """No site may take this place: it holds something else, or something needs it."""


def refuse_foreign(out: Path) -> None:
    """Raise FolderNotOurs when `out` holds anything that no build put there.

    A list of a release is known by its shape, not by its name alone; and a file that the list does
    not name is somebody's.
    """
    if not out.exists():
        return
    if not out.is_dir():
        raise FolderNotOurs(f"{out} is a file; name a folder for the site")
    known = _listed(out)
    if not known and any(path.name not in (FILLING, ARRIVING, LEAVING) for path in out.iterdir()):
        holds = (
            f"a {LIST} that lists no site"
            if (out / LIST).exists()
            else (f"files but no {LIST}, so it is not a site that was built here")
        )
        raise FolderNotOurs(
            f"{out} holds {holds}; name a new or empty folder, it would be replaced"
        )
    strays = sorted(path for path in files_in(out) if not _ours(path, known))
    if strays:
        more = f" and {len(strays) - 1} more" if len(strays) > 1 else ""
        raise FolderNotOurs(
            f"{out} is a site that was built here, but {strays[0]}{more} in it did not come from a "
            "build and would be lost; take that out, or name another folder"
        )


def refuse_foreign_zip(file: Path) -> None:
    """Raise FolderNotOurs when `file` stands and is no release that was packed here."""
    if not file.exists():
        return
    # What is not ours raises whatever its reader trips over.
    with contextlib.suppress(Exception), zipfile.ZipFile(file) as packed:
        if files_of_release(packed.read(LIST)):
            return
    raise FolderNotOurs(
        f"{file} is no release that was packed here; name a new file, it would be replaced"
    )


def refuse_foreign_pocket(file: Path) -> None:
    """Raise FolderNotOurs when `file` stands and is no family's file that was written here."""
    _refuse_unsigned(file, sign=POCKET_SIGN, what="pocket file that was written here")


def refuse_foreign_print(file: Path) -> None:
    """Raise FolderNotOurs when `file` stands and is nothing that was printed here."""
    _refuse_unsigned(file, sign=PRINT_SIGN, what="sheet that was printed here")


def _refuse_unsigned(file: Path, *, sign: str, what: str) -> None:
    if not file.exists():
        return
    if file.is_dir() or sign.encode("ascii") not in file.read_bytes():
        raise FolderNotOurs(
            f"{file} is no {what}, and would be replaced; move it, or name another folder with --to"
        )


def refuse_place(out: Path, *, notes: Path) -> None:
    """Raise FolderNotOurs when a site at `out` would take the place of what is needed.

    Parameters
    ----------
    out : Path
        A folder, or a file to put into one.
    notes : Path
    """
    out, notes = out.resolve(), notes.resolve()
    instead = f"name a new folder, such as {notes / 'site'}"
    if out == out.parent:
        raise FolderNotOurs(f"{out} is the whole disk, and a site replaces its folder; {instead}")
    if out == notes:
        raise FolderNotOurs(
            f"{out} holds the notes themselves, and a site replaces its folder; {instead}"
        )
    if notes.is_relative_to(out):
        raise FolderNotOurs(
            f"{out} holds the folder of the notes ({notes}), and a site replaces its folder; "
            f"{instead}"
        )
    for name in (DATA, CONTENT, DRESS, WORK):
        if any(out.is_relative_to(room) for room in (notes / name, (notes / name).resolve())):
            raise FolderNotOurs(
                f"{out} is in {name}/ of the notes, which a build reads or works in; {instead}"
            )
    for above in out.parents:
        if _listed(above):
            raise FolderNotOurs(
                f"{out} is in the finished site {above}, which the next build replaces; {instead}"
            )


def files_of_release(list_content: bytes) -> set[str]:
    """Return the files that a release's list leads to; nothing when it is none of ours."""
    # Imported here: what only asks whether a site is still the same must not wait for it.
    from kb.release_format.release_list import NotAList, read_list

    try:
        return {*read_list(list_content).files, *UPLOADED_LAST}
    except NotAList:
        return set()


def refuse_way_out(path: Path, *, notes: Path) -> None:
    """Raise OSError when a link on the way to a file of the notes leads out of them.

    Whatever stands there is somebody else's: it is neither changed nor removed.
    """
    if leads_out(path.parent, inside=notes):
        raise OSError(errno.EXDEV, "a link on the way leads out of the notes", str(path))


def refuse_filled(target: Path, *, parts: Iterable[str], beside: Callable[[str], bool]) -> None:
    """Raise FileExistsError when a folder that is to be filled is a file, or holds other things.

    Parameters
    ----------
    target : Path
    parts : iterable of str
        The names that come.
    beside : callable
        Says of a name whether it may stand there already.
    """
    if not target.exists():
        return
    if not target.is_dir():
        raise FileExistsError(f"{target} is a file")
    # What a run left that was stopped is nobody's.
    there = {path.name for path in target.iterdir() if CRUMB not in path.name}
    if not all(beside(name) for name in there) or there & set(parts):
        raise FileExistsError(f"{target} is not an empty folder")


def files_in(folder: Path) -> Iterator[str]:
    """Yield every file below a folder by its path in it, links as what they are.

    Raises
    ------
    OSError
        When a folder cannot be looked into.
    """

    def not_seen(error: OSError) -> None:
        raise error

    for above, folders, names in os.walk(folder, onerror=not_seen):
        links = [name for name in folders if os.path.islink(os.path.join(above, name))]
        for name in (*names, *links):
            yield Path(above, name).relative_to(folder).as_posix()


def half_written(folder: Path) -> bool:
    """Return whether a release was stopped while it took its names in a folder."""
    return arriving_names(folder) is not None


def arriving_names(folder: Path) -> list[str] | None:
    """Return the names, in a folder, of the release that is taking them; None where none is."""
    try:
        fields = json.loads((folder / ARRIVING / NAMES).read_bytes())
        names = fields["arriving"] if fields.keys() == {"arriving"} else None
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        return None
    bad = [name for name in names if name in ("", ".", "..") or "/" in name or "\0" in name]
    return None if bad else names


def _listed(folder: Path) -> set[str]:
    file = folder / LIST
    return files_of_release(file.read_bytes()) if file.is_file() else set()


def _ours(path: str, known: set[str]) -> bool:
    name = path.rpartition("/")[2]
    return (
        path in known
        or is_record_or_pack(path)
        or name.startswith(CRUMB)
        or path.partition("/")[0] in (FILLING, ARRIVING, LEAVING)
        or name in _DESKTOP
    )
