"""An instrument of the team's: how well it measures, and what it may be held to."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, model_validator

from .entry import Block, Entry
from .field_change import Changes, told_as
from .words import Fault, Lines, Number, Ohm, TempC, Text, Whole, YesNo


class OhmRange(Block):
    """One resistance range."""

    span: Ohm
    """The highest reading on this range."""
    resolution: Ohm = Field(gt=0)
    """One digit."""
    percent: Number = Field(ge=0, le=20)
    """± per cent of reading."""
    digits: Whole = Field(ge=0)
    """± digits."""

    @model_validator(mode="after")
    def _digits_are_small(self) -> OhmRange:
        # The coarsest meter in use shows 199 steps; a digit that large is a slip of the unit.
        if self.resolution > self.span / 100:
            raise Fault(
                f"a digit of {self.resolution:g} Ω on a span of {self.span:g} Ω",
                at=("resolution",),
                hint="one digit is at most a hundredth of the span: look for a slip of the unit",
            )
        return self


class Thermometer(Block):
    """How well it measures temperature."""

    accuracy_k: Number = Field(gt=0)
    """± kelvin."""
    percent: Number = Field(default=0, ge=0)
    """± per cent of reading in °C, on top."""
    resolution_k: Number = Field(gt=0)
    """One digit."""
    range_c: tuple[TempC, TempC]
    """Lowest and highest temperature."""


class InsulationTest(Block):
    """One test voltage."""

    volts: Number = Field(gt=0)
    """Direct test voltage."""
    max_ohm: Ohm
    """The highest resistance it can show."""
    percent: Number = Field(ge=0)
    """± per cent of reading."""


class Rating(Block):
    """What it may be held to, as printed beside its sockets.

    Source: IEC 61010-1 and IEC 61010-2-033 (measuring categories), from memory.
    """

    category: Literal["II", "III", "IV"]
    """Measuring category: II at a socket outlet, III in a fixed installation, IV at its origin."""
    volts: Number = Field(gt=0, le=1500)
    """The most between a tip and earth in that category."""
    fused_leads: YesNo = False
    """Whether its leads have fuses of their own."""


class Instrument(Entry):
    """A meter, thermometer, insulation tester or voltage tester of the team's."""

    kind: ClassVar[str] = "instruments"
    noun: ClassVar[str] = "instrument"
    list_title: ClassVar[str] = "Instruments"
    list_lead: ClassVar[str] = "What the team measures with, and how well."
    home_place: ClassVar[int] = 6
    find_place: ClassVar[int] = 6
    when_unnamed: ClassVar[str | None] = "name it in team.yaml, a case or a source, or delete it"
    changes: ClassVar[Changes] = {
        **told_as("safety", "cautions", rated="what it may be held to"),
        **told_as("numbers", "resistance", "temperature", "insulation", "leads_ohm"),
        **told_as("words", "kept", is_a="what it is", over_shows="what it shows over range"),
    }

    is_a: Literal["meter", "thermometer", "insulation tester", "voltage tester"]
    """What it is. Only a voltage tester, with two poles, proves a machine dead (IEC 61243-3)."""
    rated: Rating | None = None
    """What it may be held to; without it, only to what has been isolated and drained."""
    resistance: list[OhmRange] = []
    """Its resistance ranges, smallest span first."""
    temperature: Thermometer | None = None
    """Its accuracy as a thermometer."""
    insulation: list[InsulationTest] = []
    """Its insulation test voltages."""
    leads_ohm: Ohm = 0.0
    """Resistance of its leads, if not zeroed."""
    over_shows: Text | None = None
    """What its display shows over range, where that is not OL: a lone 1, three dashes."""
    cautions: Lines = []
    """What to mind when using it."""
    kept: Text | None = None
    """Where it is kept, when it was last verified."""

    @model_validator(mode="after")
    def _can_do_its_job(self) -> Instrument:
        needs = {
            "meter": ("resistance", bool(self.resistance)),
            "thermometer": ("temperature", self.temperature is not None),
            "insulation tester": ("insulation", bool(self.insulation)),
            "voltage tester": ("rated", self.rated is not None),
        }
        field, there = needs[self.is_a]
        if not there:
            raise Fault(
                f"a {self.is_a} needs '{field}'", at=("is_a",), hint="copy it from its data sheet"
            )
        spans = [reach.span for reach in self.resistance]
        if spans != sorted(set(spans)):
            raise Fault(
                "resistance ranges rise from smallest to largest span",
                at=("resistance",),
                hint="put the line with the smallest span first; look for a k or M too many",
            )
        return self

    def is_rated_for(self, volts: float, *, category: str = "III") -> bool:
        """Return whether its tips may be put where so many volts can stand.

        Parameters
        ----------
        volts : float
            Direct, or effective alternating, to earth or between the tips: the higher one.
        category : str
            What the place asks for. A machine that is wired in asks for III; what is printed for a
            higher category holds in a lower one too (IEC 61010-2-033, from memory).
        """
        return 0 < volts <= self.rated_v(category=category)

    def rated_v(self, *, category: str = "III") -> float:
        """Return the most volts its tips may be held to in a category; 0 where it may to none."""
        if self.rated is None or self.rated.category < category:
            return 0.0
        return self.rated.volts
