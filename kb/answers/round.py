"""A round of readings of a machine at rest: who agrees, who stands out, what follows?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.at_rest import SPREAD_HALF_K, AtRest, Resting, Standing, at_rest
from kb.numbers.exchanged import exchanged
from kb.numbers.measured import taken

from .instruments import Tools
from .round_places import PlaceAnswer, RestingSensor, answer_place, faulty, why_kept_out
from .round_rows import RestedReading, RoundManner, RoundReading, RoundRow, rested_row
from .statement import Refusal, Statement
from .typed import typed_reading_ohm, typed_temperature

CAUTIONS = ("sensor-unplugged", "maker-first")
"""What stands under every round, by id."""


@dataclass(frozen=True, kw_only=True)
class RoundQuestion:
    """The sensors of one machine, and what was typed for them.

    Parameters
    ----------
    sensors : sequence of RestingSensor
        All of the family that can take part, read or not.
    readings : sequence of RoundReading
        Each sensor once at most.
    at : str
        What a thermometer shows where the machine rests; with it they are held against that.
    unit : str
        What a bare temperature is in: "C" or "F".
    short_ohm : float or None
        Below this the team calls a reading a short.
    """

    sensors: Sequence[RestingSensor]
    readings: Sequence[RoundReading]
    tools: Tools
    at: str = ""
    unit: str = "C"
    short_ohm: float | None = None


@dataclass(frozen=True, kw_only=True)
class RoundAnswer:
    """How the sensors of a machine at rest stand to each other, or to a thermometer.

    Parameters
    ----------
    unit : str
        "C" or "F": the unit to answer in.
    at_c : float or None
        What a thermometer showed, where they are held against one.
    places : tuple of PlaceAnswer
        Place by place, by name.
    faulty : tuple of Statement
        Who is faulty by itself though held against nobody.
    exchanged : tuple of (str, str)
        Ids of sensors that would both agree if each had the other's reading.
    exchange : Statement or None
        The same, to be said.
    against : tuple of Statement
        What they were held against, and what that leaves open.
    """

    unit: str
    at_c: float | None
    rows: tuple[RoundRow, ...]
    places: tuple[PlaceAnswer, ...]
    faulty: tuple[Statement, ...]
    exchanged: tuple[tuple[str, str], ...]
    exchange: Statement | None
    against: tuple[Statement, ...]
    cautions: tuple[str, ...] = CAUTIONS


@dataclass(frozen=True, kw_only=True)
class _Reference:
    """The thermometer that all are held against, if there is one."""

    t_c: float | None
    half_k: float
    unit: str


@dataclass(frozen=True, kw_only=True)
class _Held:
    """How the readings stand: place by place, sensor by sensor, and pairs exchanged."""

    rests: Mapping[str, AtRest]
    kept_out: Mapping[str, Standing]
    standing: Mapping[str, Standing]
    exchanged: tuple[tuple[str, str], ...]


def answer_round(question: RoundQuestion) -> RoundAnswer:
    """Return how the sensors read stand; what cannot be read is refused in its own row.

    Raises
    ------
    Refusal
        If the round's own temperature cannot be read, or the thermometer does not reach it.
    """
    reference = _reference(question)
    refused, read = _read(question, by_thermometer=reference.t_c is not None)
    held = _held(read, reference, short_ohm=question.short_ohm)
    how = RoundManner(
        tools=question.tools,
        unit=question.unit,
        short_ohm=question.short_ohm,
        by_thermometer=reference.t_c is not None,
    )
    rested = (
        rested_row(reading, standing=held.standing[reading.sensor.id], how=how) for reading in read
    )
    rows = {row.sensor: row for row in (*refused, *rested)}
    meter = question.tools.meter.name if question.tools.meter else ""
    names = {sensor.id: sensor.name for sensor in question.sensors}
    return RoundAnswer(
        unit=reference.unit,
        at_c=reference.t_c,
        rows=tuple(rows[reading.sensor] for reading in question.readings if reading.sensor in rows),
        places=tuple(
            answer_place(place, names=names, rest=rest, meter=meter)
            for place, rest in held.rests.items()
        ),
        faulty=tuple(faulty(held.kept_out, names=names)),
        exchanged=held.exchanged,
        exchange=_exchange(held.exchanged, names=names),
        against=_against(question, reference) if held.rests else (),
    )


def _reference(question: RoundQuestion) -> _Reference:
    if not question.at.strip():
        return _Reference(t_c=None, half_k=0.0, unit=question.unit)
    at = typed_temperature(question.at, field="at", unit=question.unit)
    half_k = question.tools.take(0.0, t_c=at.t_c).thermometer_half_k
    return _Reference(t_c=at.t_c, half_k=half_k, unit=at.unit)


def _read(
    question: RoundQuestion, *, by_thermometer: bool
) -> tuple[list[RoundRow], list[RestedReading]]:
    """Return the rows that cannot be read, and the readings that can."""
    sensors = {sensor.id: sensor for sensor in question.sensors}
    refused: list[RoundRow] = []
    read: list[RestedReading] = []
    for reading in question.readings:
        if not reading.reading.strip():
            continue
        sensor = sensors[reading.sensor]
        try:
            shown_ohm = typed_reading_ohm(reading.reading, field="reading")
        except Refusal as refusal:
            row = RoundRow(
                sensor=sensor.id, name=sensor.name, place=sensor.place, refusal=refusal.statement
            )
            refused.append(row)
            continue
        in_ice = reading.elsewhere and reading.placement == "ice-water"
        read.append(
            RestedReading(
                sensor=sensor,
                typed=reading,
                shown_ohm=shown_ohm,
                resting=_resting(sensor, shown_ohm, tools=question.tools),
                kept_out="ice-water"
                if in_ice
                else why_kept_out(sensor, sensors=question.sensors, by_thermometer=by_thermometer),
            )
        )
    return refused, read


def _resting(sensor: RestingSensor, shown_ohm: float, *, tools: Tools) -> Resting:
    # Only the meter's part counts here: the places of a resting machine have their own.
    meter = tools.meter.meter if tools.meter else None
    measured = taken(shown_ohm, t_c=sensor.curve.low_c, meter=meter)
    return Resting(
        curve=sensor.curve,
        r_ohm=measured.r_ohm,
        meter_half_ohm=measured.meter_half_ohm,
        meter_span_ohm=measured.meter_span_ohm,
        allow_k=sensor.allow_k,
    )


def _held(
    read: Sequence[RestedReading], reference: _Reference, *, short_ohm: float | None
) -> _Held:
    """Hold each place's sensors against each other, and who is kept out against nobody."""
    places: dict[str, dict[str, Resting]] = {}
    kept_out: dict[str, Standing] = {}
    for reading in read:
        sensor = reading.sensor
        if reading.kept_out:
            kept_out |= at_rest({sensor.id: reading.resting}, short_ohm=short_ohm).standing
        else:
            places.setdefault(sensor.place, {})[sensor.id] = reading.resting
    in_order = dict(sorted(places.items()))
    rests = {
        place: at_rest(
            resting, t_c=reference.t_c, thermometer_half_k=reference.half_k, short_ohm=short_ohm
        )
        for place, resting in in_order.items()
    }
    pairs = exchanged(
        list(in_order.values()),
        t_c=reference.t_c,
        thermometer_half_k=reference.half_k,
        short_ohm=short_ohm,
    )
    among = {sensor: stands for rest in rests.values() for sensor, stands in rest.standing.items()}
    return _Held(rests=rests, kept_out=kept_out, standing=kept_out | among, exchanged=tuple(pairs))


def _exchange(pairs: Sequence[tuple[str, str]], *, names: Mapping[str, str]) -> Statement | None:
    if not pairs:
        return None
    figures = {
        "names": [
            Statement(id="round.pair", figures={"first": names[first], "second": names[second]})
            for first, second in pairs
        ]
    }
    return Statement(id="round.exchanged", figures=figures)


def _against(question: RoundQuestion, reference: _Reference) -> tuple[Statement, ...]:
    spread = Statement(id="round.spread", figures={"spread_k": SPREAD_HALF_K})
    if reference.t_c is None:
        return (Statement(id="round.against-middle"), spread)
    probe = question.tools.thermometer
    figures = {"instrument": probe.name if probe else "", "at_c": reference.t_c}
    return (Statement(id="round.against-thermometer", figures=figures), spread)
