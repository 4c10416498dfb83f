"""Put the contents of a release into one compressed file, whole or as steps from an older one."""

from __future__ import annotations

import itertools
import json
import re
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from .delta import delta_of, patched
from .gzipped import Blocks, gzipped
from .release_list import ReleaseList, checksum
from .remembered import Remembered

_GZIP = 16
"""Asks zlib for gzip's header and end (RFC 1952), without a time."""
FAR = 30_000
"""From the end of so long a content the compression sees nothing of the one before."""
_AT_ONCE = 1 << 16
LONGEST_CONTENT = 1 << 27
"""Of what a host calls a pack: no file of a site has 128 MB."""
LONGEST_PACK = 1 << 31
"""The same of all in it, unpacked: ten thousand pages are a tenth of 2 GB."""
_FIGURES = re.compile(r"[0-9]+")
LIST_FRAME = "list"
"""Stands for a checksum at the first content, the release's list."""


class PackBroken(ValueError):
    """A pack that cannot be read, or that holds something else than it says."""


@dataclass(frozen=True)
class Frame:
    """One content in a pack: whole, or as the steps that make it from an older content."""

    checksum: str
    fresh: bytes
    """The content itself, or what the steps add to the older one."""
    base: str | None = None
    """Checksum of the older content."""
    steps: tuple[int, ...] = ()

    def raw(self) -> bytes:
        """Return the frame as bytes: a line that says what it is, and then its content."""
        head: dict[str, object] = {"sum": self.checksum, "size": len(self.fresh)}
        if self.base is not None:
            head |= {"from": self.base, "steps": self.steps}
        return json.dumps(head, separators=(",", ":")).encode("ascii") + b"\n" + self.fresh

    def content(self, older: Mapping[str, bytes]) -> bytes:
        """Return the content, made from the older one where it is told so."""
        made = self.fresh
        if self.base is not None:
            if sum(self.steps[1::3]) > LONGEST_CONTENT:
                raise PackBroken("a content in the pack is longer than any")
            made = patched(older[self.base], steps=self.steps, fresh=self.fresh)
        if self.checksum not in (LIST_FRAME, checksum(made)):
            raise PackBroken(f"a content in the pack is not {self.checksum[:12]}")
        return made


Steps = Remembered[tuple[str, str], Frame]
"""Checksums of a content and of the one before → its frame: as steps, or whole if they do not pay.
"""


@dataclass(frozen=True)
class PackMemory:
    """What need not be worked out again when a pack is much like the one before."""

    steps: Steps = field(default_factory=Steps)
    blocks: Blocks = field(default_factory=Blocks)


def whole_pack(
    release_list: ReleaseList, *, contents: Mapping[str, bytes], memory: PackMemory | None = None
) -> bytes:
    """Return a pack of every content: what a phone needs that has nothing yet.

    Parameters
    ----------
    release_list : ReleaseList
    contents : mapping of checksum → content
    memory : PackMemory, optional
        What is remembered of an earlier pack.
    """
    memory = memory or PackMemory()
    list_frame = Frame(LIST_FRAME, release_list.text.encode("utf-8"))
    # One after the other: the contents of a large site would fill the memory.
    frames = _side_by_side(release_list.files, contents=contents, steps=memory.steps)
    return _packed(itertools.chain([list_frame], frames), blocks=memory.blocks)


def _side_by_side(
    files: Mapping[str, str], *, contents: Mapping[str, bytes], steps: Steps
) -> Iterator[Frame]:
    """Yield every content once, such that the one before is likely to be much like it.

    Pages of a kind whose names end in the same word and that are as long as each other are alike.
    The compression looks back 32 kB: what it cannot see from the end of a long content is said as
    steps from the one before.
    """
    length = {each_sum: len(contents[each_sum]) for each_sum in set(files.values())}
    order = sorted(files, key=lambda path: (*_alike(path), length[files[path]], path))
    before: tuple[str, bytes] | None = None
    for each_sum in dict.fromkeys(files[path] for path in order):
        content = contents[each_sum]
        if before is not None and len(content) > FAR <= len(before[1]):
            base, older = before
            step = partial(_frame_from, each_sum, content, base=base, older=older)
            yield steps.of((each_sum, base), make=step)
        else:
            yield Frame(each_sum, content)
        before = each_sum, content


