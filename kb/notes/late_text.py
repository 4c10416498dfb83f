"""The text of a file whose value is known already: the rest is read when somebody asks for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from .seen_file import bytes_of
from .yaml_text import YamlText, read_yaml


class LateText(YamlText):
    """A file without faults whose value is known: lines and marks are read when asked for."""

    # No YamlText.__init__: what it would set is what nobody may need.
    def __init__(self, *, file: str, value: object, gaps: bool) -> None:
        self.file, self.value, self.gaps = file, value, gaps

    def __getattr__(self, name: str) -> Any:
        if name == "lines":
            self.lines = self._text().splitlines()
        elif name in ("marks", "key_marks", "problems", "warnings"):
            read = read_yaml(self._text(), file=self.file)
            self.marks, self.key_marks = read.marks, read.key_marks
            self.problems, self.warnings = read.problems, read.warnings
        else:
            raise AttributeError(name)
        return getattr(self, name)

    def _text(self) -> str:
        raise NotImplementedError


class TextOfFile(LateText):
    """One whose bytes are on the disk.

    Parameters
    ----------
    path : str
        Where it stands.
    file : str
        The name to show in problems.
    checksum : str
        SHA-256 of the bytes that gave the value; ChangedMeanwhile when the file holds others.
    value : object
    gaps : bool
        Some of it may be nothing.
    """

    def __init__(self, path: str, *, file: str, checksum: str, value: object, gaps: bool) -> None:
        super().__init__(file=file, value=value, gaps=gaps)
        self.checksum, self._path = checksum, path

    def _text(self) -> str:
        return bytes_of(self._path, checksum=self.checksum).decode("utf-8-sig")


class TextOfLines(LateText):
    """One whose lines are known, which end as lines of YAML do."""

    def __init__(self, lines: Sequence[str], *, file: str, value: object, gaps: bool) -> None:
        super().__init__(file=file, value=value, gaps=gaps)
        self.lines, self.problems, self.warnings = [*lines], [], []

    def _text(self) -> str:
        return "\n".join(self.lines) + "\n"
