"""The text of a file whose value is known already: the rest is read when somebody asks for it."""

from __future__ import annotations

import hashlib
from typing import Any

from .yaml_text import YamlText, read_yaml


class LateText(YamlText):
    """A file without faults whose value is known: its lines and marks are read when asked for."""

    # No YamlText.__init__: what it would set is what nobody may need.
    def __init__(self, raw: bytes, *, file: str, value: object) -> None:
        self.file, self.value, self._raw = file, value, raw
        self.checksum = hashlib.sha256(raw).hexdigest()

    def __getattr__(self, name: str) -> Any:
        if name == "lines":
            self.lines = self._text().splitlines()
        elif name in ("marks", "key_marks", "problems", "warnings"):
            read = read_yaml(self._text(), file=self.file)
            self.lines, self.marks, self.key_marks = read.lines, read.marks, read.key_marks
            self.problems, self.warnings = read.problems, read.warnings
        else:
            raise AttributeError(name)
        return getattr(self, name)

    def _text(self) -> str:
        return self._raw.decode("utf-8-sig")
