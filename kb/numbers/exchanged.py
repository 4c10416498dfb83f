"""Two sensors on each other's plugs: what stands out twice may be one slip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from .at_rest import SPREAD_HALF_K, Resting, at_rest

WRONG = {"stands-out", "off-curve", "open", "short"}


@dataclass(frozen=True, kw_only=True)
class RestingPlace:
    """The sensors of one place, that should agree with each other.

    Parameters
    ----------
    readings : mapping of sensor to Resting
    t_c, thermometer_half_k, spread_half_k
        As for `at_rest`.
    """

    readings: Mapping[str, Resting]
    t_c: float | None = None
    thermometer_half_k: float = 0.0
    spread_half_k: float = SPREAD_HALF_K

    def states(self, *, short_ohm: float | None) -> dict[str, str]:
        """Return sensor → how it stands."""
        rest = at_rest(
            self.readings,
            t_c=self.t_c,
            thermometer_half_k=self.thermometer_half_k,
            spread_half_k=self.spread_half_k,
            short_ohm=short_ohm,
        )
        return {name: standing.state for name, standing in rest.standing.items()}


def exchanged(
    places: Sequence[RestingPlace], *, short_ohm: float | None = None
) -> list[tuple[str, str]]:
    """Return the pairs of sensors that would both agree if each had the other's reading.

    Parameters
    ----------
    places : sequence of RestingPlace
    short_ohm : float, optional
        As for `at_rest`.

    Notes
    -----
    Neither of a pair agrees as it is and at least one is wrong for certain; nobody who agreed may
    lose that by the exchange. In one place two sensors on one curve cannot be told apart, in two
    places they can.
    """
    before = [place.states(short_ohm=short_ohm) for place in places]
    doubted = [
        _Plug(place=i, name=name)
        for i, place in enumerate(places)
        for name in place.readings
        if before[i][name] != "agrees"
    ]
    return [
        (first.name, second.name)
        for first, second in combinations(doubted, 2)
        if {before[plug.place][plug.name] for plug in (first, second)} & WRONG
        and _agree(first, second=second, places=places, before=before, short_ohm=short_ohm)
    ]


@dataclass(frozen=True, kw_only=True)
class _Plug:
    """Where a reading was taken: which place, and whose plug."""

    place: int
    name: str


def _agree(
    first: _Plug,
    *,
    second: _Plug,
    places: Sequence[RestingPlace],
    before: Sequence[Mapping[str, str]],
    short_ohm: float | None,
) -> bool:
    """Return whether both agree once exchanged, and all that agreed before still do."""
    readings = [dict(place.readings) for place in places]
    for plug, from_plug in ((first, second), (second, first)):
        readings[plug.place][plug.name] = _with_reading_of(
            places[from_plug.place].readings[from_plug.name],
            at=places[plug.place].readings[plug.name],
        )
    for i in {first.place, second.place}:
        after = replace(places[i], readings=readings[i]).states(short_ohm=short_ohm)
        agreed = {name for name, state in before[i].items() if state == "agrees"}
        agreed |= {plug.name for plug in (first, second) if plug.place == i}
        if any(after[name] != "agrees" for name in agreed):
            return False
    return True


def _with_reading_of(other: Resting, *, at: Resting) -> Resting:
    return replace(
        at,
        r_ohm=other.r_ohm,
        meter_half_ohm=other.meter_half_ohm,
        meter_span_ohm=other.meter_span_ohm,
    )
