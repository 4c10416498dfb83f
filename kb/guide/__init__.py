"""The keeper's guide as steps to type: page and test take their commands and files from here."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

FILE = Path(__file__).with_name("steps.toml")
WIDEST = 80
"""No line of a command is wider, so that it stands whole in a terminal."""


@dataclass(frozen=True, kw_only=True)
class Block:
    """Something that the keeper types, or a file that they write or bring.

    Parameters
    ----------
    id : str
        The catalogue's words for it are the form of this name of the step in `[guide]`.
    commands : str
        Lines for a shell, as they are printed; empty for a file.
    file : str
        The file's name in the folder where the guide begins; empty for commands.
    text : str
        What stands in the file; empty for one that only the reader has, such as a photo.
    there : tuple of str
        Files that are there afterwards, from the folder where the guide begins.
    """

    id: str
    commands: str = ""
    file: str = ""
    text: str = ""
    there: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of the guide: its id in the catalogue, and its blocks in order."""

    id: str
    blocks: tuple[Block, ...]


@cache
def guide() -> tuple[Step, ...]:
    """Return the steps in order; the commands of each rest on all that stand before."""
    steps = tomllib.loads(FILE.read_text(encoding="utf-8"))["step"]
    return tuple(Step(id=step["id"], blocks=tuple(map(_block, step["block"]))) for step in steps)


def _block(fields: Mapping[str, object]) -> Block:
    there = fields.get("there", ())
    texts = {name: str(text).strip("\n") for name, text in fields.items() if name != "there"}
    return Block(**texts, there=tuple(there) if isinstance(there, list) else ())
