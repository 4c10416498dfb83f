"""Finish a sealed site as a release: list, worker, packs and records, each in its place."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from kb.notes.folder import DRESS, carried
from kb.release_format.content_pack import PackMemory, bases_of, step_pack, whole_pack
from kb.release_format.newest import newest_of
from kb.release_format.places import (
    LIST,
    NEWEST,
    SCRIPT,
    WORKER,
    step_pack_path,
    whole_pack_path,
    worker_path,
)
from kb.release_format.record import Record
from kb.release_format.release_list import ReleaseList, checksum
from kb.words.catalogue import words
from kb.writer import write_folder

from .coming_release import Coming
from .history import published_records

SERVING, FREEING = "worker.js", "freeing.js"
STANDS_FOR = "@RELEASE@"
WORDS_STAND_FOR = '"@WORDS@"'


@dataclass(frozen=True)
class FinishedRelease:
    """A finished release: how it is called, how much it holds, what to remember of it."""

    name: str
    files: int
    bytes: int
    record: Record


def finish_release(
    site: Path,
    *,
    checksums: Mapping[str, str],
    coming: Coming,
    dressing: Path,
    memory: PackMemory | None = None,
) -> FinishedRelease:
    """Add to a sealed site what makes it a release.

    Parameters
    ----------
    site : Path
    checksums : mapping of path → checksum
        Every file of the sealed site.
    coming : Coming
    dressing : Path
        `site_config/`, which holds the worker's source.
    memory : PackMemory, optional
        What is remembered of an earlier pack; afterwards of this one too.
    """
    release = ReleaseList(files=dict(checksums), release=coming.head)
    contents = _Contents(site, {each_sum: path for path, each_sum in checksums.items()})
    pack = whole_pack(release, contents=contents, memory=memory)
    record = Record(release, notes=coming.notes, pack=pack)
    steps = {}
    for old in coming.history:
        bases = old.contents_of(bases_of(release, older=old.release_list))
        if bases is not None and old.name != record.name:
            steps[old.name] = step_pack(
                release, contents=contents, older=old.release_list, older_contents=bases
            )
    worker = worker_text(release, dressing=dressing)
    files: dict[str, str | bytes] = {
        **published_records(record, earlier=coming.before),
        whole_pack_path(record.name): record.pack,
        **{step_pack_path(record.name, older=older): step for older, step in steps.items()},
        SCRIPT: release.script_text,
        LIST: release.text,
        NEWEST: _newest_text(record, steps, worker),
        **_workers(worker, coming=coming, release=release),
    }
    write_folder(site, files, keep_others=True)
    size = sum((site / path).stat().st_size for path in checksums)
    return FinishedRelease(name=record.name, files=len(checksums), bytes=size, record=record)


class _Contents(Mapping[str, bytes]):
    """Every content of a site by its checksum, read when it is wanted, not before."""

    def __init__(self, site: Path, paths: Mapping[str, str]) -> None:
        self._site, self._paths = site, paths

    def __getitem__(self, key: str) -> bytes:
        return (self._site / self._paths[key]).read_bytes()

    def __iter__(self) -> Iterator[str]:
        return iter(self._paths)

    def __len__(self) -> int:
        return len(self._paths)


def _workers(worker: str, *, coming: Coming, release: ReleaseList) -> dict[str, str]:
    """Return the worker at each of its names.

    One that lets phones go also stands where those of earlier releases stood: a browser asks
    there by itself, even when no script of a page runs any more.
    """
    names = [release.name]
    if not release.release.offline:
        names += [old.name for old in (*coming.history, *coming.before)]
    return {**{worker_path(name): worker for name in names}, WORKER: worker}


def _newest_text(record: Record, steps: dict[str, bytes], worker: str) -> str:
    sizes = {older: len(step) for older, step in steps.items()}
    return newest_of(
        record.release_list,
        whole=len(record.pack),
        steps=sizes,
        worker=checksum(worker.encode("utf-8")),
    ).text


def worker_text(release_list: ReleaseList, *, dressing: Path) -> str:
    """Return the worker for this release: one that serves it, or one that lets the phone go."""
    name = SERVING if release_list.release.offline else FREEING
    own = dressing / "worker" / name
    source = own if own.is_file() else carried(DRESS) / "worker" / name
    spoken = json.dumps(words()["worker"], ensure_ascii=False)
    text = source.read_text(encoding="utf-8").replace(STANDS_FOR, release_list.name)
    return text.replace(WORDS_STAND_FOR, spoken)
