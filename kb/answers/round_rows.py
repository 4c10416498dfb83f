"""One sensor of a round: its reading as typed, how it stands, and what to do with it next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.at_rest import Resting
from kb.numbers.machine_standing import Standing
from kb.numbers.ohm_digits import ohm_digits

from .reading_next import INSTRUCTIONS
from .round_places import RestingSensor, place_key
from .statement import Statement

MIDDLE_K = 0.05
"""Nearer than this a sensor is said to be in the middle of the rest: nobody reads less."""
BROKEN = ("open", "short", "off-curve")
"""Standings of a sensor that is faulty by itself."""
NAMED = ("stands-out", "suspicious")
"""Standings of a sensor that is surely not what its place is."""
NEXT = {
    "stands-out": "round.next-judge",
    "suspicious": "round.next-judge",
    "off-curve": "round.next-off-curve",
    "open": "round.next-open",
    "short": "round.next-short",
}
"""Standing → what to do next with that sensor."""
INSTRUCTED_AS = {"stands-out": "outside", "suspicious": "undecided"}
"""Standing → the verdict whose instruction holds for it."""


@dataclass(frozen=True, kw_only=True)
class RoundReading:
    """What was typed for one sensor.

    Parameters
    ----------
    sensor : str
        Its id.
    reading : str
        As typed; nothing leaves the sensor out.
    """

    sensor: str
    reading: str


@dataclass(frozen=True, kw_only=True)
class RoundRow:
    """One sensor of the round.

    Parameters
    ----------
    place : str
        The key of the place where it rests.
    shown_ohm : float or None
        As read out of its field; None where it cannot be.
    digits : int
        So many significant digits of ohms tell what a kelvin needs on its curve.
    state : str
        How it stands; "" where it is held against nobody and not faulty by itself.
    standing : Standing or None
        Its figures; of a sensor that is held against nobody, what it says by itself.
    kept_out : str
        Why it is held against nobody: "no-place", "alone", or "".
    reads_as : Statement or None
        Which temperature it reads as.
    beside : tuple of Statement
        How far it is from its place, or why it is held against nobody.
    next : Statement or None
        What to do with this very sensor.
    instruction : str
        The entry's field that says what to do, or "".
    refusal : Statement or None
        Why its reading cannot be taken.
    """

    sensor: str
    name: str
    place: str
    shown_ohm: float | None = None
    digits: int
    state: str = ""
    standing: Standing | None = None
    kept_out: str = ""
    reads_as: Statement | None = None
    beside: tuple[Statement, ...] = ()
    next: Statement | None = None
    instruction: str = ""
    refusal: Statement | None = None


@dataclass(frozen=True, kw_only=True)
class RestedReading:
    """A reading that could be read, ready to be held against others."""

    sensor: RestingSensor
    shown_ohm: float
    resting: Resting
    kept_out: str


@dataclass(frozen=True, kw_only=True)
class HeldReading:
    """How one reading stands, and what that was found with.

    Parameters
    ----------
    standing : Standing
    meter : str
        The name of the meter, "" without one.
    pairs : Statement or None
        Which plugs may be exchanged, where this sensor's is among them.
    torn : bool
        True where it is of one of two groups, and nobody can tell which is right.
    """

    standing: Standing
    meter: str
    pairs: Statement | None
    torn: bool = False


def over_range(standing: Standing) -> bool:
    """Return True for a reading over range that a good part may give."""
    return standing.state == "undecided" and standing.t_implied_c is None


def refused_row(sensor: RestingSensor, *, refusal: Statement) -> RoundRow:
    """Return the row of a reading that cannot be read."""
    return RoundRow(
        sensor=sensor.id,
        name=sensor.name,
        place=place_key(sensor),
        digits=ohm_digits(sensor.curve),
        refusal=refusal,
    )


def rested_row(read: RestedReading, *, held: HeldReading) -> RoundRow:
    """Return what is to be said of one sensor that was read."""
    sensor, standing = read.sensor, held.standing
    state = "" if read.kept_out and standing.t_implied_c is not None else standing.state
    # Exchanged plugs explain what no part has to be replaced for.
    fields = () if held.pairs else INSTRUCTIONS.get(INSTRUCTED_AS.get(state, state), ())
    return RoundRow(
        sensor=sensor.id,
        name=sensor.name,
        place=place_key(sensor),
        shown_ohm=read.shown_ohm,
        digits=ohm_digits(sensor.curve),
        state=state,
        standing=standing,
        kept_out=read.kept_out,
        reads_as=_reads_as(standing),
        beside=_beside(read, held=held),
        next=_next(sensor, state=state, held=held),
        instruction=next((name for name in fields if name in sensor.instructions), ""),
    )


def steps_of(rows: Sequence[RoundRow]) -> list[Statement]:
    """Return what to do with these sensors; what is asked for two of them is asked once."""
    steps: list[Statement] = []
    for row in rows:
        if row.next is not None and row.next not in steps:
            steps.append(row.next)
    return steps


def pairs_exchanged(
    pairs: Sequence[tuple[str, str]], *, names: Mapping[str, str]
) -> list[Statement]:
    """Return which plugs may be exchanged, pair by pair."""
    return [
        Statement(id="round.pair", figures={"first": names[first], "second": names[second]})
        for first, second in pairs
    ]


def _next(sensor: RestingSensor, *, state: str, held: HeldReading) -> Statement | None:
    if held.pairs is not None:
        return held.pairs
    if over_range(held.standing):
        return Statement(id="round.next-over-range", figures={"sensor": sensor.name})
    if state not in NEXT:
        return None
    return Statement(id=NEXT[state], figures={"sensor": sensor.name})


def _reads_as(standing: Standing) -> Statement | None:
    if standing.t_implied_c is None:
        return None
    return Statement(id="round.row-reads", figures={"t_implied_c": standing.t_implied_c})


def _beside(read: RestedReading, *, held: HeldReading) -> tuple[Statement, ...]:
    """Return how far it is from its place, or why it is held against nobody."""
    standing = held.standing
    beyond = Statement(id="round.row-over-range", figures={"instrument": held.meter})
    if read.kept_out:
        statements = [Statement(id=f"round.row-{read.kept_out}")]
        return tuple([*statements, beyond] if over_range(standing) else statements)
    if over_range(standing):
        return (beyond,)
    if standing.off_k is None:
        return ()
    if held.torn:
        return (Statement(id="round.row-torn"),)
    if abs(standing.off_k) < MIDDLE_K:
        return (Statement(id="round.row-middle"),)
    side = "colder" if standing.off_k < 0 else "hotter"
    figures = {"off_k": abs(standing.off_k), "uncertainty_k": standing.uncertainty_k}
    return (Statement(id=f"round.row-{side}", figures=figures),)
