"""Find the contractor's notes: the nearest folder upward that holds `docs_data/`."""

from __future__ import annotations

import os
from pathlib import Path

DATA = "docs_data"
CONTENT = "content"
DRESS = "site_config"
YAML_SUFFIXES = (".yaml", ".yml")
NOT_UTF_8 = "this name is no UTF-8 text"
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
    return not any("\ud800" <= letter <= "\udfff" for letter in name)


def shown_path(path: Path, *, notes: Path) -> str:
    """Return a path from the folder of the notes; bytes that are no text as `\\xe9`."""
    raw = os.fsencode(path.relative_to(notes).as_posix())
    return raw.decode("utf-8", "backslashreplace")


def entry_files(notes: Path, kind: str) -> list[Path]:
    """Return every YAML file of one kind, sub-folders included, sorted by path."""
    return [path for path in _files(notes, kind) if path.suffix in YAML_SUFFIXES]


def other_files(notes: Path, kind: str) -> list[Path]:
    """Return what stands among the entries of one kind and is none, sorted by path."""
    return [path for path in _files(notes, kind) if path.suffix not in YAML_SUFFIXES]


def _files(notes: Path, kind: str) -> list[Path]:
    return sorted(_walked(notes, kind)[0])


def left_out(notes: Path, kind: str) -> list[tuple[Path, str]]:
    """Return what is passed over among the entries of one kind, each with the reason."""
    return sorted(_walked(notes, kind)[1])


def leads_out(path: Path, *, inside: Path) -> bool:
    """Return whether a path, or a link on its way, leads out of a folder.

    What it leads to is not part of the notes: nobody meant to publish or to change it.
    """
    # realpath and not resolve: links in a circle are no fault here.
    return not Path(os.path.realpath(path)).is_relative_to(os.path.realpath(inside))


def _walked(notes: Path, kind: str) -> tuple[list[Path], list[tuple[Path, str]]]:
    """Return every file below a kind's folder, and what was not entered and why.

    A linked folder is entered when it stays inside the notes: whoever gets a copy of them has it.
    """
    files: list[Path] = []
    passed: list[tuple[Path, str]] = []
    inside = notes.resolve()
    waiting = [(notes / DATA / kind, frozenset[Path]())]
    while waiting:
        folder, above = waiting.pop()
        real = folder.resolve()
        if folder.is_symlink() and not real.exists():
            passed.append((folder, "this link leads nowhere"))
        elif real in above:
            passed.append((folder, "this link leads back to a folder that it stands in"))
        elif not real.is_relative_to(inside):
            passed.append((folder, "this link leads out of the notes"))
        elif folder.is_dir():
            # Ten thousand files: what the folder's own list says of each is not asked again.
            for found in os.scandir(folder):
                path = folder / found.name
                if found.name.startswith("."):
                    continue
                if not readable_name(found.name):
                    passed.append((path, NOT_UTF_8))
                    continue
                if found.is_dir():
                    waiting.append((path, above | {real}))
                    if path.suffix.lower() in YAML_SUFFIXES:
                        passed.append((path, "this is a folder and no entry"))
                elif found.is_symlink() and path.exists() and leads_out(path, inside=inside):
                    passed.append((path, "this link leads out of the notes"))
                elif found.is_file():
                    files.append(path)
                elif found.is_symlink() and not path.exists():
                    passed.append((path, "this link leads nowhere"))
    return files, passed
