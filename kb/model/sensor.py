"""A sensor: one measuring element at one place on a family."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, model_validator

from .entry import Block, Entry
from .field_change import Changes, told_as
from .words import (
    CurveId,
    DrawingId,
    FamilyId,
    Fault,
    Lines,
    MethodId,
    Number,
    Ohm,
    PartId,
    SensorId,
    TempC,
    Text,
)


class Pinned(Block):
    """A pin on a drawing."""

    drawing: DrawingId
    """The drawing's id."""
    pin: Text
    """The pin's name on it."""

    @classmethod
    def meant_by(cls, words: str) -> str:
        """Return the block for a pin that was written alone."""
        return f"write {{drawing: the drawing's id, pin: {words}}}"


class Plug(Block):
    """Where the sensor's wires end."""

    board: PartId
    """The board that feeds it."""
    mark: Text
    """What is printed at the socket."""
    pins: Lines = []
    """Pin numbers, in order."""
    colour: Text | None = None
    """Colour of housing or wires, in words."""
    shared_with: list[SensorId] = []
    """Other sensors on these very pins, where the machine is wired so: a meter reads them together.
    A common ground pin alone needs no word."""

    @classmethod
    def meant_by(cls, words: str) -> str:
        """Return the block for a mark that was written alone."""
        return f"write {{board: the board's id, mark: {words}}}"


class Untestable(Block):
    """Why it cannot be tested, and what to do instead."""

    why: Text
    """Why no meter can judge it."""
    instead: Text
    """What follows: the other way to decide."""


class Healthy(Block):
    """What it should read, and when."""

    when: Text
    """The state of the machine."""
    reads: Text
    """What it should then read."""


class BoardInput(Block):
    """The board's side of the plug."""

    supply_v: Number = Field(gt=0)
    """Volts that the board feeds through the pull-up."""
    pull_up_ohm: Ohm
    """The pull-up resistor."""


class Sensor(Entry):
    """One measuring element at one place on a family."""

    kind: ClassVar[str] = "sensors"
    noun: ClassVar[str] = "sensor"
    list_title: ClassVar[str] = "Sensors"
    list_lead: ClassVar[str] = "Every sensor of every family."
    home_place: ClassVar[int] = 3
    find_place: ClassVar[int] = 2
    when_unnamed: ClassVar[str | None] = None
    changes: ClassVar[Changes] = {
        **told_as(
            "numbers",
            "curve",
            meets_c="temperatures it meets",
            allow_k="kelvin the machine allows",
            healthy="what it reads when healthy",
            board_input="the board's input",
        ),
        **told_as("codes", "untestable", "methods"),
        **told_as(
            "places",
            "label",
            "place",
            "plug",
            "reach",
            "order",
            pinned="place on the drawing",
            reach_how="how to reach it",
        ),
        **told_as(
            "words",
            "family",
            "senses",
            "rests_with",
            "when_open",
            "when_short",
            when_good="what follows when it is right",
            when_bad="what follows when it is wrong",
        ),
    }

    family: FamilyId
    """The family it is on."""
    label: Text
    """Its label on the machine's wiring diagram or controller."""
    senses: Text
    """What it measures: suction pipe, return air…"""
    place: Text
    """Where it sits, in words."""
    pinned: Pinned | None = None
    """Where it sits on a drawing."""
    plug: Plug | None = None
    """Board, socket, pins, colour."""
    reach: Literal["open", "behind a panel", "built in"]
    """How to get to it."""
    reach_how: Text | None = None
    """Panel, screws, ladder: how to get to it, in words."""
    curve: CurveId | None = None
    """Its curve; none if it is not a temperature sensor with a resistance."""
    meets_c: tuple[TempC, TempC] | None = None
    """Lowest and highest temperature it meets in service."""
    allow_k: Number | None = Field(default=None, gt=0)
    """Kelvin of error that the machine tolerates, if more than the part's own tolerance."""
    rests_with: Text | None = None
    """Where it is when the machine has stood for hours: `outdoor air`, `room`, `water`… A round
    holds against each other only sensors with the same words; none keeps it out of comparison."""
    when_open: Text | None = None
    """What to do on an open circuit; without it the trade's usual steps, then `when_bad`."""
    when_short: Text | None = None
    """What to do on a short circuit; without it the trade's usual steps, then `when_bad`."""
    healthy: list[Healthy] = []
    """What it should read and when."""
    board_input: BoardInput | None = None
    """The board's supply and pull-up, if known."""
    untestable: Untestable | None = None
    """Why it cannot be tested and what to do instead."""
    methods: list[MethodId] = []
    """How to test it."""
    when_good: Text | None = None
    """What follows when the reading is right."""
    when_bad: Text | None = None
    """What follows when it is wrong."""
    order: Text | None = None
    """Order text for a new one."""

    def find_keys(self) -> list[tuple[str, str]]:
        """Return what somebody would type to find it: its label, plug mark, order text."""
        keys = [*super().find_keys(), ("label", self.label)]
        if self.plug is not None:
            keys.append(("plug", self.plug.mark))
        if self.order is not None:
            keys.append(("order", self.order))
        return keys

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to."""
        return (self.family,)

    @property
    def testable(self) -> bool:
        """True when a meter can judge it."""
        return self.untestable is None

    @model_validator(mode="after")
    def _judged_or_explained(self) -> Sensor:
        if self.curve is None and self.untestable is None and not self.healthy:
            raise Fault(
                "nothing says how to judge it: no curve, no 'healthy', no 'untestable'",
                hint="name its curve, or say what it reads when healthy, or why it has no test",
            )
        if self.curve is not None and self.meets_c is None:
            raise Fault(
                "a sensor with a curve says which temperatures it meets",
                at=("curve",),
                hint="add 'meets_c: [lowest, highest]'",
            )
        if self.meets_c is not None and self.meets_c[0] >= self.meets_c[1]:
            raise Fault(
                f"meets_c runs from {self.meets_c[0]:g} to {self.meets_c[1]:g} °C",
                at=("meets_c",),
                hint=f"write the lowest first: [{self.meets_c[1]:g}, {self.meets_c[0]:g}]",
            )
        return self
