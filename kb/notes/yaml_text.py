"""Read one YAML file as plain text values, and remember where each of them stands."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import NamedTuple

import yaml

from .problem import Problem
from .text_traps import traps
from .yaml_faults import why_broken

Path = tuple[str | int, ...]
_HALF_LETTER = re.compile("[\ud800-\udfff]")

DEEPEST = 20
"""Lists and blocks inside each other: no entry needs a third of it."""

# The parser in C is ten times as fast; where it is missing, or finds a fault, the one in Python
# reads the file, so that a fault is worded alike everywhere. The one in C takes a little more
# (`{ask: Why?}` without quotes); every wheel of PyYAML brings it.
_FAST: type = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


class Mark(NamedTuple):
    """A place in a file; line and column count from 1."""

    line: int
    column: int


@dataclass
class YamlText:
    """The value of one file, the marks of its keys and values, and what was wrong with it."""

    file: str
    value: object = None
    lines: list[str] = field(default_factory=list)
    marks: dict[Path, Mark] = field(default_factory=dict)
    key_marks: dict[Path, Mark] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    """What can be read and is hardly meant."""
    gaps: bool = True
    """Some value may be nothing: a key with nothing behind it."""
    empty: bool = False
    """The file holds no entry at all."""
    checksum: str = ""
    """SHA-256 of the file's bytes; nothing where it was not read from a file."""

    def clear(self) -> None:
        """Forget what was read: another parser reads it, or nobody."""
        self.value = None
        for found in (self.marks, self.key_marks, self.problems, self.warnings):
            found.clear()

    def at(self, path: Path) -> object:
        """Return what stands at `path`; None where nothing does."""
        value = self.value
        for step in path:
            try:
                value = value[step]  # type: ignore[index]
            except (KeyError, IndexError, TypeError):
                return None
        return value

    @property
    def version(self) -> str:
        """Eight digits that are others when a line of the file is another."""
        return hashlib.sha256("\n".join(self.lines).encode("utf-8")).hexdigest()[:8]

    def texts(self) -> list[tuple[Path, str]]:
        """Return every text of the file with its path, in the order of the file."""
        found: list[tuple[Path, str]] = []
        _add_texts(self.value, (), found)
        return found

    def place(self, path: Path, *, key: bool = False) -> Mark:
        """Return where `path` stands, or where its nearest known parent does."""
        path = self._as_written(path)
        while path:
            if key and path in self.key_marks:
                return self.key_marks[path]
            if path in self.marks:
                return self.marks[path]
            # `source: some-id` stands for a block: then the id is the place, not the key.
            path = path[:-1]
            key = not isinstance(self.at(path), str)
        return Mark(1, 1)

    def _as_written(self, path: Path) -> Path:
        """Return a path without the step into a list where one block stands for a list of one."""
        written: Path = ()
        for i, step in enumerate(path):
            into_block = isinstance(step, int) and isinstance(self.at(written), dict)
            if not (into_block and (*written, *path[i + 1 : i + 2]) in self.marks):
                written = (*written, step)
        return written

    def problem(
        self,
        path: Path,
        rule: str,
        message: str,
        *,
        hint: str = "",
        key: bool = False,
        warning: bool = False,
    ) -> Problem:
        """Return a problem placed at `path`."""
        return self.problem_at(self.place(path, key=key), rule, message, hint=hint, warning=warning)

    def problem_at(
        self, mark: Mark, rule: str, message: str, *, hint: str = "", warning: bool = False
    ) -> Problem:
        """Return a problem placed at a mark, with the line it stands on."""
        text = self.lines[mark.line - 1] if 0 < mark.line <= len(self.lines) else ""
        return Problem(
            self.file, mark.line, mark.column, rule, message, hint, warning=warning, text=text
        )


