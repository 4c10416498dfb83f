"""Two sensors on each other's plugs: what stands out twice may be one slip."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from .at_rest import Resting, at_rest

WRONG = {"stands-out", "off-curve", "open", "short"}


def exchanged(
    places: Sequence[Mapping[str, Resting]],
    *,
    t_c: float | None = None,
    thermometer_half_k: float = 0.0,
    short_ohm: float | None = None,
) -> list[tuple[str, str]]:
    """Return the pairs of sensors that would both agree if each had the other's reading.

    Parameters
    ----------
    places : sequence of mappings of sensor to Resting
        One mapping for each place whose sensors should agree with each other.
    t_c, thermometer_half_k, short_ohm
        As for `at_rest`, for every place.

    Notes
    -----
    Neither of a pair agrees as it is and at least one is wrong for certain; nobody who agreed may
    lose that by the exchange. In one place two sensors on one curve cannot be told apart, in two
    places they can.
    """

    def states(place: Mapping[str, Resting]) -> dict[str, str]:
        rest = at_rest(place, t_c=t_c, thermometer_half_k=thermometer_half_k, short_ohm=short_ohm)
        return {name: standing.state for name, standing in rest.standing.items()}

    before = [states(place) for place in places]
    doubted = [
        _Plug(place=i, name=name)
        for i, place in enumerate(places)
        for name in place
        if before[i][name] != "agrees"
    ]
    return [
        (first.name, second.name)
        for first, second in combinations(doubted, 2)
        if {before[plug.place][plug.name] for plug in (first, second)} & WRONG
        and _agree(first, second=second, places=places, before=before, states=states)
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
    places: Sequence[Mapping[str, Resting]],
    before: Sequence[Mapping[str, str]],
    states: Callable[[Mapping[str, Resting]], dict[str, str]],
) -> bool:
    """Return whether both agree once exchanged, and all that agreed before still do."""
    exchanged_places = [dict(place) for place in places]
    for plug, from_plug in ((first, second), (second, first)):
        exchanged_places[plug.place][plug.name] = _with_reading_of(
            places[from_plug.place][from_plug.name], at=places[plug.place][plug.name]
        )
    for i in {first.place, second.place}:
        after = states(exchanged_places[i])
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
