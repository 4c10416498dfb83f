"""Say whether a site is what a build would make again: then nothing has to be read or made.

Only the bytes count, of everything that goes in and of everything that stands; no time does. What
is imported here is little, since a build with nothing to do takes no longer than that.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import fields, replace
from pathlib import Path

from kb.notes.folder import CONTENT, DATA, dress_folder
from kb.program_key import FolderLinked, file_sum, files_below, folder_key, program_key
from kb.release_format.places import RELEASES
from kb.site_folder import WORK
from kb.writer import SomebodyElseWrites, only_writer, write_if_changed

from .kept_files import kept_place, with_sum, without_sum
from .summary import Summary

FORM = 1


def inputs_key(notes: Path, *, out: Path, after: int = 0) -> str:
    """Return a checksum of all that a build of these notes depends on; nothing if none can be."""
    folders = [notes / DATA, notes / CONTENT, dress_folder(notes), notes / WORK / RELEASES]
    try:
        parts = (program_key(), folder_key(folders), str(out), str(after), str(FORM))
    except FolderLinked:
        return ""
    return hashlib.sha256("\0".join(parts).encode("utf-8", "surrogateescape")).hexdigest()


def remember_site(
    summary: Summary, *, work: Path, out: Path, inputs: str, sums: Mapping[str, str]
) -> None:
    """Remember what stands in a finished site, and what it was made from.

    Parameters
    ----------
    summary : Summary
    work, out : Path
    inputs : str
        The checksum of what it was made from.
    sums : mapping of path → SHA-256
        Files whose bytes were just written: they need not be read for it.
    """
    content = {
        "inputs": inputs,
        "files": {name: sums.get(name) or file_sum(path) for name, path in files_below(out)},
        "summary": {field.name: getattr(summary, field.name) for field in fields(Summary)},
    }
    text = json.dumps(content, ensure_ascii=False, separators=(",", ":"))
    write_if_changed(_file(work, out), with_sum(text.encode("utf-8")))


def unchanged_site(notes: Path, *, out: Path) -> Summary | None:
    """Return what a build would say of a site that it would make again byte by byte; else None.

    Raises
    ------
    OSError
    """
    notes, out = notes.resolve(), out.absolute()
    if not out.is_dir() or out.is_symlink() or not _file(notes / WORK, out).is_file():
        return None
    try:
        with only_writer(notes / WORK):
            return _as_remembered(notes, out)
    except SomebodyElseWrites:
        return None


def _as_remembered(notes: Path, out: Path) -> Summary | None:
    try:
        content = json.loads(without_sum(_file(notes / WORK, out).read_bytes()))
    except ValueError:
        return None
    if content["inputs"] != inputs_key(notes, out=out):
        return None
    there = dict(files_below(out))
    if there.keys() != content["files"].keys():
        return None
    if any(os.path.islink(path) for path in there.values()):
        return None
    if any(file_sum(path) != content["files"][name] for name, path in there.items()):
        return None
    summary = Summary(**content["summary"])
    charts = summary.charts_drawn + summary.charts_reused
    return replace(summary, charts_drawn=0, charts_reused=charts)


def _file(work: Path, out: Path) -> Path:
    return kept_place(work, out=out, begins="site-", ends=".json")
