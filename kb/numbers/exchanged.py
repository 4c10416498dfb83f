"""Two sensors on each other's plugs: what stands out twice may be one slip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
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

    def states(of: Mapping[str, Resting]) -> dict[str, str]:
        told = at_rest(of, t_c=t_c, thermometer_half_k=thermometer_half_k, short_ohm=short_ohm)
        return {name: one.state for name, one in told.standing.items()}

    before = [states(place) for place in places]
    where = {name: i for i, place in enumerate(places) for name in place}
    doubted = [
        name for i, place in enumerate(places) for name in place if before[i][name] != "agrees"
    ]
    found = []
    for one, other in combinations(doubted, 2):
        here, there = where[one], where[other]
        if not {before[here][one], before[there][other]} & WRONG:
            continue
        changed = [dict(place) for place in places]
        first, second = places[here][one], places[there][other]
        changed[here][one] = _reading_of(second, at=first)
        changed[there][other] = _reading_of(first, at=second)
        after = {i: states(changed[i]) for i in (here, there)}
        agreed = {
            name for i in (here, there) for name, state in before[i].items() if state == "agrees"
        }
        if all(after[where[name]][name] == "agrees" for name in {one, other} | agreed):
            found.append((one, other))
    return found


def _reading_of(other: Resting, *, at: Resting) -> Resting:
    return replace(
        at,
        r_ohm=other.r_ohm,
        meter_half_ohm=other.meter_half_ohm,
        meter_span_ohm=other.meter_span_ohm,
    )
