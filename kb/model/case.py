"""A case: one past job, with code, readings, cause and cure. Never a customer."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field, model_validator

from kb.numbers.notation import parse_reading

from .entry import Block, Entry
from .field_change import Changes, told_as
from .off_page import OffPage
from .words import (
    CodeId,
    Day,
    FamilyId,
    Fault,
    InstrumentId,
    Lines,
    Number,
    PartId,
    SensorId,
    TempC,
    Text,
)


def _reading(value: object) -> object:
    if isinstance(value, str):
        try:
            return parse_reading(value)
        except ValueError as error:
            raise Fault(str(error), hint="write 480, 6.32k, 6k32, or OL for over range") from None
    return value


class Reading(Block):
    """One reading taken on the job."""

    sensor: SensorId
    """What was measured."""
    r: Annotated[float, BeforeValidator(_reading, json_schema_input_type=float | str)]
    """What the meter showed; OL for over range."""
    t_c: TempC | None = None
    """The temperature there."""
    how: Literal["ice-water", "strapped", "held-on", "air"] | None = None
    """How that temperature was taken."""
    meter: InstrumentId | None = None
    """The meter that was used."""
    thermometer: InstrumentId | None = None
    """The thermometer that was used."""
    after: Literal["before", "after"] = "before"
    """Before or after the repair."""


class Cause(Block):
    """What it was: exactly one of sensor, part, what."""

    sensor: SensorId | None = None
    """A sensor."""
    part: PartId | None = None
    """Or a part."""
    what: Text | None = None
    """Neither: in words, best those of the code's suspect."""

    @model_validator(mode="after")
    def _one_thing(self) -> Cause:
        named = [n for n in ("sensor", "part", "what") if getattr(self, n) is not None]
        if len(named) != 1:
            raise Fault(
                f"a cause is one of sensor, part, what; here {len(named)}",
                hint="write {sensor: ID}, {part: ID} or {what: words}, the one that it was",
            )
        return self

    @property
    def key(self) -> tuple[str, str]:
        """What a suspect is matched by."""
        if self.sensor is not None:
            return ("sensor", self.sensor)
        if self.part is not None:
            return ("part", self.part)
        return ("what", (self.what or "").casefold())


class CasePhoto(Block):
    """A photo taken on the job; it shows no person, and nothing that names a customer."""

    file: Annotated[Text, OffPage("Its name is on no page: the photo that it names is.")]
    """A JPEG, PNG, WebP or HEIC file beside this entry, its name only."""
    of: Text
    """What it shows."""


class Case(Entry):
    """One past job. It never names a customer or a site."""

    kind: ClassVar[str] = "cases"
    noun: ClassVar[str] = "case"
    list_title: ClassVar[str] = "Past jobs"
    list_lead: ClassVar[str] = "What it was last time, newest first."
    home_place: ClassVar[int] = 9
    find_place: ClassVar[int] = 8
    when_unnamed: ClassVar[str | None] = None
    changes: ClassVar[Changes] = told_as(
        "words",
        "on",
        "by",
        "family",
        "code",
        "machine",
        "found",
        "readings",
        "cause",
        "cure",
        "minutes",
        "learnt",
        "photos",
        measured="what else was measured",
    )

    source: None = None  # type: ignore[assignment]  # a case is its own source
    """Not used: a case is its own source."""
    on: Day
    """When."""
    by: Text
    """Initials of whoever was there."""
    family: FamilyId
    """The family."""
    code: CodeId | None = None
    """The code shown; none if it showed none."""
    machine: Text | None = None
    """Which of several alike, in words that name no customer: `the left one`. Two jobs of one day
    with the same readings are one job, and count once, unless this tells them apart."""
    found: Text
    """What was found, as a story in a few sentences."""
    readings: list[Reading] = []
    """What was measured of sensors."""
    measured: Lines = []
    """What else was measured, a line each: windings, insulation, volts, a loop."""
    cause: Cause
    """What it was."""
    cure: Text
    """What was done."""
    minutes: Number = Field(gt=0)
    """From arriving to leaving it running."""
    learnt: Lines = []
    """What the next colleague should know."""
    photos: list[CasePhoto] = []
    """What was photographed."""

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to."""
        return (self.family,)
