"""One sensor of a round: its reading as typed, how it stands, and what to do with it next."""

from __future__ import annotations

from dataclasses import dataclass, replace

from kb.numbers.at_rest import Resting, Standing

from .instruments import Tools
from .reading import ReadingAnswer, ReadingQuestion, answer_reading
from .reading_next import INSTRUCTIONS
from .round_places import RestingSensor, over_range
from .sensor_facts import SensorFacts
from .statement import Refusal, Statement

MIDDLE_K = 0.05
"""Nearer than this a sensor is said to be in the middle of the rest: nobody reads less."""
NEXT = {
    "stands-out": "round.next-judge",
    "off-curve": "round.next-judge",
    "open": "round.next-plug",
    "short": "round.next-plug",
}
"""Standing → what to do next with that sensor."""
INSTRUCTED_AS = {"stands-out": "outside"}
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
    at, placement : str
        The temperature taken with this very reading, and how; "" without one.
    elsewhere : bool
        True where it was typed on the sensor's own page, not in this round.
    """

    sensor: str
    reading: str
    at: str = ""
    placement: str = ""
    elsewhere: bool = False


@dataclass(frozen=True, kw_only=True)
class RoundRow:
    """One sensor of the round.

    Parameters
    ----------
    shown_ohm, t_c : float or None
        As read out of its fields; None where it cannot be, or no temperature was taken with it.
    state : str
        A verdict where a temperature was taken with it, else how it stands among the others; ""
        where neither can be said.
    standing : Standing or None
        How it stands among the others; of a sensor kept out, what it says by itself.
    kept_out : str
        Why it is held against nobody: "ice-water", "no-place", "alone", or "".
    reads_as : Statement or None
        Which temperature it reads as.
    beside : tuple of Statement
        How far it is from the rest, or why it is held against nobody.
    instruction : str
        The entry's field that says what to do, or "".
    refusal : Statement or None
        Why its reading, or the temperature with it, cannot be taken.
    """

    sensor: str
    name: str
    place: str
    shown_ohm: float | None = None
    t_c: float | None = None
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
    typed: RoundReading
    shown_ohm: float
    resting: Resting
    kept_out: str


@dataclass(frozen=True, kw_only=True)
class RoundManner:
    """How all of a round was taken.

    Parameters
    ----------
    unit : str
        What a bare temperature is in: "C" or "F".
    short_ohm : float or None
        Below this the team calls a reading a short.
    by_thermometer : bool
        True where all are held against a thermometer.
    """

    tools: Tools
    unit: str
    short_ohm: float | None
    by_thermometer: bool


def rested_row(read: RestedReading, *, standing: Standing, how: RoundManner) -> RoundRow:
    """Return what is to be said of one sensor that was read."""
    sensor, answer, refusal = read.sensor, None, None
    if read.typed.at.strip():
        try:
            answer = _judge(read, how)
        except Refusal as refused:
            refusal = refused.statement
    own = standing.state if not read.kept_out or standing.t_implied_c is None else ""
    state = answer.state if answer else own
    next_id = NEXT.get(own)
    fields = INSTRUCTIONS.get(INSTRUCTED_AS.get(own, own), ())
    return RoundRow(
        sensor=sensor.id,
        name=sensor.name,
        place=sensor.place,
        shown_ohm=read.shown_ohm,
        t_c=answer.t_c if answer else None,
        state=state,
        standing=standing,
        kept_out=read.kept_out,
        reads_as=_reads_as(read, answer=answer, standing=standing),
        beside=_beside(read, standing, state=state, how=how),
        next=Statement(id=next_id) if next_id else None,
        instruction=next((name for name in fields if name in sensor.instructions), ""),
        refusal=refusal,
    )


def _judge(read: RestedReading, how: RoundManner) -> ReadingAnswer:
    """Return the verdict on a reading with a temperature of its own."""
    sensor = read.sensor
    return answer_reading(
        ReadingQuestion(
            sensor=SensorFacts(
                curve=sensor.curve, curve_id=sensor.curve_id, allow_k=sensor.allow_k
            ),
            reading=read.typed.reading,
            at=read.typed.at,
            unit=how.unit,
            tools=replace(how.tools, placement=read.typed.placement),
            short_ohm=how.short_ohm,
        )
    )


def _reads_as(
    read: RestedReading, *, answer: ReadingAnswer | None, standing: Standing
) -> Statement | None:
    if answer is None:
        if standing.t_implied_c is None:
            return None
        return Statement(id="round.row-reads", figures={"t_implied_c": standing.t_implied_c})
    if answer.verdict.t_implied_c is None:
        return None
    where = "row-at-elsewhere" if read.typed.elsewhere else "row-at"
    figures = {"t_c": answer.t_c, "t_implied_c": answer.verdict.t_implied_c}
    return Statement(id=f"round.{where}", figures=figures)


def _beside(
    read: RestedReading, standing: Standing, *, state: str, how: RoundManner
) -> tuple[Statement, ...]:
    """Return how far it is from the rest, or why it is held against nobody."""
    if read.kept_out:
        statements = [Statement(id=f"round.row-{read.kept_out}")]
        if over_range(standing):
            meter = how.tools.meter.name if how.tools.meter else ""
            statements.append(Statement(id="round.row-over-range", figures={"instrument": meter}))
        return tuple(statements)
    if standing.off_k is None:
        return ()
    whom = "-thermometer" if how.by_thermometer else ""
    if abs(standing.off_k) < MIDDLE_K:
        return (Statement(id=f"round.row-middle{whom}"),)
    side = "colder" if standing.off_k < 0 else "hotter"
    # Its verdict may be good at the temperature taken with it, and the rest still contradict it.
    what = "stands-out-" if standing.state == "stands-out" != state else ""
    figures = {"off_k": abs(standing.off_k)}
    return (Statement(id=f"round.row-{what}{side}{whom}", figures=figures),)
