"""A code: one fault indication of a family, and every way it is shown."""

from __future__ import annotations

import re
from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator

from kb.answers.blinks import BlinkPattern, read_blinks

from .entry import Block, Entry
from .field_change import Changes, told_as
from .off_page import OffPage
from .words import (
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
    Whole,
    YesNo,
)


class Blinks(Block):
    """A blink pattern of a lamp."""

    lamp: Text
    """Which lamp."""
    long: Whole = Field(default=0, ge=0, le=20)
    """Long blinks, shown first."""
    short: Whole = Field(default=0, ge=0, le=20)
    """Short blinks, after the long ones."""

    @classmethod
    def meant_by(cls, words: str) -> str:
        """Return the pattern that was written in words, as the block that stands for it."""
        patterns = read_blinks(words)
        both = [pattern for pattern in patterns if pattern.long and pattern.short]
        pattern = (both or [*patterns, BlinkPattern(long=2, short=1)])[0]
        return f"write {{lamp: red, long: {pattern.long}, short: {pattern.short}}}"


def blinks_in_words(words: str) -> bool:
    """Return whether a text is a blink pattern in words, such as `two long one short`."""
    return bool(
        re.search(r"\b(long|short|blink|flash|lang|kurz)", words.casefold()) and read_blinks(words)
    )


class Shown(Block):
    """One way the code is shown: exactly one of text, blinks, asked."""

    where: Text | None = None
    """On what: wall controller, board display, service menu…"""
    text: Text | None = None
    """Text on a display, exactly as shown."""
    blinks: Blinks | None = None
    """Blinks of a lamp."""
    asked: Text | None = None
    """The number that the controller gives when asked."""

    @classmethod
    def meant_by(cls, words: str) -> str:
        """Return the way of showing that was written as its text alone."""
        if blinks_in_words(words):
            return Blinks.meant_by(words).replace("{", "{blinks: {", 1) + "}"
        return f"write {{text: {words}}}"

    @model_validator(mode="after")
    def _one_way(self) -> Shown:
        ways = [name for name in ("text", "blinks", "asked") if getattr(self, name) is not None]
        if len(ways) != 1:
            raise Fault(
                f"one way of showing has one of text, blinks, asked; here {len(ways)}",
                hint="write each way as an item of its own",
            )
        if self.blinks is not None and self.blinks.long + self.blinks.short == 0:
            raise Fault(
                "a blink pattern with no blink",
                at=("blinks",),
                hint="write how many there are: {long: 2, short: 1}",
            )
        return self

    def spoken(self) -> str:
        """Return the way in words: `text`, `2 long 4 short`, or the number."""
        if self.blinks is None:
            return self.text or self.asked or ""
        counts = []
        if self.blinks.long:
            counts.append(f"{self.blinks.long} long")
        if self.blinks.short:
            counts.append(f"{self.blinks.short} short")
        return " ".join(counts)

    def find_key(self) -> tuple[str, str]:
        """Return what somebody would type who sees it; blinks as `2L4S`."""
        if self.blinks is not None:
            return ("blinks", f"{self.blinks.long}L{self.blinks.short}S")
        return ("code" if self.asked is None else "asked", self.spoken())


class Trip(Block):
    """What makes the machine raise the code."""

    sensor: SensorId | None = None
    """The sensor whose reading trips it."""
    below_c: TempC | None = None
    """Raised below this temperature."""
    above_c: TempC | None = None
    """Raised above this temperature."""
    below_ohm: Ohm | None = None
    """Raised below this resistance."""
    above_ohm: Ohm | None = None
    """Raised above this resistance."""
    for_s: Number | None = Field(default=None, ge=0)
    """For how many seconds."""
    off_k: Number | None = Field(default=None, gt=0)
    """How far off its sensor must be, in kelvin, to raise it on a sound machine; without a sensor,
    any that the code suspects. Else it follows from where the limit lies beyond `meets_c`."""
    words: Text
    """The rule in a sentence."""


