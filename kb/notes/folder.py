"""Find the contractor's notes: the nearest folder upward that holds `docs_data/`."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

DATA = "docs_data"
CONTENT = "content"
DRESS = "site_config"
PLAN = ".build/change.json"
"""There while files of the notes change together: what stood in each, and what shall stand."""
PACKING = ".build/packing.json"
"""There while a release takes its place in a folder: where that is."""
YAML_SUFFIXES = (".yaml", ".yml")
NOT_UTF_8 = "this name is no UTF-8 text"
LEADS_OUT = "this link leads out of the notes"
UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
"""Signs of a name that would move a terminal's cursor or turn its words around."""
PHOTO_SUFFIXES = (".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif")


class NotesNotFound(Exception):
    """No folder upward of the start holds `docs_data/`."""


def find_notes(start: Path) -> Path:
    """Return the nearest folder at or above `start` that holds `docs_data/`.

    Raises
    ------
    NotesNotFound
        With what to do next.
    """
    start = start.resolve()
    for folder in (start, *start.parents):
        if (folder / DATA).is_dir():
            return folder
    raise NotesNotFound(
        f"no '{DATA}/' in {start} nor above it; go to your notes, name them with "
        "--notes DIR, or begin some with 'ohmfolio start DIR'"
    )


def carried(name: str) -> Path:
    """Return a folder that travels with the program: `site_config`, or the demo notes.

    In a checkout it stands at the top; in a wheel it is packed beside this package.
    """
    package = Path(__file__).resolve().parents[1]
    packed = package / "carried" / name
    return packed if packed.is_dir() else package.parent / name


def dress_folder(notes: Path) -> Path:
    """Return the notes' own `site_config/` when it is whole, else the one we carry."""
    own = notes / DRESS
    return own if (own / "mkdocs.yml").is_file() else carried(DRESS)


def readable_name(name: str) -> bool:
    """True for a file's name that is text: some disks and zips keep bytes that are none."""
    return name.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in name)


def shown_path(path: Path, *, notes: Path) -> str:
    """Return a path from the folder of the notes; bytes that are no text as `\\xe9`."""
    return shown_name(path.relative_to(notes).as_posix())


def shown_name(name: str) -> str:
    """Return a name as it is shown: bytes that are no text as `\\xe9`, unseen signs as `\\r`."""
    shown = os.fsencode(name).decode("utf-8", "backslashreplace")
    return UNSEEN.sub(lambda sign: repr(sign[0])[1:-1], shown)


@dataclass(frozen=True)
class KindFolder:
    """What stands in the folder of one kind, each by its path from the notes, sorted by path."""

    entries: list[str]
    others: list[str]
    """What stands among the entries and is none."""
    passed: list[tuple[str, str]]
    """What is passed over, each with the reason."""


def entry_files(notes: Path, kind: str) -> list[Path]:
    """Return every YAML file of one kind, sub-folders included, sorted by path."""
    return [notes / name for name in kind_folder(notes, kind).entries]


def other_files(notes: Path, kind: str) -> list[Path]:
    """Return what stands among the entries of one kind and is none, sorted by path."""
    return [notes / name for name in kind_folder(notes, kind).others]


def page_files(notes: Path) -> list[Path]:
    """Return every hand-written page, sorted by path.

    What begins with a dot, or stands in such a folder, is none: a desktop or an editor left it.
    """
    folder = notes / CONTENT
    return [
        path
        for path in sorted(folder.rglob("*.md"))
        if path.is_file()
        and not any(step.startswith(".") for step in path.relative_to(folder).parts)
    ]


def leads_out(path: Path, *, inside: Path) -> bool:
    """Return whether a path, or a link on its way, leads out of a folder.

    What it leads to is not part of the notes: nobody meant to publish or to change it.
    """
    # realpath and not resolve: links in a circle are no fault here.
    return not Path(os.path.realpath(path)).is_relative_to(os.path.realpath(inside))


def kind_folder(notes: Path, kind: str) -> KindFolder:
    """Return what stands below a kind's folder, and what was not entered and why.

    A linked folder is entered when it stays inside the notes: whoever gets a copy of them has it.
    """
    files: list[str] = []
    passed: list[tuple[str, str]] = []
    inside, first = notes.resolve(), f"{DATA}/{kind}"
    # Of a thousand folders hardly any is a link: where each really stands follows from the one
    # above it, and what a folder's own list says of ten thousand files is not asked again.
    waiting = [(first, os.path.realpath(notes / first), frozenset[str]())]
    if os.path.islink(notes / first) and not os.path.exists(notes / first):
        passed.append((waiting.pop()[0], "this link leads nowhere"))
    while waiting:
        shown, real, above = waiting.pop()
        if real in above:
            passed.append((shown, "this link leads back to a folder that it stands in"))
        elif not _below(real, folder=str(inside)):
            passed.append((shown, LEADS_OUT))
        elif os.path.isdir(real):
            for found in os.scandir(notes / shown):
                if found.name.startswith("."):
                    continue
                name = f"{shown}/{found.name}"
                if not readable_name(found.name):
                    passed.append((name, NOT_UTF_8))
                elif found.is_dir():
                    there = (
                        os.path.realpath(found) if found.is_symlink() else f"{real}/{found.name}"
                    )
                    waiting.append((name, there, above | {real}))
                    if name.lower().endswith(YAML_SUFFIXES):
                        passed.append((name, "this is a folder and no entry"))
                elif found.is_symlink() and (why := _bad_link(notes / name, inside=inside)):
                    passed.append((name, why))
                elif found.is_file():
                    files.append(name)
    files.sort(key=_parts)
    return KindFolder(
        entries=[name for name in files if name.endswith(YAML_SUFFIXES)],
        others=[name for name in files if not name.endswith(YAML_SUFFIXES)],
        passed=sorted(passed, key=lambda item: (_parts(item[0]), item[1])),
    )


def _below(path: str, *, folder: str) -> bool:
    return path == folder or path.startswith(f"{folder.rstrip('/')}/")


def _bad_link(link: Path, *, inside: Path) -> str:
    """Return why a link to a file is passed over; nothing where it is a file of the notes."""
    if not link.exists():
        return "this link leads nowhere"
    return LEADS_OUT if leads_out(link, inside=inside) else ""


def _parts(name: str) -> list[str]:
    """Sort as folders are listed: what is in a folder stands together."""
    return name.split("/")
