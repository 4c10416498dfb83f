"""A lesson: steps to read, to look at, to do and to practise, and questions to answer."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Literal

from pydantic import Field, model_validator

from .entry import Block, Entry
from .field_change import Changes, told_as
from .shape import Path
from .words import (
    CodeId,
    CurveId,
    DrawingId,
    FamilyId,
    Fault,
    InstrumentId,
    Lines,
    MethodId,
    Number,
    Ohm,
    PartId,
    SensorId,
    TempsC,
    Text,
)


class Read(Block):
    """A page to read."""

    entry: Text
    """`kind/id`, such as `methods/ice-water`, or a hand-written page's name."""
    why: Text
    """What to take from it."""


LOOKED_AT = ("family", "sensor", "curve", "code", "method", "instrument", "part", "drawing")
"""What can be looked at; exactly one of them."""


class Look(Block):
    """Facts of one entry, taken from it whenever the site is built: nothing is copied by hand."""

    family: FamilyId | None = None
    """How its machines are isolated, drained and proved dead."""
    sensor: SensorId | None = None
    """Where it sits and which plug it has; with `at`, what it should read; with `reading` as well,
    what the verdict is."""
    curve: CurveId | None = None
    """With `at`: those rows of its table."""
    code: CodeId | None = None
    """How it is shown, what it means, and its suspects in the order in which they are checked."""
    method: MethodId | None = None
    """Its cautions and steps."""
    instrument: InstrumentId | None = None
    """With `reading`: how far off it may be; on its own, what it may be held to."""
    part: PartId | None = None
    """What would kill a new one, and how much goes back."""
    drawing: DrawingId | None = None
    """The whole drawing."""
    at: TempsC = []
    """Of a sensor or curve: the temperatures, one or a list."""
    reading: Ohm | None = None
    """Of an instrument or sensor: what the meter shows."""
    how: Literal["ice-water", "strapped", "held-on", "air"] | None = None
    """Of a sensor's reading: how the temperature was taken."""

    @property
    def entry(self) -> tuple[str, str]:
        """Which field names what is looked at, and its id."""
        return next((name, found) for name in LOOKED_AT if (found := getattr(self, name)))

    @model_validator(mode="after")
    def _fits(self) -> Look:
        named = [name for name in LOOKED_AT if getattr(self, name) is not None]
        if len(named) != 1:
            hint = "write one of them: each step looks at one thing"
            raise Fault(f"a look is at one of {', '.join(LOOKED_AT)}; here {len(named)}", hint=hint)
        what = named[0]
        for field, of in (
            ("at", ("sensor", "curve")),
            ("reading", ("instrument", "sensor")),
            ("how", ("sensor",)),
        ):
            if getattr(self, field) not in (None, []) and what not in of:
                hint = f"take it out, or look at one of: {', '.join(of)}"
                raise Fault(f"'{field}' says nothing of a {what}", at=(field,), hint=hint, key=True)
        if what == "curve" and not self.at:
            hint = "write at: [0, 10, 20]"
            raise Fault("of a curve some rows are shown: which?", at=("curve",), hint=hint)
        if what == "sensor" and self.reading is not None and (len(self.at) != 1 or not self.how):
            hint = "write one temperature in 'at', and in 'how' ice-water, strapped, held-on or air"
            raise Fault("a verdict needs to know at what, taken how", at=("reading",), hint=hint)
        return self


class Practise(Block):
    """A drill made from the notes, and what of them it asks about."""

    drill: Literal[
        "ohm",
        "temperature",
        "verdict",
        "blinks",
        "place",
        "plug",
        "order",
        "safe",
        "meter",
        "kills",
    ]
    """Which drill."""
    family: FamilyId | None = None
    """Only about this family; about all without it."""


SORTS = ("read", "look", "do", "practise")
"""What a step can be; exactly one of them."""


