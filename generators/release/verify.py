"""Hold a published copy against its own list, byte by byte, and say what differs."""

from __future__ import annotations

import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from .bundle import PackBroken, read_pack
from .history import WHOLE
from .list import (
    FOLDER,
    LIST,
    NEWEST,
    OUTSIDE,
    SCRIPT,
    WORKER,
    ReleaseList,
    read_list,
    script_text,
    sum_of,
)
from .published import Copy, NoCopyThere

AT_ONCE = 6


@dataclass
class Verified:
    """What a published copy is, and everything that is wrong with it."""

    where: str
    told: ReleaseList
    faults: list[str] = field(default_factory=list)
    strays: list[str] = field(default_factory=list)
    """Files that no list names: no phone asks for them."""

    @property
    def whole(self) -> bool:
        """True when a phone can get this release from here."""
        return not self.faults

    def as_dict(self) -> dict[str, object]:
        """Return it for machines."""
        return {
            "where": self.where,
            "release": self.told.name,
            "number": self.told.head["number"],
            "date": self.told.head.get("date", ""),
            "files": len(self.told.files),
            "whole": self.whole,
            "faults": self.faults,
            "strays": self.strays,
        }


def verify(copy: Copy) -> Verified:
    """Check every file of a copy against its list.

    Raises
    ------
    NoCopyThere
        When there is no list, or the host cannot be reached.
    NotAList
        When the list is not one.
    """
    raw = copy.read(LIST)
    if raw is None:
        raise NoCopyThere(f"{copy.where} holds no {LIST}: nothing was published there")
    told = read_list(raw)
    found = Verified(where=copy.where, told=told)
    paths = sorted(told.files)
    with ThreadPoolExecutor(AT_ONCE) as hands:
        for path, content in zip(paths, hands.map(copy.read, paths), strict=True):
            if content is None:
                found.faults.append(f"{path} is missing")
            elif sum_of(content) != told.files[path]:
                found.faults.append(f"{path} differs: it is not what the list says")
    found.faults += _beside(copy, told)
    there = copy.paths()
    if there is not None:
        found.strays = sorted(
            path
            for path in there - told.files.keys() - set(OUTSIDE)
            if not path.startswith(f"{FOLDER}/")
        )
    return found


def _beside(copy: Copy, told: ReleaseList) -> Iterator[str]:
    """Yield what is wrong with the files that lead to the list and are not in it."""
    script = copy.read(SCRIPT)
    if script is None:
        yield f"{SCRIPT} is missing"
    elif script != script_text(told).encode("utf-8"):
        yield f"{SCRIPT} is of another release"
    worker = copy.read(WORKER)
    if worker is None:
        yield f"{WORKER} is missing: phones keep what they have"
    elif told.head.get("offline", True) and told.name.encode() not in worker:
        yield f"{WORKER} is of another release: phones keep what they have"
    newest = copy.read(NEWEST)
    try:
        said = json.loads(newest or b"")
        named, packs = said["name"], said["packs"]["from"]
    except (ValueError, KeyError, TypeError):
        yield f"{NEWEST} is missing or damaged: phones learn of nothing"
        return
    if named != told.name:
        yield f"{NEWEST} names release {named}, the list is {told.name}"
        return
    here = f"{FOLDER}/{told.name}"
    yield from _pack(copy, f"{here}/{WHOLE}", told)
    for older in packs:
        path = f"{here}/from-{older}.pack"
        if copy.read(path) is None:
            yield f"{path} is missing: phones download more than they need"


def _pack(copy: Copy, path: str, told: ReleaseList) -> Iterator[str]:
    raw = copy.read(path)
    if raw is None:
        yield f"{path} is missing: a new phone downloads file by file"
        return
    try:
        sums = {sum_ for sum_, _ in read_pack(raw)}
    except PackBroken as broken:
        yield f"{path}: {broken}"
        return
    if not set(told.files.values()) <= sums:
        yield f"{path} does not hold every file of the release"