def _alike(path: str) -> tuple[str, str]:
    """Return the folder of a page and the last word of its name, without figures."""
    folder, _, name = path.rpartition("/")
    return folder, _FIGURES.sub("", name.partition(".")[0]).strip("-").rpartition("-")[2]


def bases_of(release_list: ReleaseList, *, older: ReleaseList) -> set[str]:
    """Return the checksums of the older contents that a step to a release begins from."""
    there = set(older.files.values())
    changed = (path for path, each_sum in release_list.files.items() if each_sum not in there)
    return {older.files[path] for path in changed if path in older.files}


def step_pack(
    release_list: ReleaseList,
    *,
    contents: Mapping[str, bytes],
    older: ReleaseList,
    older_contents: Mapping[str, bytes],
) -> bytes:
    """Return a pack of what a phone with the older release needs, with deltas where they pay."""
    list_content, older_list = (each.text.encode("utf-8") for each in (release_list, older))
    frames = [_frame_from(LIST_FRAME, list_content, base=LIST_FRAME, older=older_list)]
    there = set(older.files.values())
    for path in sorted(release_list.files):
        wanted = release_list.files[path]
        if wanted in there:
            continue
        there.add(wanted)
        base = older.files.get(path)
        if base is not None and base in older_contents:
            older_content = older_contents[base]
            frames.append(_frame_from(wanted, contents[wanted], base=base, older=older_content))
        else:
            frames.append(Frame(wanted, contents[wanted]))
    return _packed(frames, blocks=Blocks())


def read_pack(
    raw: bytes, *, older: Mapping[str, bytes] | None = None
) -> Iterator[tuple[str, bytes]]:
    """Yield (checksum, content) for everything in a pack; the list comes first, under `list`.

    Raises
    ------
    PackBroken
        When it is cut short, damaged, or a content does not have its checksum.
    """
    before: dict[str, bytes] = {}
    try:
        for frame in _frames(_unpacked(raw)):
            content = frame.content(before if frame.base in before else older or {})
            before = {frame.checksum: content}
            yield frame.checksum, content
    except PackBroken:
        raise
    except (OSError, EOFError, zlib.error, ValueError, KeyError, TypeError, RecursionError):
        raise PackBroken("the pack is damaged or cut short") from None


def _unpacked(raw: bytes) -> Iterator[bytes]:
    """Yield what is in a pack piece by piece: a whole site would fill the memory."""
    unpack = zlib.decompressobj(zlib.MAX_WBITS + _GZIP)
    length = 0
    for begin in range(0, len(raw), _AT_ONCE):
        piece = unpack.decompress(raw[begin : begin + _AT_ONCE])
        length += len(piece)
        if length > LONGEST_PACK:
            raise EOFError
        yield piece
    yield unpack.flush()
    if not unpack.eof or unpack.unused_data:
        raise EOFError


def _frames(pieces: Iterator[bytes]) -> Iterator[Frame]:
    """Yield the frames of a pack as they come; at least one."""
    waiting, begun = bytearray(), False
    head: dict[str, Any] | None = None
    for piece in pieces:
        waiting += piece
        while True:
            if head is None:
                line, end, _ = waiting.partition(b"\n")
                if not end and len(waiting) > LONGEST_CONTENT:
                    raise EOFError
                if not end:
                    break
                head = json.loads(line)
                del waiting[: len(line) + 1]
            size = head["size"]
            if not 0 <= size <= LONGEST_CONTENT:
                raise EOFError
            if len(waiting) < size:
                break
            fresh = bytes(waiting[:size])
            del waiting[:size]
            yield Frame(head["sum"], fresh, head.get("from"), tuple(head.get("steps", ())))
            head, begun = None, True
    if waiting or head or not begun:
        raise EOFError


def _frame_from(wanted: str, content: bytes, *, base: str, older: bytes) -> Frame:
    delta = delta_of(content, old=older)
    if delta is None:
        return Frame(wanted, content)
    steps, fresh = delta
    return Frame(wanted, fresh, base, tuple(steps))


def _packed(frames: Iterable[Frame], *, blocks: Blocks) -> bytes:
    return gzipped((frame.raw() for frame in frames), blocks=blocks)
