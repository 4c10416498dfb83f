"""Draws that a number settles: the same seed gives the same drill on every phone of a team."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

Item = TypeVar("Item")

MOST_SEED = 99_999
"""Seeds that people tell each other have at most five figures."""

_WORD = 0xFFFFFFFF
_OUTPUTS = _WORD
"""How many different words the generator gives: all of 32 bits but nought."""


def mixed(word: int) -> int:
    """Return 32 bits in which neighbouring words are far apart; no two words give the same.

    Source: A. Appleby, MurmurHash3 (2011, public domain), the finalizer `fmix32`, from memory.
    """
    h = word & _WORD
    h ^= h >> 16
    h = h * 0x85EBCA6B & _WORD
    h ^= h >> 13
    h = h * 0xC2B2AE35 & _WORD
    return h ^ h >> 16


class Seeded:
    """A generator of draws.

    Notes
    -----
    Xorshift with the shifts 13, 17, 5 over 32 bits: every word but nought comes once in 2^32 − 1.

    Source: G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003.
    """

    def __init__(self, seed: int, *, stream: int = 0) -> None:
        """Begin a row of draws.

        Parameters
        ----------
        seed : int
            A whole number, at least 0.
        stream : int
            Which of the seed's own rows of draws, at least 0: the third drill of a set, a machine.
        """
        # Nought is the one state that the generator never leaves.
        self._state = mixed(mixed(seed) + stream) or 1

    def word(self) -> int:
        """Return the next word, from 1 to 2^32 − 1."""
        x = self._state
        x ^= x << 13 & _WORD
        x ^= x >> 17
        x ^= x << 5 & _WORD
        self._state = x
        return x

    def below(self, count: int) -> int:
        """Return one of 0 … count − 1, each as likely as any other.

        Words past the last whole multiple of `count` are drawn anew: a remainder alone would
        favour small numbers.

        Raises
        ------
        ValueError
            If there is nothing to draw from.
        """
        if not 1 <= count <= _OUTPUTS:
            raise ValueError(f"one of {count} cannot be drawn; there are 1 to {_OUTPUTS}")
        whole = _OUTPUTS - _OUTPUTS % count
        drawn = self.word() - 1
        while drawn >= whole:
            drawn = self.word() - 1
        return drawn % count

    def share(self) -> float:
        """Return a number from 0 to below 1."""
        return (self.word() - 1) / _OUTPUTS

    def between(self, low: float, *, high: float) -> float:
        """Return a number from `low` to below `high`."""
        return low + (high - low) * self.share()

    def chosen(self, items: Sequence[Item]) -> Item:
        """Return one of the items; ValueError where there are none."""
        return items[self.below(len(items))]

    def shuffled(self, items: Sequence[Item]) -> list[Item]:
        """Return the items in an order that is as likely as any other.

        Source: D. Knuth, The Art of Computer Programming, volume 2, algorithm P (shuffling).
        """
        mixed_up = list(items)
        for last in range(len(mixed_up) - 1, 0, -1):
            other = self.below(last + 1)
            mixed_up[last], mixed_up[other] = mixed_up[other], mixed_up[last]
        return mixed_up

    def weighted(self, weights: Sequence[float]) -> int:
        """Return the place of a weight, as often as its share of their sum; none below nought."""
        left = self.share() * sum(weights)
        for place, weight in enumerate(weights):
            if left < weight:
                return place
            left -= weight
        # What rounding has left over belongs to the last that can come at all.
        return max(place for place, weight in enumerate(weights) if weight > 0)
