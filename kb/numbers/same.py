"""Remember what was computed of a thing by the very thing: a curve is asked the same many times."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Generic, TypeVar

T = TypeVar("T")
R = TypeVar("R")


class Same(Generic[T]):
    """Stands for a thing that is the same as another only when it is the very one."""

    __slots__ = ("it",)

    def __init__(self, it: T) -> None:
        self.it = it

    def __hash__(self) -> int:
        return id(self.it)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and self.it is other.it


def once_each(compute: Callable[[T], R], *, most: int) -> Callable[[T], R]:
    """Return the same function, which computes once of each thing as long as the thing is recent.

    A failure is not remembered.
    """

    @lru_cache(maxsize=most)
    def computed(of: Same[T]) -> R:
        return compute(of.it)

    return lambda of: computed(Same(of))
