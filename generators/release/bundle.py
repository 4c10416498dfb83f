"""Put the contents of a release into one compressed file, whole or as steps from an older one."""

from __future__ import annotations

import gzip
import json
import zlib
from collections.abc import Iterator, Mapping

from .delta import delta_of, patched
from .list import ReleaseList, sum_of

LEVEL = 9
SUFFIX = ".pack"


class PackBroken(ValueError):
    """A pack that cannot be read, or that holds something else than it says."""


def whole_pack(told: ReleaseList, contents: Mapping[str, bytes]) -> bytes:
    """Return a pack of every content: what a phone needs that has nothing yet.

    Parameters
    ----------
    told : ReleaseList
    contents : mapping of checksum → content
    """
    # By path, each once: pages of a kind are alike, and the compression looks back 32 kB.
    wanted = dict.fromkeys(told.files[path] for path in sorted(told.files))
    return _packed(
        [_frame("list", told.text.encode("utf-8")), *(_frame(one, contents[one]) for one in wanted)]
    )


def step_pack(
    told: ReleaseList,
    contents: Mapping[str, bytes],
    *,
    older: ReleaseList,
    older_contents: Mapping[str, bytes],
) -> bytes:
    """Return a pack of what a phone with the older release needs, with deltas where they pay."""
    raw = told.text.encode("utf-8")
    frames = [_frame_from("list", raw, "list", older.text.encode("utf-8"))]
    have = set(older.files.values())
    seen = set(have)
    for path in sorted(told.files):
        wanted = told.files[path]
        if wanted in seen:
            continue
        seen.add(wanted)
        before = older.files.get(path)
        if before in older_contents:
            frames.append(_frame_from(wanted, contents[wanted], before, older_contents[before]))
        else:
            frames.append(_frame(wanted, contents[wanted]))
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
        told = gzip.decompress(raw)
        if not told:
            raise EOFError
        at = 0
        while at < len(told):
            end = told.index(b"\n", at)
            frame = json.loads(told[at:end])
            at = end + 1 + frame["size"]
            if at > len(told):
                raise EOFError
            fresh = told[end + 1 : at]
            if "from" in frame:
                fresh = patched((older or {})[frame["from"]], frame["steps"], fresh)
            if frame["sum"] != "list" and sum_of(fresh) != frame["sum"]:
                raise PackBroken(f"a content in the pack is not {frame['sum'][:12]}")
            yield frame["sum"], fresh
    except PackBroken:
        raise
    except (OSError, EOFError, zlib.error, ValueError, KeyError, TypeError):
        raise PackBroken("the pack is damaged or cut short") from None


def _frame(sum_: str, content: bytes) -> bytes:
    return _line({"sum": sum_, "size": len(content)}) + content


def _frame_from(sum_: str, content: bytes, before: str, old: bytes) -> bytes:
    delta = delta_of(content, old)
    if delta is None:
        return _frame(sum_, content)
    steps, fresh = delta
    return _line({"sum": sum_, "size": len(fresh), "from": before, "steps": steps}) + fresh


def _line(told: Mapping[str, object]) -> bytes:
    return json.dumps(told, separators=(",", ":")).encode("ascii") + b"\n"


def _packed(frames: list[bytes]) -> bytes:
    # No time in the header: the same contents are the same bytes.
    return gzip.compress(b"".join(frames), compresslevel=LEVEL, mtime=0)