class Step(Block):
    """One step: something to read, to look at, to do or to practise."""

    read: Text | None = None
    """Read a page: `kind/id`, or a hand-written page's name."""
    look: Look | None = None
    """Look at one entry: its facts stand in the lesson."""
    do: Text | None = None
    """Do it with your own hands: what, in a sentence or two."""
    practise: Practise | None = None
    """Practise it with a drill."""
    why: Text | None = None
    """What to take from it."""
    family: FamilyId | None = None
    """Of what is done: on a machine of this family, whose words on isolating stand with it."""
    method: MethodId | None = None
    """Of what is done: by this method, whose cautions and steps stand with it."""
    cautions: Lines = []
    """What can hurt here; what is done has some, a method, or a family."""

    @property
    def sort(self) -> str:
        """Which of SORTS it is."""
        return next(name for name in SORTS if getattr(self, name) is not None)

    @model_validator(mode="after")
    def _one_sort(self) -> Step:
        named = [name for name in SORTS if getattr(self, name) is not None]
        if len(named) != 1:
            hint = "split it: each sort is a step of its own"
            raise Fault(f"a step is one of {', '.join(SORTS)}; here {len(named)}", hint=hint)
        if named[0] == "do":
            if not (self.cautions or self.family or self.method):
                hint = (
                    "write 'cautions', or name the 'method' or 'family' whose words apply; where "
                    "nothing can hurt, say that"
                )
                raise Fault("hands need to know what can hurt here", at=("do",), hint=hint)
            return self
        for field in ("family", "method"):
            if getattr(self, field) is not None:
                hint = f"use it in a step that is done, or write look: {{{field}: …}}"
                raise Fault(f"'{field}' belongs to what is done", at=(field,), hint=hint, key=True)
        return self


class Drill(Block):
    """A question with its answer."""

    ask: Text
    """The question."""
    answer: Text
    """Its answer."""
    because: Text | None = None
    """Why it is so."""
    look: Look | None = None
    """Facts of an entry that stand with the answer, so that no figure is copied."""


class Lesson(Entry):
    """What to read, look at, do and practise in order, and questions to answer."""

    kind: ClassVar[str] = "lessons"
    noun: ClassVar[str] = "lesson"
    list_title: ClassVar[str] = "Learn"
    list_lead: ClassVar[str] = "For whoever starts here."
    home_place: ClassVar[int] = 11
    find_place: ClassVar[int] = 10
    when_unnamed: ClassVar[str | None] = None
    changes: ClassVar[Changes] = told_as(
        "words", "order", "minutes", "about", "read", "steps", "drills", "cautions"
    )

    order: Number = Field(gt=0)
    """Its place in Learn."""
    minutes: Number = Field(gt=0)
    """How long it takes."""
    about: Text
    """What a new starter can do afterwards."""
    read: list[Read] = []
    """Pages, in order; they stand before the steps."""
    steps: list[Step] = []
    """What to do, in order: read, look, do, practise."""
    drills: list[Drill] = []
    """Questions to answer before looking."""
    cautions: Lines = []
    """What can hurt on the way."""

    @model_validator(mode="after")
    def _leads_on(self) -> Lesson:
        if not self.read and not self.steps:
            hint = "write 'steps', each one of read, look, do, practise"
            raise Fault("this lesson has no step and no page to read", hint=hint)
        return self

    def pages(self) -> Iterator[tuple[Path, str]]:
        """Yield the way to each page that is to be read, and what it names."""
        for i, read in enumerate(self.read):
            yield ("read", i, "entry"), read.entry
        for i, step in enumerate(self.steps):
            if step.read is not None:
                yield ("steps", i, "read"), step.read

    def looks(self) -> Iterator[tuple[Path, Look]]:
        """Yield the way to each look, and what it is at."""
        for i, step in enumerate(self.steps):
            if step.look is not None:
                yield ("steps", i, "look"), step.look
        for i, drill in enumerate(self.drills):
            if drill.look is not None:
                yield ("drills", i, "look"), drill.look
