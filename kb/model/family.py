"""A family: machines that share sensors, boards and codes."""

from __future__ import annotations

import re
from typing import ClassVar

from pydantic import Field, model_validator

from .entry import Block, Entry
from .field_change import Changes, told_as
from .words import DrawingId, Fault, Lines, Number, Text

_PLATE_VOLTS = re.compile(r"(\d+(?:\.\d+)?)\s*V", re.ASCII)


class Supply(Block):
    """What feeds the machine."""

    volts: Text
    """As on the plate, such as `400 V 3N~ 50 Hz`."""
    isolate_at: Text
    """Where it is isolated and locked off."""


class LampPace(Block):
    """How long a lamp is lit and dark, as counted at the machine."""

    long_s: Number = Field(gt=0, le=10)
    """Seconds of a long blink."""
    short_s: Number = Field(gt=0, le=10)
    """Seconds of a short blink."""
    dark_s: Number = Field(gt=0, le=10)
    """Seconds of dark between two blinks."""
    pause_s: Number = Field(gt=0, le=30)
    """Seconds of dark before it begins again."""


class Controller(Block):
    """What the machine shows its codes on, and how to ask it for detail."""

    name: Text
    """What it is: wall controller, lamp on the main board…"""
    shows: Text
    """How a code appears there."""
    ask: Lines = []
    """Steps that make it name the sensor or show its readings."""
    pace: LampPace | None = None
    """Of a lamp: how long it is lit and dark. Drills then blink as the machine does."""


class Family(Entry):
    """Machines that share sensors, boards and codes."""

    kind: ClassVar[str] = "families"
    noun: ClassVar[str] = "family"
    list_title: ClassVar[str] = "Families"
    list_lead: ClassVar[str] = "Machines that share sensors, boards and codes."
    home_place: ClassVar[int] = 1
    find_place: ClassVar[int] = 4
    when_unnamed: ClassVar[str | None] = None
    changes: ClassVar[Changes] = {
        **told_as(
            "safety",
            "supply",
            "refrigerant",
            "cautions",
            drain_min="minutes to wait for stored charge",
            no_charge="why nothing is stored",
            drained_below_v="drained below",
            drain_at="where to measure the drain",
            charge_v="volts of the stored charge",
        ),
        **told_as("words", "maker", "plate", "controllers", "drawings", does="what it does"),
    }

    maker: Text
    """The maker, in words."""
    does: Text
    """What the machine does and where it is met."""
    plate: Lines = []
    """Type designations on the plate."""
    supply: Supply
    """What feeds it and where it is isolated."""
    drain_min: Number = Field(ge=0)
    """Minutes for stored charge to drain after isolating; 0 only with `no_charge`."""
    no_charge: Text | None = None
    """Why this machine stores no charge at all; then `drain_min` is 0."""
    drained_below_v: Number = Field(gt=0)
    """The voltage, measured, below which it counts as drained."""
    drain_at: Text
    """Where to measure that it has drained."""
    charge_v: Number | None = Field(default=None, gt=0)
    """Direct volts that stand there before it has: an instrument must be rated for them."""
    refrigerant: Text | None = None
    """Refrigerant and its charge or pressure limits, in words."""
    cautions: Lines = []
    """What this family adds to the usual cautions."""
    controllers: list[Controller] = []
    """What shows the codes."""
    drawings: list[DrawingId] = []
    """Sketches or photos of it."""

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to."""
        return (self.id,)

    @property
    def wait(self) -> str:
        """What to do about stored charge, up to the voltage: `Wait 5 min, then measure`."""
        if self.no_charge is not None:
            return f"Nothing is stored: {self.no_charge.rstrip('.')}. Measure all the same"
        return f"Wait {self.drain_min:g} min, then measure"

    @property
    def live_v(self) -> float | None:
        """The most volts that stand anywhere in it: stored charge or supply; None if none is said.

        Between lines, where the plate gives that: a tip that slips may bridge two of them.
        """
        plate_v = [float(volts) for volts in _PLATE_VOLTS.findall(self.supply.volts)]
        return max([*plate_v, self.charge_v or 0.0]) or None

    @model_validator(mode="after")
    def _waits_or_says_why_not(self) -> Family:
        if self.drain_min == 0 and self.no_charge is None:
            raise Fault(
                "no wait for stored charge, and nothing says why",
                at=("drain_min",),
                hint="give the minutes, or add 'no_charge: why nothing is stored'",
            )
        if self.drain_min > 0 and self.no_charge is not None:
            raise Fault(
                f"no charge is stored, and {self.drain_min:g} minutes to wait for it",
                at=("no_charge",),
                hint="write 'drain_min: 0', or leave 'no_charge' out",
            )
        return self
