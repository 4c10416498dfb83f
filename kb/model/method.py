"""A method: how a thing is tested, with tools, cautions, steps and how to judge."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, model_validator

from .entry import Entry
from .field_change import Changes, told_as
from .words import Fault, Lines, Number, Text, Whole

LIVE_STEP = "Live, for those authorised"
"""How a step begins that cannot be done dead. The Safety page says so, and the pages mark it."""


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
        **told_as(
            "safety",
            "cautions",
            "people",
            "doors",
            live="machine",
            volts="volts at the tips",
            not_when="when not to use it",
        ),
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
    people: Whole = Field(default=1, ge=1, le=9)
    """How many it takes, for safety's sake."""
    doors: Text | None = None
    """Which doors, lids and covers are open for it."""
    volts: Number | None = Field(default=None, gt=0)
    """The most that may stand at the tips; an instrument must be rated for it. None: dead."""

    @model_validator(mode="after")
    def _dead_has_no_volts(self) -> Method:
        if self.volts is not None and self.live == "dead":
            raise Fault(
                "volts at the tips of a machine that is dead",
                at=("volts",),
                hint="write 'live: live', or take it out",
            )
        return self
