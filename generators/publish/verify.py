"""Hold a published copy against its own list, byte by byte, and say what differs."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from kb.release_format.content_pack import PackBroken, read_pack
from kb.release_format.newest import read_newest
from kb.release_format.places import (
    LIST,
    NEWEST,
    RELEASES,
    SCRIPT,
    UPLOADED_LAST,
    WORKER,
    is_worker,
    step_pack_path,
    whole_pack_path,
    worker_path,
)
from kb.release_format.release_list import ReleaseList, checksum, read_list
from kb.release_format.signed import NOBODY, Signed
from kb.signing.ed25519 import mark_of

from .numbering import BROKEN, record_of
from .published import Copy, NoCopyThere
from .signing import signature_faults

AT_ONCE = 6


@dataclass
class Verified:
    """What a published copy is, and everything that is wrong with it."""

    where: str
    release_list: ReleaseList
    faults: list[str] = field(default_factory=list)
    strays: list[str] = field(default_factory=list)
    """Files that no list names: no phone asks for them."""
    signed: Signed | None = None
    """The signature that stands there; whether it holds is among the faults."""

    @property
    def signed_by(self) -> str | None:
        """The mark of the key that the signature names."""
        signs = self.signed is not None and self.signed.key != NOBODY
        return mark_of(self.signed.key) if signs and self.signed is not None else None

    @property
    def whole(self) -> bool:
        """True when a phone can get this release from here."""
        return not self.faults

    def as_dict(self) -> dict[str, object]:
        """Return it for machines."""
        return {
            "where": self.where,
            "release": self.release_list.name,
            "number": self.release_list.release.number,
            "date": self.release_list.release.date,
            "files": len(self.release_list.files),
            "signed_by": self.signed_by,
            "whole": self.whole,
            "faults": self.faults,
            "strays": self.strays,
        }


def verify(copy: Copy, *, key: str | None = None) -> Verified:
    """Check every file of a copy against its list, and the signature where there is one.

    Parameters
    ----------
    copy : Copy
    key : str, optional
        The public key that must have signed it.

    Raises
    ------
    NoCopyThere
        When there is no list, or the host cannot be reached.
    NotAList
        When the list is not one.
    """
    content = copy.read(LIST)
    if content is None:
        raise NoCopyThere(f"{copy.where} holds no {LIST}: nothing was published there")
    release_list = read_list(content)
    faults = [
        *_listed_files(copy, release_list),
        *_script(copy, release_list),
        *_worker(copy, release_list),
        *_ways_to_it(copy, release_list),
        *signature_faults(copy, key=key),
    ]
    newest = read_newest(copy.read(NEWEST) or b"")
    return Verified(
        where=copy.where,
        signed=newest.signed if newest is not None else None,
        release_list=release_list,
        faults=faults,
        strays=_strays(copy, release_list),
    )


def _listed_files(copy: Copy, release_list: ReleaseList) -> Iterator[str]:
    paths = sorted(release_list.files)
    with ThreadPoolExecutor(AT_ONCE) as readers:
        for path, content in zip(paths, readers.map(copy.read, paths), strict=True):
            if content is None:
                yield f"{path} is missing"
            elif checksum(content) != release_list.files[path]:
                yield f"{path} differs: it is not what the list says"


def _script(copy: Copy, release_list: ReleaseList) -> Iterator[str]:
    script = copy.read(SCRIPT)
    if script is None:
        yield f"{SCRIPT} is missing"
    elif script != release_list.script_text.encode("utf-8"):
        yield f"{SCRIPT} is of another release"


def _worker(copy: Copy, release_list: ReleaseList) -> Iterator[str]:
    """Yield what is wrong with the worker, at its own name and at the one all releases share."""
    newest = read_newest(copy.read(NEWEST) or b"")
    wanted = newest.worker if newest is not None and newest.name == release_list.name else ""
    for path in [WORKER, *([worker_path(release_list.name)] if wanted else [])]:
        worker = copy.read(path)
        if worker is None:
            yield f"{path} is missing: phones keep what they have"
        elif release_list.release.offline and release_list.name.encode() not in worker:
            yield f"{path} is of another release: phones keep what they have"
        elif wanted and checksum(worker) != wanted:
            yield f"{path} differs: it is not what {NEWEST} says; phones keep what they have"


def _ways_to_it(copy: Copy, release_list: ReleaseList) -> Iterator[str]:
    """Yield what is wrong with the news of a release and with its packs."""
    name = release_list.name
    newest = read_newest(copy.read(NEWEST) or b"")
    if newest is None:
        yield f"{NEWEST} is missing or damaged: phones learn of nothing"
        return
    if newest.name != name:
        yield f"{NEWEST} names release {newest.name}, the list is {name}"
        return
    yield from _whole_pack(copy, release_list)
    record_at, record = record_of(copy, name=name)
    if record_at and record is None:
        yield f"{record_at} {BROKEN}: the next pack cannot tell what changed since"
    for older in newest.packs.steps:
        path = step_pack_path(name, older=older)
        if copy.read(path) is None:
            yield f"{path} is missing: phones download more than they need"


def _whole_pack(copy: Copy, release_list: ReleaseList) -> Iterator[str]:
    path = whole_pack_path(release_list.name)
    pack = copy.read(path)
    if pack is None:
        yield f"{path} is missing: a new phone downloads file by file"
        return
    try:
        checksums = {frame_sum for frame_sum, _ in read_pack(pack)}
    except PackBroken as broken:
        yield f"{path}: {broken}"
        return
    if not set(release_list.files.values()) <= checksums:
        yield f"{path} does not hold every file of the release"


def _strays(copy: Copy, release_list: ReleaseList) -> list[str]:
    there = copy.paths()
    if there is None:
        return []
    known = {*release_list.files, *UPLOADED_LAST}
    unknown = (path for path in there - known if not is_worker(path))
    return sorted(path for path in unknown if not path.startswith(f"{RELEASES}/"))
