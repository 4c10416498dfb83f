"""Say a changed file as pieces of the old one and what is new: only that is downloaded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

BLOCK = 24
"""Bytes that must be alike before a piece counts as found."""
WORTH = 0.7
"""A delta larger than this share of the whole is not worth it."""


def delta_of(new: bytes, *, old: bytes) -> tuple[list[int], bytes] | None:
    """Return how to make `new` from `old`, or None when it would not be worth it.

    Returns
    -------
    tuple of (steps, fresh)
        Steps come in threes: where in `old` to begin, how many bytes to take from there, how many
        bytes of `fresh` to add after them. Mirrored by `patched` in
        site_config/assets/copy/unpack.js.
    """
    places: dict[bytes, int] = {}
    for at in range(0, len(old) - BLOCK + 1, BLOCK):
        places.setdefault(old[at : at + BLOCK], at)
    steps: list[int] = []
    fresh = bytearray()
    # `begun` is where the bytes begin that no piece of `old` covers yet.
    begun = 0
    taken = (0, 0)
    for at in _promising(new, old=old):
        there = places.get(new[at : at + BLOCK]) if at >= begun else None
        if there is None:
            continue
        start, from_ = at, there
        while start > begun and from_ > 0 and new[start - 1] == old[from_ - 1]:
            start, from_ = start - 1, from_ - 1
        length = at - start + _alike(new, at, old, there)
        steps += [*taken, start - begun]
        fresh += new[begun:start]
        taken = (from_, length)
        begun = start + length
    steps += [*taken, len(new) - begun]
    fresh += new[begun:]
    if len(fresh) + 4 * len(steps) > WORTH * len(new):
        return None
    return steps, bytes(fresh)


def _promising(new: bytes, *, old: bytes) -> Iterator[int]:
    """Yield the places in `new` whose next BLOCK bytes may be a block of `old`, and few others."""
    # Most of what is new looks like nothing of the old: it is passed over without being cut up.
    known = np.zeros(1 << _BITS, dtype=bool)
    known[_sums(old)[::BLOCK]] = True
    yield from np.flatnonzero(known[_sums(new)]).tolist()


def _sums(content: bytes) -> np.ndarray:
    """Return a number of _BITS bits of the BLOCK bytes from each place on, alike where these are.

    Returns
    -------
    ndarray of int64, shape (len(content) - BLOCK + 1,)
    """
    if len(content) < BLOCK:
        return np.empty(0, dtype=np.int64)
    eights = np.zeros(len(content) - 7, dtype=np.uint64)
    signs = np.frombuffer(content, dtype=np.uint8)
    for i in range(8):
        eights = eights << np.uint64(8) | signs[i : i + len(eights)]
    count = len(content) - BLOCK + 1
    first, second, third = (eights[i : i + count] for i in (0, 8, 16))
    # Odd factors lose nothing of what they multiply, modulo 2 to the 64.
    mixed = first * _ODD[0] + second * _ODD[1] + third * _ODD[2]
    return (mixed >> np.uint64(64 - _BITS)).astype(np.int64)


_BITS = 20
_ODD = (np.uint64(0x9E3779B97F4A7C15), np.uint64(0xC2B2AE3D27D4EB4F), np.uint64(0x165667B19E3779F9))
"""Any odd numbers whose bits are well mixed."""


def patched(old: bytes, *, steps: Sequence[int], fresh: bytes) -> bytes:
    """Return the new content from the old one, the steps and what is fresh."""
    made = bytearray()
    read = 0
    for i in range(0, len(steps), 3):
        start, length, added = steps[i : i + 3]
        made += old[start : start + length] + fresh[read : read + added]
        read += added
    return bytes(made)


def _alike(new: bytes, at: int, old: bytes, there: int) -> int:
    """Return how many bytes are alike from here on: doubling steps, then halving."""
    most = min(len(new) - at, len(old) - there)
    length, step = 0, BLOCK
    while step:
        step = min(step, most - length)
        begin, end = at + length, at + length + step
        if step and new[begin:end] == old[there + length : there + length + step]:
            length += step
            step *= 2
        else:
            step //= 2
    return length
