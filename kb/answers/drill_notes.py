"""What drills are made from: as much of the notes as question, choices and answer need."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar

from .instruments import NamedMeter, NamedThermometer
from .sensor_facts import Curve

V = TypeVar("V")


@dataclass(frozen=True, kw_only=True)
class DrillFamily:
    """A family: how it is made safe.

    Parameters
    ----------
    no_charge : str
        Why nothing is stored in it; "" where something is.
    """

    id: str
    name: str
    isolate_at: str
    drain_min: float
    drained_below_v: float
    drain_at: str
    no_charge: str = ""


@dataclass(frozen=True, kw_only=True)
class DrillSensor:
    """A sensor: what it should read, where it sits, where it is plugged in.

    Parameters
    ----------
    curve_id : str
        "" where no meter judges it by a curve.
    drawing, pin : str
        Where it is pinned; "" where it is not.
    plug, plug_drawing : str
        The mark of its socket, and the drawing that has a pin of that name; "" for none.
    """

    id: str
    family: str
    name: str
    label: str
    curve_id: str = ""
    meets_c: tuple[float, float] | None = None
    allow_k: float = 0.0
    drawing: str = ""
    pin: str = ""
    plug: str = ""
    plug_drawing: str = ""


@dataclass(frozen=True, kw_only=True)
class Lamp:
    """A pattern of a lamp, and how long it is lit and dark for it, in seconds."""

    lamp: str
    long: int
    short: int
    bars: tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True)
class DrillSuspect:
    """A suspect of a code: its share of one, and the minutes of its check."""

    name: str
    share: float
    minutes: float


@dataclass(frozen=True, kw_only=True)
class DrillCode:
    """A code: its name without blinks, its patterns, its suspects in the notes' order."""

    id: str
    family: str
    name: str
    lamps: tuple[Lamp, ...] = ()
    suspects: tuple[DrillSuspect, ...] = ()


@dataclass(frozen=True, kw_only=True)
class DrillPart:
    """A part: what would kill a new one, and what is only looked at afterwards."""

    id: str
    families: tuple[str, ...]
    name: str
    kills: tuple[str, ...]
    afterwards: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class DrillNotes:
    """All of it; every list in an order that does not change while the notes do not.

    Parameters
    ----------
    pins : mapping of drawing → pin → where that is
    over_shows : mapping of meter → what it shows over range
    short_ohm : float or None
        Below this the team calls a reading a short.
    """

    families: tuple[DrillFamily, ...]
    sensors: tuple[DrillSensor, ...]
    codes: tuple[DrillCode, ...]
    parts: tuple[DrillPart, ...]
    meters: tuple[NamedMeter, ...]
    thermometers: tuple[NamedThermometer, ...]
    curves: Mapping[str, Curve]
    pins: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    over_shows: Mapping[str, str] = field(default_factory=dict)
    short_ohm: float | None = None

    # Each entry asks for those beside it: a look through all of them every time takes their square.

    def codes_of(self, family: str) -> Sequence[DrillCode]:
        """Return a family's codes."""
        return self._codes_of.get(family, ())

    def sensors_of(self, family: str) -> Sequence[DrillSensor]:
        """Return a family's sensors."""
        return self._sensors_of.get(family, ())

    def parts_of(self, families: Iterable[str]) -> list[DrillPart]:
        """Return the parts of some families, each once."""
        places = {place for family in families for place in self._part_places.get(family, ())}
        return [self.parts[place] for place in sorted(places)]

    @cached_property
    def _codes_of(self) -> Mapping[str, list[DrillCode]]:
        return _grouped((code.family, code) for code in self.codes)

    @cached_property
    def _sensors_of(self) -> Mapping[str, list[DrillSensor]]:
        return _grouped((sensor.family, sensor) for sensor in self.sensors)

    @cached_property
    def _part_places(self) -> Mapping[str, list[int]]:
        return _grouped(
            (family, place) for place, part in enumerate(self.parts) for family in part.families
        )


def _grouped(rows: Iterable[tuple[str, V]]) -> dict[str, list[V]]:
    """Return what stands beside each family."""
    found: dict[str, list[V]] = {}
    for family, row in rows:
        found.setdefault(family, []).append(row)
    return found
