"""A family: machines that share sensors, boards and codes."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field

from .entry import Block, Entry
from .words import DrawingId, Lines, Number, Text


class Supply(Block):
    """What feeds the machine."""

    volts: Text
    """As on the plate, such as `400 V 3N~ 50 Hz`."""
    isolate_at: Text
    """Where it is isolated and locked off."""


class Controller(Block):
    """What the machine shows its codes on, and how to ask it for detail."""

    name: Text
    """What it is: wall controller, lamp on the main board…"""
    shows: Text
    """How a code appears there."""
    ask: Lines = []
    """Steps that make it name the sensor or show its readings."""


class Family(Entry):
    """Machines that share sensors, boards and codes."""

    kind: ClassVar[str] = "families"
    noun: ClassVar[str] = "family"

    maker: Text
    """The maker, in words."""
    does: Text
    """What the machine does and where it is met."""
    plate: Lines = []
    """Type designations on the plate."""
    supply: Supply
    """What feeds it and where it is isolated."""
    drain_min: Number = Field(gt=0)
    """Minutes for stored charge to drain after isolating."""
    drained_below_v: Number = Field(gt=0)
    """The voltage, measured, below which it counts as drained."""
    drain_at: Text
    """Where to measure that it has drained."""
    refrigerant: Text | None = None
    """Refrigerant and its charge or pressure limits, in words."""
    cautions: Lines = []
    """What this family adds to the usual cautions."""
    controllers: list[Controller] = []
    """What shows the codes."""
    drawings: list[DrawingId] = []
    """Sketches or photos of it."""
