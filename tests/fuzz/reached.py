"""Which lines of the program an input reaches: an input that reaches new ones is worth changing."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from types import CodeType, FrameType
from typing import Any

from .watch import ROOT

_OURS = (f"{ROOT}/kb/", f"{ROOT}/generators/")


DULL = 100
"""So many calls of a function without a new line: then every hundredth is looked at."""


class Reached:
    """The lines that were run so far."""

    def __init__(self) -> None:
        self.lines: set[tuple[CodeType, int]] = set()
        self._ours: dict[CodeType, bool] = {}
        self._calls: Counter[CodeType] = Counter()
        """Calls since the last new line."""

    @contextmanager
    def tracing(self) -> Iterator[None]:
        """Note the lines of the program that run meanwhile."""
        sys.settrace(self._called)
        try:
            yield
        finally:
            sys.settrace(None)

    def _called(self, frame: FrameType, event: str, arg: object) -> Any:
        code = frame.f_code
        ours = self._ours.get(code)
        if ours is None:
            ours = self._ours[code] = code.co_filename.startswith(_OURS)
        if not ours:
            return None
        self._calls[code] += 1
        return self._line if self._calls[code] < DULL or self._calls[code] % DULL == 0 else None

    def _line(self, frame: FrameType, event: str, arg: object) -> Any:
        if event == "line":
            place = (frame.f_code, frame.f_lineno)
            if place not in self.lines:
                self.lines.add(place)
                self._calls[frame.f_code] = 0
        return self._line
