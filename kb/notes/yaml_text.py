"""Read one YAML file as plain text values, and remember where each of them stands."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml

from .problem import Problem
from .text_traps import traps
from .yaml_faults import why_broken

Path = tuple[str | int, ...]

DEEPEST = 20
"""Lists and blocks inside each other: no entry needs a third of it."""

# The parser in C is ten times as fast; where it is missing, or finds a fault, the one in Python
# reads the file, so that a fault is worded alike everywhere. The one in C takes a little more
# (`{ask: Why?}` without quotes); every wheel of PyYAML brings it.
_FAST: type = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


@dataclass(frozen=True)
class Mark:
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

    def texts(self) -> Iterator[tuple[Path, str]]:
        """Yield every text of the file with its path, in the order of the file."""
        yield from _texts(self.value, ())

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
        refused, node = _composed(text, read, loader=_FAST)
    except _UNREADABLE:
        try:
            refused, node = _composed(text, read, loader=yaml.BaseLoader)
        except _UNREADABLE as error:
            read.problems.append(_broken(error, text, read))
            return read
    if refused:
        read.problems.extend(refused)
        return read
    if node is None:
        read.problems.append(
            read.problem_at(
                Mark(1, 1),
                "empty-file",
                "the file holds no entry",
                hint="write the entry, or delete the file",
            )
        )
        return read
    read.value = _value(node, (), read)
    return read


# Beside its own errors the parser lets another through: an escape such as \U00110000.
_UNREADABLE = (yaml.YAMLError, ValueError)


def _composed(text: str, read: YamlText, *, loader: type) -> tuple[list[Problem], yaml.Node | None]:
    """Return what is refused though it is YAML, and the node of the file when nothing is."""
    refused = list(_refused(text, read, loader=loader))
    return refused, None if refused else yaml.compose(text, Loader=loader)


def _refused(text: str, read: YamlText, *, loader: type) -> Iterator[Problem]:
    """Yield a problem for each anchor, alias, tag, and for a second document."""
    documents = depth = 0
    for event in yaml.parse(text, Loader=loader):
        mark = _mark(event)
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        documents += isinstance(event, yaml.DocumentStartEvent)
        if depth > DEEPEST:
            yield read.problem_at(
                mark,
                "too-deep",
                f"brackets or lists stand more than {DEEPEST} deep here",
                hint="look for a bracket that is never closed",
            )
            return
        if isinstance(event, yaml.DocumentStartEvent):
            if documents == 2:
                yield read.problem_at(
                    mark,
                    "second-document",
                    "one file holds one entry, but a second '---' starts another",
                    hint="move it to a file of its own",
                )
        else:
            yield from _refused_sign(event, mark, read)


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


def _mark(node: yaml.Node | yaml.Event) -> Mark:
    """Return where a node or an event starts: the parser counts from 0, we from 1."""
    start = node.start_mark
    return Mark(1, 1) if start is None else Mark(start.line + 1, start.column + 1)


def _broken(error: Exception, text: str, read: YamlText) -> Problem:
    """Turn the parser's complaint into a problem where the keeper must look."""
    line, column, what, hint = why_broken(error, text=text, lines=read.lines)
    return read.problem_at(Mark(line, column), "yaml", what, hint=hint)


def _texts(value: object, path: Path) -> Iterator[tuple[Path, str]]:
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _texts(inner, (*path, key))
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            yield from _texts(inner, (*path, i))


def _warned(node: yaml.ScalarNode, read: YamlText) -> Iterator[Problem]:
    at = node.end_mark.line
    line = read.lines[at] if at < len(read.lines) else ""
    for row, column, rule, message, hint in traps(node, line=line):
        yield read.problem_at(Mark(row, column), rule, message, hint=hint, warning=True)


def _value(node: yaml.Node, path: Path, read: YamlText) -> object:
    """Return the node as str, list, dict or None, noting the mark of each."""
    read.marks[path] = _mark(node)
    if isinstance(node, yaml.ScalarNode):
        plain = node.style in (None, "")  # None from the parser in Python, "" from the one in C
        if plain:
            read.warnings.extend(_warned(node, read))
        plain_and_empty = plain and node.value in ("", "~")
        return None if plain_and_empty else node.value
    if isinstance(node, yaml.SequenceNode):
        return [_value(item, (*path, i), read) for i, item in enumerate(node.value)]
    return _block(node, path, read)


def _block(node: yaml.Node, path: Path, read: YamlText) -> dict[str, object]:
    """Return the pairs of a node, each key once."""
    block: dict[str, object] = {}
    first_line: dict[str, int] = {}
    for key_node, value_node in node.value:
        mark = _mark(key_node)
        if not isinstance(key_node, yaml.ScalarNode):
            read.problems.append(
                read.problem_at(mark, "key", "a key must be a word", hint="write 'name: value'")
            )
            continue
        key = key_node.value
        if key in block:
            read.problems.append(
                read.problem_at(
                    mark,
                    "repeated-key",
                    f"'{key}' stands here and on line {first_line[key]}",
                    hint="keep one of the two; YAML would drop the first without a word",
                )
            )
            continue
        first_line[key] = mark.line
        read.key_marks[(*path, key)] = mark
        block[key] = _value(value_node, (*path, key), read)
    return block