class Suspect(Block):
    """A thing that may be at fault."""

    sensor: SensorId | None = None
    """A sensor."""
    part: PartId | None = None
    """Or a part."""
    what: Text | None = None
    """Neither sensor nor part: wiring, charge, blocked filter… in words."""
    share: Number = Field(gt=0)
    """Weight of this suspect; weights need not sum to one."""
    minutes: Number = Field(gt=0)
    """Minutes to check it."""
    method: MethodId | None = None
    """How to check it."""
    look_for: Text | None = None
    """What to look for, in a sentence."""
    live: YesNo = False
    """Whether the check has to be made live; the page then says so in the line."""
    practice: Annotated[
        Literal["wet plug", "unplugged", "exchanged"] | None,
        OffPage("It hides a fault in a practice job; a page that showed it would give it away."),
    ] = None
    """What this wiring does to the sensors that the code suspects, so that a practice job can hide
    it: `exchanged` needs two of them. Without it a practice job never has it."""
    when_good: Text | None = None
    """Of a sensor: what follows under this code when it reads right; else the sensor's own."""
    when_bad: Text | None = None
    """What follows under this code when it is wrong; else the sensor's own."""
    when_open: Text | None = None
    """What to do under this code on an open circuit; else the sensor's own."""
    when_short: Text | None = None
    """What to do under this code on a short circuit; else the sensor's own."""

    @model_validator(mode="after")
    def _one_thing(self) -> Suspect:
        named = [n for n in ("sensor", "part", "what") if getattr(self, n) is not None]
        if len(named) != 1:
            raise Fault(
                f"a suspect is one of sensor, part, what; here {len(named)}",
                hint="write each suspect as an item of its own",
            )
        steps = ("when_good", "when_bad", "when_open", "when_short")
        if self.sensor is None:
            for step in steps:
                if getattr(self, step) is not None:
                    raise Fault(
                        f"'{step}' follows from a sensor's reading, and this suspect is none",
                        at=(step,),
                        hint="say it in 'look_for', or name the sensor",
                    )
        return self

    @property
    def key(self) -> tuple[str, str]:
        """What a case's cause is matched by."""
        if self.sensor is not None:
            return ("sensor", self.sensor)
        if self.part is not None:
            return ("part", self.part)
        return ("what", (self.what or "").casefold())


class Code(Entry):
    """One fault indication of a family and every way it is shown."""

    kind: ClassVar[str] = "codes"
    noun: ClassVar[str] = "code"
    list_title: ClassVar[str] = "Codes"
    list_lead: ClassVar[str] = "Every code of every family."
    home_place: ClassVar[int] = 2
    find_place: ClassVar[int] = 1
    when_unnamed: ClassVar[str | None] = None
    changes: ClassVar[Changes] = {
        **told_as(
            "codes",
            "shown",
            "meaning",
            "ask",
            "suspects",
            stops="what the machine does",
            trip="what raises it",
            rule_out="what to rule out first",
            clear="how to clear it",
            afterwards="what to watch afterwards",
        ),
        **told_as("words", "family"),
    }

    family: FamilyId
    """The family that shows it."""
    shown: list[Shown] = Field(min_length=1)
    """Every way it is shown; the first is what the team calls it by."""
    stops: Literal["stops", "runs on", "restarts by itself"] = "stops"
    """What the machine does."""
    meaning: Text
    """What it means on this family."""
    trip: list[Trip] = []
    """What makes the machine raise it."""
    ask: Lines = []
    """Steps that make this controller name the sensor."""
    suspects: list[Suspect] = Field(min_length=1)
    """What may be at fault."""
    rule_out: Lines = []
    """What to rule out before condemning a dear part."""
    clear: Lines = Field(min_length=1)
    """How to clear it."""
    afterwards: Lines = []
    """What to watch afterwards."""

    def find_keys(self) -> list[tuple[str, str]]:
        """Return what somebody would type to find it: every way it is shown, too."""
        return [*super().find_keys(), *(way.find_key() for way in self.shown)]

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to."""
        return (self.family,)
