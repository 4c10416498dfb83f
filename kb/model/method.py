"""A method: how a thing is tested, with tools, cautions, steps and how to judge."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from .entry import Entry
from .words import Lines, Number, Text


class Method(Entry):
    """How a thing is tested."""

    kind: ClassVar[str] = "methods"
    noun: ClassVar[str] = "method"

    judges: Literal["resistance", "insulation", "windings", "voltage", "plain look"]
    """What it judges."""
    tools: Lines = Field(min_length=1)
    """What to have in hand."""
    cautions: Lines = Field(min_length=1)
    """What can hurt, and what to do about it, before the first step."""
    steps: Lines = Field(min_length=1)
    """What to do, in order."""
    judge: Text
    """How to judge the result."""
    limits: Lines = []
    """What it cannot tell."""
    not_when: Lines = []
    """When not to use it."""
    live: Literal["dead", "live"] = "dead"
    """Whether the machine must be dead, or has to be live for it."""
    minutes: Number | None = Field(default=None, gt=0)
    """How long it takes."""