def read_yaml(text: str, *, file: str) -> YamlText:
    """Read YAML as text: `012`, `1E3`, `NO` and `1:30` stay what was typed.

    Parameters
    ----------
    text : str
        The file's content.
    file : str
        The name to show in problems.

    Returns
    -------
    YamlText
        With `problems` for broken YAML, repeated keys, anchors, aliases and tags.
    """
    read = YamlText(file=file, lines=text.splitlines())
    try:
        refused = _composed(text, read, loader=_FAST)
    except _UNREADABLE:
        try:
            refused = _composed(text, read, loader=yaml.BaseLoader)
        except _UNREADABLE as error:
            read.problems.append(_broken(error, text, read))
            return read
    if refused:
        read.problems.extend(refused)
        return read
    if read.empty:
        read.problems.append(
            read.problem_at(
                Mark(1, 1),
                "empty-file",
                "the file holds no entry",
                hint="write the entry, or delete the file",
            )
        )
    return read


# Beside its own errors the parser lets another through: an escape such as \U00110000.
_UNREADABLE = (yaml.YAMLError, ValueError)


def _composed(text: str, read: YamlText, *, loader: type) -> list[Problem]:
    """Read a file into `read`; return what is refused though it is YAML, and then read nothing.

    The parser's events are read once, as they come: composing nodes first would take as long again.
    """
    building = _Building(read, yaml.parse(text, Loader=loader))
    try:
        building.run()
    except _TooDeep:
        pass
    except BaseException:
        read.clear()
        raise
    if building.refused:
        read.clear()
    return building.refused


class _TooDeep(Exception):
    """Brackets or lists stand deeper than anybody means."""


class _Building:
    """Makes a file's value out of the parser's events, and refuses what an entry never holds."""

    def __init__(self, read: YamlText, events: Iterator[yaml.Event]) -> None:
        self.read = read
        self.events = events
        self.refused: list[Problem] = []
        self.there = False
        self.depth = 0

    def run(self) -> None:
        """Read every document; the first one counts, and a second is refused."""
        documents = 0
        self.read.gaps = False
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents == 2:
                    self._refuse_second(event)
            elif isinstance(event, yaml.NodeEvent):
                value = self._value(event, ())
                if documents == 1:
                    self.read.value, self.there = value, True
        self.read.empty = not self.there

    def _value(self, event: yaml.Event, path: Path) -> object:
        """Return what begins with an event as str, list, dict or None, noting the mark of each."""
        self._refuse_sign(event)
        self.read.marks[path] = _mark(event)
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        if isinstance(event, yaml.SequenceStartEvent):
            with self._deeper(event):
                return [self._value(item, (*path, i)) for i, item in enumerate(self._until_end())]
        if isinstance(event, yaml.MappingStartEvent):
            with self._deeper(event):
                return self._block(path)
        return None

    def _scalar(self, event: yaml.ScalarEvent) -> str | None:
        plain = event.style in (None, "")  # None from the parser in Python, "" from the one in C
        if plain:
            self.read.warnings.extend(_warned(event, self.read))
            if event.value in ("", "~"):
                self.read.gaps = True
                return None
        return self._whole_letters(event)

    def _block(self, path: Path) -> dict[str, object]:
        """Return the pairs of a block, each key once."""
        block: dict[str, object] = {}
        first_line: dict[str, int] = {}
        for event in self._until_end():
            mark = _mark(event)
            key = self._key(event)
            if key is None:
                self.read.problems.append(
                    self.read.problem_at(
                        mark, "key", "a key must be a word", hint="write 'name: value'"
                    )
                )
                self._pass(next(self.events))
            elif key in block:
                self.read.problems.append(
                    self.read.problem_at(
                        mark,
                        "repeated-key",
                        f"'{key}' stands here and on line {first_line[key]}",
                        hint="keep one of the two; YAML would drop the first without a word",
                    )
                )
                self._pass(next(self.events))
            else:
                first_line[key] = mark.line
                self.read.key_marks[(*path, key)] = mark
                block[key] = self._value(next(self.events), (*path, key))
        return block

    def _key(self, event: yaml.Event) -> str | None:
        """Return a key that is a word; None for another, which is passed over whole."""
        if isinstance(event, yaml.ScalarEvent):
            self._refuse_sign(event)
            return self._whole_letters(event)
        self._pass(event)
        return None

    def _whole_letters(self, event: yaml.ScalarEvent) -> str:
        """Return a text; half a letter, as `\\ud800` writes it, can stand in no file."""
        text: str = event.value
        if text.isascii() or not _HALF_LETTER.search(text):
            return text
        try:
            # An editor may write one letter beyond the first 65,536 as its two halves.
            return text.encode("utf-16", "surrogatepass").decode("utf-16")
        except UnicodeDecodeError:
            half = ord(_HALF_LETTER.findall(text)[0])
            self.refused.append(
                self.read.problem_at(
                    _mark(event),
                    "half-letter",
                    f"'\\u{half:04x}' is half a letter, and stands for nothing",
                    hint="type the letter itself, or take it out",
                )
            )
            return ""

    def _pass(self, event: yaml.Event) -> None:
        """Pass over what begins with an event; what is refused in it is refused all the same."""
        self._refuse_sign(event)
        if isinstance(event, yaml.CollectionStartEvent):
            with self._deeper(event):
                for inner in self._until_end():
                    self._pass(inner)

    def _until_end(self) -> Iterator[yaml.Event]:
        """Yield the first event of everything up to the end of the list or block that is open."""
        for event in self.events:
            if isinstance(event, yaml.CollectionEndEvent):
                return
            yield event

    @contextmanager
    def _deeper(self, event: yaml.Event) -> Iterator[None]:
        self.depth += 1
        if self.depth > DEEPEST:
            self.refused.append(
                self.read.problem_at(
                    _mark(event),
                    "too-deep",
                    f"brackets or lists stand more than {DEEPEST} deep here",
                    hint="look for a bracket that is never closed",
                )
            )
            raise _TooDeep
        yield
        self.depth -= 1

    def _refuse_second(self, event: yaml.Event) -> None:
        self.refused.append(
            self.read.problem_at(
                _mark(event),
                "second-document",
                "one file holds one entry, but a second '---' starts another",
                hint="move it to a file of its own",
            )
        )

    def _refuse_sign(self, event: yaml.Event) -> None:
        alias = isinstance(event, yaml.AliasEvent)
        if alias or getattr(event, "anchor", None) or getattr(event, "tag", None):
            self.refused.extend(_refused_sign(event, _mark(event), self.read))


