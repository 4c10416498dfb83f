"""A part: a board, motor, valve or heater that can be tested or replaced."""

from __future__ import annotations

import re
from typing import ClassVar, Literal

from pydantic import Field

from .entry import Block, Entry
from .field_change import Changes, told_as
from .insulation import Insulation
from .sensor import Pinned
from .windings import Windings
from .words import DrawingId, FamilyId, Lines, MethodId, Number, SensorId, Text, YesNo

_EARTH = re.compile(
    r"\b(earth(?! (fault|leakage))|earthing|protective conductor"
    r"|ground(ing)? (lead|screw|stud|strap|tab|terminal|wire))\b",
    re.IGNORECASE,
)
"""Words that say of a line that it is the protective earth."""


class Refit(Block):
    """One thing to put back."""

    what: Text
    """Plug, tab, screw, clip… and where it goes."""
    is_a: Literal["plug", "tab", "screw", "clip", "seal", "paste", "setting", "other"]
    """What sort of thing it is."""
    mark: Text | None = None
    """What is printed there."""
    count: Number = Field(default=1, ge=1)
    """How many of them."""
    note: Text | None = None
    """What goes wrong here."""

    @property
    def earth(self) -> bool:
        """Whether its words or its mark say that it is the protective earth."""
        marks = re.split(r"[\s,/]+", self.mark or "")
        return "PE" in marks or "⏚" in marks or _EARTH.search(self.what) is not None

    @property
    def connects(self) -> bool:
        """Whether it is a conductor: plugs, tabs, and screws with a mark, which are terminals."""
        return self.is_a in ("plug", "tab") or (self.is_a == "screw" and self.mark is not None)


class Setting(Block):
    """Something that the old one is set to: written down before it comes out."""

    what: Text
    """What is set there."""
    is_a: Literal["switch", "jumper", "number", "size plug"]
    """A bank of small switches, a jumper, a numbered setting of the controller, or a size plug."""
    mark: Text | None = None
    """What is printed there, or the number of the setting."""
    choices: Lines = []
    """What it can stand at; left out where it may be anything."""
    note: Text | None = None
    """What goes wrong when it is not carried over."""


class Proof(Block):
    """One thing that proves the repair."""

    what: Text
    """What to read or watch."""
    must: Text
    """What it must then be."""
    sensor: SensorId | None = None
    """The sensor whose reading proves it."""
    watch_min: Number | None = Field(default=None, gt=0)
    """For how many minutes."""


class Part(Entry):
    """A board, motor, valve, heater… that can be tested or replaced."""

    kind: ClassVar[str] = "parts"
    noun: ClassVar[str] = "part"
    list_title: ClassVar[str] = "Parts"
    list_lead: ClassVar[str] = "Boards, motors, valves, heaters."
    home_place: ClassVar[int] = 4
    find_place: ClassVar[int] = 3
    when_unnamed: ClassVar[str | None] = "name it in a plug, a suspect or a case, or delete it"
    changes: ClassVar[Changes] = {
        **told_as("safety", "cautions", "insulation"),
        **told_as("numbers", "windings"),
        **told_as("codes", rule_out="what to rule out first"),
        **told_as(
            "places",
            "order",
            "refit",
            settings="settings to write down before it comes out",
            refit_on="drawing of what goes back",
            pinned="place on the drawing",
            replace="how to replace it",
            prove="what proves the repair",
        ),
        **told_as(
            "words",
            "families",
            "methods",
            is_a="what it is",
            does="what it does",
            dear="dear enough to rule others out first",
            labour_min="minutes to replace it",
        ),
    }

    families: list[FamilyId] = Field(min_length=1)
    """The families it is on."""
    is_a: Literal["board", "motor", "compressor", "valve", "heater", "fan", "switch", "other"]
    """What it is."""
    does: Text
    """What it is for."""
    pinned: Pinned | None = None
    """Where it sits on a drawing."""
    dear: YesNo = False
    """Dear enough to rule other things out first."""
    windings: Windings | None = None
    """Lead-to-lead resistances."""
    insulation: Insulation | None = None
    """Insulation limit and test voltage."""
    methods: list[MethodId] = []
    """How to test it."""
    rule_out: Lines = []
    """What would kill a new one."""
    order: Text | None = None
    """Order text."""
    labour_min: Number | None = Field(default=None, gt=0)
    """Minutes to replace it."""
    cautions: Lines = []
    """What can hurt when it is replaced."""
    replace: Lines = []
    """How to replace it, in order."""
    settings: list[Setting] = []
    """What it is set to, to be written down before it comes out."""
    refit: list[Refit] = []
    """Every plug, tab and screw to put back, in order: the earth before any other conductor."""
    refit_on: DrawingId | None = None
    """The drawing that pins what goes back, where it is not the one that pins the part."""
    prove: list[Proof] = []
    """What must now read what."""

    def find_keys(self) -> list[tuple[str, str]]:
        """Return what somebody would type to find it: its order text, too."""
        ordered = [("order", self.order)] if self.order is not None else []
        return [*super().find_keys(), *ordered]

    @property
    def drawing(self) -> str | None:
        """The drawing that shows what goes back; else the one that pins the part."""
        return self.refit_on or (self.pinned.drawing if self.pinned else None)

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to."""
        return tuple(self.families)
