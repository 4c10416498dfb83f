"""Which lines of the program an input reaches: an input that reaches new ones is worth changing."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import CodeType, FrameType
from typing import Any

from .watch import ROOT

_OURS = (f"{ROOT}/kb/", f"{ROOT}/generators/")


class Reached:
    """The lines that were run so far."""

    def __init__(self) -> None:
        self.lines: set[tuple[CodeType, int]] = set()
        self._ours: dict[CodeType, bool] = {}

    @contextmanager
    def tracing(self) -> Iterator[None]:
        """Note every line of the program that runs meanwhile."""
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
        return self._line if ours else None

    def _line(self, frame: FrameType, event: str, arg: object) -> Any:
        if event == "line":
            self.lines.add((frame.f_code, frame.f_lineno))
        return self._line
