"""Remember how a pack was made: what the next one holds too is not compared or compressed again.

Nothing that is read here is believed but with its own checksum, from this very program.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from kb.program_key import program_key
from kb.release_format.content_pack import Frame, PackMemory, Steps
from kb.release_format.gzipped import Blocks

from ..kept_files import kept_place, with_sum, without_sum

FORM = 2
"""Another number when what is written here is laid out otherwise."""


def kept_pack_file(work: Path, *, out: Path) -> Path:
    """Return where the pack of a site is remembered."""
    return kept_place(work, out=out, begins="pack-")


def read_kept_pack(file: Path) -> PackMemory:
    """Return what this program remembers; nothing when any of it is not as it was written."""
    try:
        head, _, raw = without_sum(file.read_bytes()).partition(b"\n")
        return _memory(json.loads(head), raw)
    except (OSError, ValueError, KeyError, TypeError):
        return PackMemory()


def _memory(head: dict[str, Any], raw: bytes) -> PackMemory:
    if head["form"] != FORM or head["program"] != program_key():
        return PackMemory()
    steps, blocks, at = {}, {}, 0
    for wanted, base, takes, size in head["steps"]:
        steps[(wanted, base)] = Frame(wanted, raw[at : at + size], base, tuple(takes))
        at += size
    for key, size in head["blocks"]:
        blocks[bytes.fromhex(key)] = raw[at : at + size]
        at += size
    return PackMemory(Steps(steps), Blocks(blocks))


def kept_pack_raw(memory: PackMemory) -> bytes:
    """Return the file that remembers what a pack asked for."""
    # What is whole stands in the site.
    steps = {key: frame for key, frame in memory.steps.asked.items() if frame.base is not None}
    head = {
        "form": FORM,
        "program": program_key(),
        "steps": [[*key, frame.steps, len(frame.fresh)] for key, frame in steps.items()],
        "blocks": [[key.hex(), len(block)] for key, block in memory.blocks.asked.items()],
    }
    line = json.dumps(head, separators=(",", ":")).encode("ascii")
    contents = (*(frame.fresh for frame in steps.values()), *memory.blocks.asked.values())
    return with_sum(b"".join([line, b"\n", *contents]))
