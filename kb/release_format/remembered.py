"""Remember what was worked out, and forget what nobody asked for again."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Remembered(Generic[K, V]):
    """What is known by its key: worked out when it is first asked for.

    Parameters
    ----------
    known : mapping, optional
        What was worked out an earlier time.
    """

    def __init__(self, known: Mapping[K, V] | None = None) -> None:
        self._known = dict(known or {})
        self.asked: dict[K, V] = {}
        """What was asked for this time: all that is worth being remembered."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Remembered) and (self._known, self.asked) == (
            other._known,
            other.asked,
        )

    def of(self, key: K, *, make: Callable[[], V]) -> V:
        """Return what stands under a key."""
        if key not in self.asked:
            self.asked[key] = self._known[key] if key in self._known else make()
        return self.asked[key]
