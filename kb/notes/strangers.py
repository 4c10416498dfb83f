"""What stands among the notes and nothing reads: another ending, a link that leads out."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path

from kb.model import KINDS, SLIPS
from kb.model.words import tidy_id

from .folder import (
    DATA,
    LEADS_OUT,
    NOT_UTF_8,
    PHOTO_SUFFIXES,
    KindFolder,
    kind_folder,
    leads_out,
    shown_name,
    shown_path,
)
from .problem import Problem, nearest

WITH_PHOTOS = ("drawings", "cases")
"""Kinds whose entries may have photos beside them."""


def strangers(
    folder: Path, *, there: Mapping[str, KindFolder], own: Collection[str]
) -> list[Problem]:
    """Warn of anything in `docs_data/` that no kind would read: it would be lost silently.

    Parameters
    ----------
    folder : Path
    there : mapping of kind to KindFolder
        What stands in the folder of each kind that was looked at.
    own : collection of str
        Files of `docs_data/` itself that are read.
    """
    found = []
    data = folder / DATA
    for path in sorted(data.iterdir()) if data.is_dir() else []:
        shown = shown_path(path, notes=folder)
        if shown in own and leads_out(path, inside=folder):
            found.append(Problem(shown, 1, 1, "stranger", LEADS_OUT, _LINK, warning=True))
        if path.name.startswith(".") or shown in own:
            continue
        if path.name in (*KINDS, SLIPS):
            continue
        hint = "move it out of docs_data/, or into the folder of its kind"
        if path.is_dir():
            hint = nearest(path.name, KINDS)
        found.append(_stranger(shown, shown.rpartition("/")[2], hint))
    for kind in (*KINDS, SLIPS):
        here = there[kind] if kind in there else kind_folder(folder, kind)
        for name, why in here.passed:
            shown = shown_name(name)
            hint = _NAME if why == NOT_UTF_8 else _LINK if "link" in why else _FOLDER
            found.append(Problem(shown, 1, 1, "stranger", why, hint, warning=True))
        for shown in here.others:
            if kind in WITH_PHOTOS and shown.lower().endswith(PHOTO_SUFFIXES):
                continue
            name = shown.rpartition("/")[2]
            found.append(_stranger(shown, name, _ending(name)))
    return found


_NAME = "nothing reads it: give it a name of letters that a keyboard has"
_LINK = "put what it leads to itself here, or a link to one inside the notes"
_FOLDER = "an entry is a file that ends in .yaml; give the folder another name"


def _ending(name: str) -> str:
    """Say how an entry's file ends, and the name that was surely meant."""
    for ending in (".yaml.txt", ".yml.txt", ".yaml", ".yml"):
        stem = name[: -len(ending)]
        if name.lower().endswith(ending) and tidy_id(stem):
            return f"an entry's file ends in .yaml: rename it {tidy_id(stem)}.yaml"
    return "an entry's file ends in .yaml"


def _stranger(shown: str, name: str, hint: str) -> Problem:
    return Problem(shown, 1, 1, "stranger", f"nothing reads '{name}'", hint, warning=True)
