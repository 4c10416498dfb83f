"""Compress a long text in blocks, such that what did not change need not be compressed again.

Each block is deflated (RFC 1951) with the end of the one before as its dictionary, which is what
a reader holds at that place: all of them are one gzip member (RFC 1952), hardly longer than usual.
"""

from __future__ import annotations

import hashlib
import struct
import zlib
from collections.abc import Iterable, Iterator
from functools import partial

from .remembered import Remembered

LEVEL = 9
WINDOW = 1 << 15
"""So far back deflate looks."""
SMALL, LARGE = 1 << 15, 1 << 17
"""A block ends behind a piece that says so between these sizes, or behind the larger one."""
ENDS_ONE_IN = 4
# No name, no time, most compression, Unix: the same pieces are the same bytes.
_HEAD = bytes([0x1F, 0x8B, 8, 0, 0, 0, 0, 0, 2, 3])
_NOTHING_MORE = b"\x03\x00"
"""A last block that holds nothing."""

Blocks = Remembered[bytes, bytes]
"""SHA-256 of a block and of what is before it → the block as it is compressed."""


def gzipped(pieces: Iterable[bytes], *, blocks: Blocks) -> bytes:
    """Return pieces one behind the other as one gzip member.

    Parameters
    ----------
    pieces : iterable of bytes
    blocks : Blocks
        What is known of an earlier time.
    """
    crc = size = 0
    before = b""
    parts = [_HEAD]
    for block in _in_blocks(pieces):
        crc, size = zlib.crc32(block, crc), size + len(block)
        key = hashlib.sha256(hashlib.sha256(before).digest() + block).digest()
        parts.append(blocks.of(key, make=partial(_deflated, block, before)))
        before = (before + block)[-WINDOW:]
    parts += [_NOTHING_MORE, struct.pack("<II", crc, size & 0xFFFFFFFF)]
    return b"".join(parts)


def _in_blocks(pieces: Iterable[bytes]) -> Iterator[bytes]:
    """Yield pieces together; where one is put in, most others stay with their neighbours."""
    waiting: list[bytes] = []
    size = 0
    for piece in pieces:
        waiting.append(piece)
        size += len(piece)
        if size >= LARGE or (size >= SMALL and zlib.crc32(piece) % ENDS_ONE_IN == 0):
            yield b"".join(waiting)
            waiting, size = [], 0
    yield b"".join(waiting)


def _deflated(block: bytes, before: bytes) -> bytes:
    deflate = zlib.compressobj(LEVEL, wbits=-zlib.MAX_WBITS, zdict=before)
    return deflate.compress(block) + deflate.flush(zlib.Z_SYNC_FLUSH)
