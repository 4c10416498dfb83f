"""Put the contents of a release into one compressed file, whole or as steps from an older one."""

from __future__ import annotations

import gzip
import itertools
import json
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from .delta import delta_of, patched
from .release_list import ReleaseList, checksum

LEVEL = 9
_GZIP = 16
"""Asks zlib for gzip's header and end (RFC 1952), without a time."""
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
            made = patched(older[self.base], steps=self.steps, fresh=self.fresh)
        if self.checksum not in (LIST_FRAME, checksum(made)):
            raise PackBroken(f"a content in the pack is not {self.checksum[:12]}")
        return made


def whole_pack(release_list: ReleaseList, *, contents: Mapping[str, bytes]) -> bytes:
    """Return a pack of every content: what a phone needs that has nothing yet.

    Parameters
    ----------
    release_list : ReleaseList
    contents : mapping of checksum → content
    """
    # By path, each once: pages of a kind are alike, and the compression looks back 32 kB.
    files = release_list.files
    wanted = dict.fromkeys(files[path] for path in sorted(files))
    list_frame = Frame(LIST_FRAME, release_list.text.encode("utf-8"))
    # One after the other: the contents of a large site would fill the memory.
    frames = (Frame(each_sum, contents[each_sum]) for each_sum in wanted)
    return _packed(itertools.chain([list_frame], frames))


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
    return _packed(frames)


def read_pack(
    raw: bytes, *, older: Mapping[str, bytes] | None = None
) -> Iterator[tuple[str, bytes]]:
    """Yield (checksum, content) for everything in a pack; the list comes first, under `list`.

    Raises
    ------
    PackBroken
        When it is cut short, damaged, or a content does not have its checksum.
    """
    try:
        for frame in _frames(gzip.decompress(raw)):
            yield frame.checksum, frame.content(older or {})
    except PackBroken:
        raise
    except (OSError, EOFError, zlib.error, ValueError, KeyError, TypeError):
        raise PackBroken("the pack is damaged or cut short") from None


def _frames(unpacked: bytes) -> Iterator[Frame]:
    if not unpacked:
        raise EOFError
    begin = 0
    while begin < len(unpacked):
        line_end = unpacked.index(b"\n", begin)
        head = json.loads(unpacked[begin:line_end])
        begin = line_end + 1 + head["size"]
        if begin > len(unpacked):
            raise EOFError
        fresh = unpacked[line_end + 1 : begin]
        yield Frame(head["sum"], fresh, head.get("from"), tuple(head.get("steps", ())))


def _frame_from(wanted: str, content: bytes, *, base: str, older: bytes) -> Frame:
    delta = delta_of(content, old=older)
    if delta is None:
        return Frame(wanted, content)
    steps, fresh = delta
    return Frame(wanted, fresh, base, tuple(steps))


def _packed(frames: Iterable[Frame]) -> bytes:
    # No time in the header: the same contents are the same bytes.
    pack = zlib.compressobj(LEVEL, wbits=zlib.MAX_WBITS + _GZIP)
    pieces = [pack.compress(frame.raw()) for frame in frames]
    return b"".join([*pieces, pack.flush()])
