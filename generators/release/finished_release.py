"""Finish a sealed site as a release: list, worker, packs and records, each in its place."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from kb.notes.folder import DRESS, carried
from kb.writer import write_folder

from .bundle import step_pack, whole_pack
from .coming_release import Coming
from .history import WHOLE, Record, published_files
from .list import FOLDER, LIST, NEWEST, SCRIPT, WORKER, ReleaseList, list_of, script_text, sum_of

SERVING, FREEING = "worker.js", "freeing.js"
STANDS_FOR = "@RELEASE@"


@dataclass(frozen=True)
class FinishedRelease:
    """A finished release: how it is called, how much it holds, what to remember of it."""

    name: str
    files: int
    bytes: int
    record: Record


def finish_release(
    site: Path, paths: list[str], coming: Coming, *, dressing: Path
) -> FinishedRelease:
    """Add to a sealed site what makes it a release.

    Parameters
    ----------
    site : Path
    paths : list of str
        Every file of the sealed site.
    coming : Coming
    dressing : Path
        `site_config/`, which holds the worker's source.
    """
    by_path = {path: (site / path).read_bytes() for path in paths}
    told = list_of(by_path, head=coming.head.as_dict())
    contents = {sum_of(content): content for content in by_path.values()}
    whole = whole_pack(told, contents)
    record = Record(name=told.name, told=told, notes=coming.notes, pack=whole)
    steps = {
        old.name: step_pack(told, contents, older=old.told, older_contents=old.contents)
        for old in coming.history
        if old.contents and old.name != told.name
    }
    here = f"{FOLDER}/{told.name}"
    files: dict[str, str | bytes] = {
        LIST: told.text,
        SCRIPT: script_text(told),
        WORKER: worker_text(told, dressing),
        NEWEST: newest_text(told, whole=len(whole), steps={k: len(v) for k, v in steps.items()}),
        f"{here}/{WHOLE}": whole,
        **{f"{here}/{step_name(name)}": step for name, step in steps.items()},
        **published_files(record, coming.before),
    }
    write_folder(site, files, keep_others=True)
    return FinishedRelease(
        name=told.name, files=len(paths), bytes=sum(map(len, by_path.values())), record=record
    )


def step_name(older: str) -> str:
    """Return the file name of the pack that leads from an older release to this one."""
    return f"from-{older}.pack"


def newest_text(told: ReleaseList, *, whole: int, steps: dict[str, int]) -> str:
    """Return what a phone asks first: what there is, and how many bytes each way to it has."""
    said = {
        **told.head,
        "name": told.name,
        "files": len(told.files),
        "packs": {"all": whole, "from": dict(sorted(steps.items()))},
    }
    return json.dumps(said, ensure_ascii=False, sort_keys=True, separators=(",", ":")) + "\n"


def worker_text(told: ReleaseList, dressing: Path) -> str:
    """Return the worker for this release: one that serves it, or one that lets the phone go."""
    name = SERVING if told.head["offline"] else FREEING
    own = dressing / "worker" / name
    source = own if own.is_file() else carried(DRESS) / "worker" / name
    return source.read_text(encoding="utf-8").replace(STANDS_FOR, told.name)
