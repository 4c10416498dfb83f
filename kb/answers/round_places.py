"""The places of a resting machine: who rests where, and what a thermometer showed there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from kb.numbers.at_rest import SPREAD_HALF_K

from .instruments import Tools
from .sensor_facts import Curve
from .statement import Refusal, Statement
from .typed import ICE, typed_temperature

OWN_PLACE = "sensor:"
"""What the key of a place begins with that belongs to one sensor alone: its id follows."""


@dataclass(frozen=True, kw_only=True)
class RestingSensor:
    """What an entry says of a sensor at rest.

    Parameters
    ----------
    id : str
    name : str
        What to call it.
    curve : Characteristic or Grid
    curve_id : str
    allow_k : float
        What the machine tolerates in K; 0 for no word on it.
    place : str
        Where it rests, as the entry says; "" where nobody noted it.
    instructions : tuple of str
        Which of when_good, when_bad, when_open, when_short the entry has.
    """

    id: str
    name: str
    curve: Curve
    curve_id: str
    allow_k: float = 0.0
    place: str = ""
    instructions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PlaceTemperature:
    """What a thermometer showed in one place, as typed.

    Parameters
    ----------
    place : str
        The key of the place, as `place_key` gives it.
    at : str
        As typed; nothing leaves the place without a temperature.
    placement : str
        How it was taken: a name of PLACEMENTS; "" where nobody said so yet.
    """

    place: str
    at: str
    placement: str = ""


@dataclass(frozen=True, kw_only=True)
class PlaceReference:
    """The temperature of one place, as read out of its fields.

    Parameters
    ----------
    place : str
    unit : str
        "C" or "F": what it was typed in.
    t_c : float or None
        In °C; None where it cannot be used.
    placement : str
        How it was taken.
    half_k : float
        Half-width in K of thermometer and placement together.
    refusal : Statement or None
        Why it cannot be used.
    field : str
        The field to look at again: "at", "placement", "thermometer" or "".
    missing : bool
        True where something is only not given yet: that is no fault.
    """

    place: str
    unit: str
    t_c: float | None = None
    placement: str = ""
    half_k: float = 0.0
    refusal: Statement | None = None
    field: str = ""
    missing: bool = False


def place_key(sensor: RestingSensor) -> str:
    """Return the place of a sensor: the words of its entry, or a place of its own."""
    return sensor.place or f"{OWN_PLACE}{sensor.id}"


def spread_half_k(place: str) -> float:
    """Return how far the spots of a place may differ, in K: not at all beside one sensor."""
    return 0.0 if place.startswith(OWN_PLACE) else SPREAD_HALF_K


def company(place: str, *, sensors: Sequence[RestingSensor]) -> int:
    """Return how many sensors of the family rest in a place, read or not."""
    return sum(place_key(sensor) == place for sensor in sensors)


def why_kept_out(sensor: RestingSensor, *, sensors: Sequence[RestingSensor], measured: bool) -> str:
    """Return why a sensor is held against nobody: "no-place", "alone", or "" where it is held.

    Parameters
    ----------
    sensors : sequence of RestingSensor
        All of the family that can take part.
    measured : bool
        True where its place has a temperature: nobody needs company then.

    Notes
    -----
    Those that rest with the same words are held against each other, and no others: a room is not
    the outdoors. A sensor that nobody noted a place of is held only against a temperature that was
    taken beside it.
    """
    if measured:
        return ""
    if not sensor.place:
        return "no-place"
    return "" if company(sensor.place, sensors=sensors) > 1 else "alone"


def place_reference(typed: PlaceTemperature, *, tools: Tools, unit: str) -> PlaceReference:
    """Return what a place is held against; what cannot be used is refused in its own place.

    Parameters
    ----------
    tools : Tools
        Whose thermometer was used.
    unit : str
        What a bare temperature is in: "C" or "F".
    """
    try:
        at = typed_temperature(typed.at, field="at", unit=unit)
        if not typed.placement:
            raise Refusal(Statement(id="round.placement-missing"), field="placement", missing=True)
        # In a cup a sensor does not rest with the machine.
        if typed.placement == ICE:
            raise Refusal(Statement(id="round.placement-ice"), field="placement")
        taken = replace(tools, placement=typed.placement).take(0.0, t_c=at.t_c)
    except Refusal as refused:
        return PlaceReference(
            place=typed.place,
            unit=unit,
            placement=typed.placement,
            refusal=refused.statement,
            field=refused.field,
            missing=refused.missing,
        )
    half_k = math.hypot(taken.thermometer_half_k, taken.placement_half_k)
    return PlaceReference(
        place=typed.place, unit=at.unit, t_c=at.t_c, placement=typed.placement, half_k=half_k
    )
