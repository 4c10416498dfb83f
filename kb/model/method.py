"""A method: how a thing is tested, with tools, cautions, steps and how to judge."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from .entry import Entry
from .field_change import Changes, told_as
from .words import Lines, Number, Text


class Method(Entry):
    """How a thing is tested."""

    kind: ClassVar[str] = "methods"
    noun: ClassVar[str] = "method"
    list_title: ClassVar[str] = "Methods"
    list_lead: ClassVar[str] = "How a thing is tested."
    home_place: ClassVar[int] = 5
    find_place: ClassVar[int] = 5
    when_unnamed: ClassVar[str | None] = "name it in a sensor, a part or a suspect, or delete it"
    changes: ClassVar[Changes] = {
        **told_as("safety", "cautions", live="machine", not_when="when not to use it"),
        **told_as("words", "judges", "tools", "steps", "judge", "limits", "minutes"),
    }

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
