"""Move a pin in the text of its drawing: two numbers change, and every other byte stays."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass

import yaml

from .file_text import decoded
from .yaml_text import Path, YamlText, read_yaml

_PERCENT = re.compile(r"(?:100(?:\.0)?|[0-9]{1,2}(?:\.[0-9])?)")
"""A place as it is written: 0 to 100, to a tenth; a pin is drawn no finer."""


class PinNotMoved(ValueError):
    """Why a pin cannot be moved, and what would work; the text is as it was."""


@dataclass(frozen=True)
class MovedPin:
    """A drawing's file after a pin was moved."""

    raw: bytes
    line: str
    """The line that holds the pin's x now."""
    number: int
    """Which line of the file that is, from 1."""
    was: tuple[str, str]
    """x and y as they were written before."""


def move_pin(raw: bytes, *, file: str, pin: str, to: tuple[str, str]) -> MovedPin:
    """Return a drawing's file with a pin at another place.

    Parameters
    ----------
    raw : bytes
        The file; its mark of UTF-8, its ends of lines and its comments are kept.
    file : str
        Its name, for messages.
    pin : str
    to : (x, y)
        In percent, as they are to be written, such as `41.5`.

    Raises
    ------
    PinNotMoved
    """
    if not all(_PERCENT.fullmatch(figure) for figure in to):
        raise PinNotMoved("a place is 0 to 100 percent, to a tenth")
    text, problems = decoded(raw, file=file)
    before = read_yaml(text, file=file)
    for problem in (*problems, *before.problems):
        raise PinNotMoved(f"{problem.headline()}; mend that first")
    x_node, y_node = (_figure(text, file=file, pin=pin, axis=axis) for axis in "xy")
    moved = text
    # From the end of the file, so that what is changed first moves nothing that comes after.
    for node, figure in sorted(
        ((x_node, to[0]), (y_node, to[1])), key=lambda pair: -pair[0].start_mark.index
    ):
        moved = moved[: node.start_mark.index] + figure + moved[node.end_mark.index :]
    _refuse_other_changes(before, read_yaml(moved, file=file), pin=pin, to=to)
    line = x_node.start_mark.line
    mark = codecs.BOM_UTF8 if raw.startswith(codecs.BOM_UTF8) else b""
    return MovedPin(
        raw=mark + moved.encode("utf-8"),
        line=moved.splitlines()[line],
        number=line + 1,
        was=(x_node.value, y_node.value),
    )


def _figure(text: str, *, file: str, pin: str, axis: str) -> yaml.ScalarNode:
    """Return the node of a pin's x or y."""
    node: yaml.Node | None = yaml.compose(text, Loader=yaml.BaseLoader)
    for step in ("pins", pin, axis):
        pairs = node.value if isinstance(node, yaml.MappingNode) else []
        node = next((value for key, value in pairs if key.value == step), None)
    if not isinstance(node, yaml.ScalarNode):
        raise PinNotMoved(f"{file} has no pin '{pin}' with its x and y: was it renamed?")
    return node


def _refuse_other_changes(
    before: YamlText, after: YamlText, *, pin: str, to: tuple[str, str]
) -> None:
    """Refuse a change that would be read as more than two numbers, however it came about."""
    places: dict[Path, str] = {("pins", pin, "x"): to[0], ("pins", pin, "y"): to[1]}
    wanted = [(path, places.get(path, words)) for path, words in before.texts()]
    if after.problems or list(after.texts()) != wanted:
        raise PinNotMoved(
            f"{before.file}: the pin '{pin}' is written in a way that is only changed by hand"
        )