def _refused_sign(event: yaml.Event, mark: Mark, read: YamlText) -> Iterator[Problem]:
    """Yield what is wrong with an event that says more than its value."""
    anchor, tag = getattr(event, "anchor", None), getattr(event, "tag", None)
    if isinstance(event, yaml.AliasEvent):
        yield read.problem_at(
            mark,
            "alias",
            f"the alias '*{anchor}' is not allowed",
            hint="put text that starts with '*' in quotes; or write the value out",
        )
    elif anchor:
        yield read.problem_at(
            mark,
            "anchor",
            f"the anchor '&{anchor}' is not allowed",
            hint="put text that starts with '&' in quotes; or write the value out",
        )
    elif tag:
        yield read.problem_at(
            mark,
            "tag",
            f"the tag '{tag}' is not allowed",
            hint="put text that starts with '!' in quotes",
        )


def _mark(node: yaml.Event) -> Mark:
    """Return where an event starts: the parser counts from 0, we from 1."""
    start = node.start_mark
    return Mark(1, 1) if start is None else Mark(start.line + 1, start.column + 1)


def _broken(error: Exception, text: str, read: YamlText) -> Problem:
    """Turn the parser's complaint into a problem where the keeper must look."""
    line, column, what, hint = why_broken(error, text=text, lines=read.lines)
    return read.problem_at(Mark(line, column), "yaml", what, hint=hint)


def _add_texts(value: object, path: Path, found: list[tuple[Path, str]]) -> None:
    if isinstance(value, str):
        found.append((path, value))
    elif isinstance(value, dict):
        for key, inner in value.items():
            _add_texts(inner, (*path, key), found)
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            _add_texts(inner, (*path, i), found)


def _warned(event: yaml.ScalarEvent, read: YamlText) -> Iterator[Problem]:
    at = event.end_mark.line if event.end_mark is not None else 0
    line = read.lines[at] if at < len(read.lines) else ""
    for row, column, rule, message, hint in traps(event, line=line):
        yield read.problem_at(Mark(row, column), rule, message, hint=hint, warning=True)
