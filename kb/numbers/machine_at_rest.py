"""A whole machine at rest: which sensors have drifted, and which plugs are exchanged?"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from .at_rest import Resting, RestingPlace, Shown, broken_state, shown
from .place_at_rest import (
    DRIFTED_SHARE,
    MISTAKEN_SHARE,
    PER_K,
    Explanation,
    Witness,
    explanations,
    log_sum,
)

EXCHANGED_SHARE = 0.03
"""So many machines have two plugs exchanged, any two alike. Common practice, no source."""
FAR_SHARE = 0.03
"""How much rarer a reading is that is off its curve, or shows what no machine at rest is at. Common
practice, no source."""
COLDEST_C, HOTTEST_C = -30.0, 60.0
"""Between these a machine at rest is. Common practice, no source."""
DOUBTED = 0.01
"""Who is out by less than that has no exchanged plug either: then nothing is to be explained."""
LEAST_U_K = 0.05
"""No sensor is taken to tell its place closer than that: nobody reads less."""

BROKEN = ("open", "short", "undecided")
"""States of a reading that shows no temperature on any curve."""


@dataclass(frozen=True, kw_only=True)
class Weighed:
    """One explanation of one place, with all that explains the other places.

    Parameters
    ----------
    out : tuple of str
        Which sensors of the place do not show it; "" for its thermometer.
    pair : tuple of (str, str) or ()
        Which plugs are exchanged, in this place or another.
    weight : float
        How likely it is: those of one place make 1.
    centre_c, u_k
        As for `Explanation`.
    """

    out: tuple[str, ...]
    pair: tuple[str, ...]
    weight: float
    centre_c: float | None
    u_k: float


@dataclass(frozen=True, kw_only=True)
class Weighing:
    """All explanations of a machine at rest.

    Parameters
    ----------
    places : tuple of tuple of Weighed
        Those of each place.
    pairs : dict of (str, str) to float
        How likely each pair of plugs is exchanged.
    """

    places: tuple[tuple[Weighed, ...], ...]
    pairs: dict[tuple[str, str], float]


def weigh(places: Sequence[RestingPlace], *, short_ohm: float | None = None) -> Weighing:
    """Return how likely each explanation of the readings of a machine is.

    Notes
    -----
    Each place has a temperature of its own, each sensor is sound or out by itself, and two plugs of
    the whole machine at most are exchanged: places are weighed apart, and one exchange changes two
    of them at most. A reading that is over range or a short says nothing of any temperature,
    whoever's it is; one that is off a curve is out there.
    """
    machine = _Machine(places=places, short_ohm=short_ohm)
    as_labelled = _Scenario(
        pair=(), places={at: machine.place(at, pair=()) for at in range(len(places))}
    )
    scenarios = [as_labelled, *_exchanges(machine, as_labelled=as_labelled)]
    logs = [scenario.log_weight(as_labelled, pairs=machine.pairs_count) for scenario in scenarios]
    every = log_sum(logs)
    weights = [math.exp(log - every) for log in logs]
    return Weighing(
        places=tuple(
            tuple(
                found
                for scenario, weight in zip(scenarios, weights, strict=True)
                for found in (scenario.places.get(at) or as_labelled.places[at]).weighed(
                    pair=scenario.pair, weight=weight
                )
            )
            for at in range(len(places))
        ),
        pairs={
            (scenario.pair[0], scenario.pair[1]): weight
            for scenario, weight in zip(scenarios, weights, strict=True)
            if scenario.pair
        },
    )


@dataclass(frozen=True, kw_only=True)
class _PlaceFound:
    """A place under one exchange or none: its witnesses by name, and what explains them.

    `log_off` is ln of how likely the readings are that are no witnesses.
    """

    names: tuple[str, ...]
    found: Sequence[Explanation]
    log_off: float

    @cached_property
    def log_evidence(self) -> float:
        return self.log_off + log_sum([explanation.log_weight for explanation in self.found])

    def weighed(self, *, pair: tuple[str, ...], weight: float) -> list[Weighed]:
        return [
            Weighed(
                out=tuple(self.names[i] for i in explanation.out),
                pair=pair,
                weight=weight * math.exp(self.log_off + explanation.log_weight - self.log_evidence),
                centre_c=explanation.centre_c,
                u_k=explanation.u_k,
            )
            for explanation in self.found
        ]

    def out_weight(self, name: str) -> float:
        """Return how likely a sensor of the place is out."""
        return sum(found.weight for found in self.weighed(pair=(), weight=1) if name in found.out)


@dataclass(frozen=True, kw_only=True)
class _Scenario:
    """Which plugs are exchanged, and the places that this changes."""

    pair: tuple[str, ...]
    places: Mapping[int, _PlaceFound]

    def log_weight(self, as_labelled: _Scenario, *, pairs: int) -> float:
        gain = sum(
            place.log_evidence - as_labelled.places[at].log_evidence
            for at, place in self.places.items()
        )
        share = EXCHANGED_SHARE / pairs if self.pair else 1 - EXCHANGED_SHARE
        return gain + math.log(share)


class _Machine:
    """The readings of all places, and what each would show on each sensor's curve."""

    def __init__(self, *, places: Sequence[RestingPlace], short_ohm: float | None) -> None:
        self.places = places
        self.short_ohm = short_ohm
        self.at = {name: at for at, place in enumerate(places) for name in place.readings}
        self.readings = {
            name: reading for place in places for name, reading in place.readings.items()
        }
        self.states = {
            name: broken_state(reading, short_ohm=short_ohm)
            for name, reading in self.readings.items()
        }
        self.known: dict[tuple[str, str], Shown | None] = {}
        self.pairs_count = max(len(self.readings) * (len(self.readings) - 1) // 2, 1)

    def place(self, at: int, *, pair: tuple[str, ...]) -> _PlaceFound:
        """Return one place, had these two each other's plug."""
        place = self.places[at]
        names, witnesses, log_off = [], [], 0.0
        for name in place.readings:
            whose = pair[1 - pair.index(name)] if name in pair else name
            if self.states[whose] in BROKEN:
                continue
            shows = self._shown(name, whose=whose, spread_half_k=place.spread_half_k)
            if shows is None or not COLDEST_C <= shows.t_implied_c <= HOTTEST_C:
                log_off += math.log(FAR_SHARE)
            if shows is None or not shows.limit_known:
                log_off += math.log(PER_K * (DRIFTED_SHARE if shows is None else 1))
                continue
            names.append(name)
            witnesses.append(Witness(t_c=shows.t_implied_c, u_k=max(shows.sound_u_k, LEAST_U_K)))
        if place.t_c is not None:
            u_k = max(place.thermometer_half_k / math.sqrt(3), LEAST_U_K)
            names.append("")
            witnesses.append(Witness(t_c=place.t_c, u_k=u_k, out_share=MISTAKEN_SHARE))
        return _PlaceFound(names=tuple(names), found=explanations(witnesses), log_off=log_off)

    def _shown(self, name: str, *, whose: str, spread_half_k: float) -> Shown | None:
        """Return what a reading shows on a sensor's curve; None where it is off it."""
        if (name, whose) not in self.known:
            reading: Resting = self.readings[name]
            if name != whose:
                reading = reading.with_reading_of(self.readings[whose])
            broken = broken_state(reading, short_ohm=self.short_ohm)
            self.known[name, whose] = (
                None if broken else shown(reading, spread_half_k=spread_half_k)
            )
        return self.known[name, whose]


def _exchanges(machine: _Machine, *, as_labelled: _Scenario) -> list[_Scenario]:
    """Return every exchange of two plugs of which one at least is not as it should be."""
    doubted = {
        name
        for name, at in machine.at.items()
        if machine.states[name] or as_labelled.places[at].out_weight(name) > DOUBTED
    }
    return [
        _Scenario(
            pair=pair,
            places={
                at: machine.place(at, pair=pair)
                for at in sorted({machine.at[name] for name in pair})
            },
        )
        for pair in combinations(machine.readings, 2)
        if not doubted.isdisjoint(pair) and not all(machine.states[name] in BROKEN for name in pair)
    ]
