"""A part: a board, motor, valve or heater that can be tested or replaced."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, model_validator

from .entry import Block, Entry
from .field_change import Changes, told_as
from .sensor import Pinned
from .words import FamilyId, Fault, Lines, MethodId, Number, Ohm, SensorId, TempC, Text, YesNo


class Windings(Block):
    """What its windings should read, lead to lead."""

    pairs: dict[str, Ohm] = Field(min_length=1)
    """Lead pair such as `U-V` → ohms."""
    at_c: TempC
    """The temperature these hold at."""
    metal: Literal["copper", "aluminium", "heating wire"] = "copper"
    """What it is wound of; its constant brings a reading to 20 °C."""
    tolerance_percent: Number | None = Field(default=None, gt=0)
    """± per cent on each value."""
    balance_percent: Number | None = Field(default=None, gt=0)
    """Greatest departure from the mean of equal windings, in per cent."""

    @model_validator(mode="after")
    def _pairs_have_two_leads(self) -> Windings:
        for pair in self.pairs:
            leads = pair.split("-")
            if len(leads) != 2 or not all(leads) or leads[0] == leads[1]:
                raise Fault(
                    f"'{pair}' is not a pair of leads", at=("pairs", pair), hint="write U-V: 3.2"
                )
        return self


class Insulation(Block):
    """How well it is insulated from earth."""

    min_ohm: Ohm
    """The least resistance the maker accepts."""
    test_v: Number = Field(gt=0)
    """Direct test voltage; never higher than the maker allows."""
    at_c: TempC = 40.0
    """The temperature the limit holds at."""
    material: Literal["thermoplastic", "thermoset"] = "thermoset"
    """Winding insulation, for the correction to 40 °C."""
    disconnect: Text
    """What must be disconnected first."""


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
    refit: list[Refit] = []
    """Every plug, tab and screw to put back, in order."""
    prove: list[Proof] = []
    """What must now read what."""

    def find_keys(self) -> list[tuple[str, str]]:
        """Return what somebody would type to find it: its order text, too."""
        ordered = [("order", self.order)] if self.order is not None else []
        return [*super().find_keys(), *ordered]

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to."""
        return tuple(self.families)
