"""A drawing: a sketch or photo of a family with pinned places."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field, model_validator

from .entry import Block, Entry
from .field_change import Changes, told_as
from .off_page import OffPage
from .words import FamilyId, Fault, Number, Text, YesNo


class Box(Block):
    """A rectangle; x and y are its upper left corner, all in percent of width and height."""

    x: Number = Field(ge=0, le=100)
    """Left edge, in percent of the width."""
    y: Number = Field(ge=0, le=100)
    """Upper edge, in percent of the height."""
    w: Number = Field(gt=0, le=100)
    """Width, in percent."""
    h: Number = Field(gt=0, le=100)
    """Height, in percent."""
    words: Text | None = None
    """What stands in it."""


class Circle(Block):
    """A circle; x and y are its centre, all in percent (r of the width)."""

    x: Number = Field(ge=0, le=100)
    """Centre, in percent of the width."""
    y: Number = Field(ge=0, le=100)
    """Centre, in percent of the height."""
    r: Number = Field(gt=0, le=50)
    """Radius, in percent of the width."""
    words: Text | None = None
    """What stands in it."""


class Line(Block):
    """A line through points, each `[x, y]` in percent."""

    through: list[tuple[Number, Number]] = Field(min_length=2)
    """Its points, each `[x, y]` in percent."""
    pipe: Text | None = None
    """What it carries, if it is a pipe."""


class Words(Block):
    """Words on the drawing; x and y are the middle of their foot, in percent."""

    x: Number = Field(ge=0, le=100)
    """Middle, in percent of the width."""
    y: Number = Field(ge=0, le=100)
    """Foot, in percent of the height."""
    say: Text
    """The words."""


class Shape(Block):
    """One shape: exactly one of box, circle, line, words."""

    box: Box | None = None
    """A rectangle."""
    circle: Circle | None = None
    """A circle."""
    line: Line | None = None
    """A line or a pipe."""
    words: Words | None = None
    """Words without a frame."""

    @model_validator(mode="after")
    def _one_shape(self) -> Shape:
        named = [n for n in ("box", "circle", "line", "words") if getattr(self, n) is not None]
        if len(named) != 1:
            raise Fault(
                f"a shape is one of box, circle, line, words; here {len(named)}",
                hint="write each as an item of its own",
            )
        return self


class Pin(Block):
    """A pinned place, in percent of width and height; of a photo, as it stands upright."""

    x: Number = Field(ge=0, le=100)
    """From the left, in percent of the width."""
    y: Number = Field(ge=0, le=100)
    """From the top, in percent of the height."""
    where: Text
    """The place in words, for whoever cannot see the drawing."""
    several: Annotated[YesNo, OffPage("Only `check` asks: each thing has its page.")] = False
    """Yes where more than one thing sits behind this pin; else `check` asks whether one slipped."""


class Drawing(Entry):
    """A sketch or photo of a family with pinned places."""

    kind: ClassVar[str] = "drawings"
    noun: ClassVar[str] = "drawing"
    list_title: ClassVar[str] = "Drawings"
    list_lead: ClassVar[str] = "Where things are."
    home_place: ClassVar[int] = 8
    find_place: ClassVar[int] = 9
    when_unnamed: ClassVar[str | None] = "name it in its family, or pin a sensor on it"
    changes: ClassVar[Changes] = told_as(
        "words", "family", "described", "wide", "high", "photo", "pins", shapes="drawing"
    )

    family: FamilyId
    """The family it shows."""
    described: Text
    """The whole drawing in words."""
    wide: Number = Field(default=4, gt=0)
    """Width of a sketch, in any unit; a photo has its own proportions."""
    high: Number = Field(default=3, gt=0)
    """Height of a sketch, in the same unit."""
    photo: Annotated[
        Text | None, OffPage("Its name is on no page: the photo that it names is.")
    ] = None
    """A JPEG, PNG, WebP or HEIC file beside this entry, as the camera wrote it: the site turns it
    upright, shrinks it, and leaves out where and when it was taken."""
    shapes: list[Shape] = []
    """A sketch, drawn in this order."""
    pins: dict[str, Pin] = Field(min_length=1)
    """Pin name → place."""

    @property
    def family_ids(self) -> tuple[str, ...]:
        """The families it belongs to."""
        return (self.family,)

    @model_validator(mode="after")
    def _photo_or_shapes(self) -> Drawing:
        if (self.photo is None) == (not self.shapes):
            raise Fault(
                "a drawing is a photo or shapes: one of the two",
                at=("photo",) if self.photo is not None else (),
                hint="name the photo that stands beside this file, or draw with 'shapes'",
            )
        return self
