"""A round of readings of a machine at rest: who agrees, who stands out, what follows?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.at_rest import SPREAD_HALF_K, Resting
from kb.numbers.exchanged import RestingPlace, exchanged
from kb.numbers.measured import taken

from .instruments import Tools
from .round_doubt import PlaceRest, place_rest
from .round_outcome import PlaceAnswer, PlaceRound, answer_place
from .round_places import (
    OWN_PLACE,
    PlaceReference,
    PlaceTemperature,
    RestingSensor,
    company,
    place_key,
    place_reference,
    spread_half_k,
    why_kept_out,
)
from .round_rows import (
    HeldReading,
    RestedReading,
    RoundReading,
    RoundRow,
    pairs_exchanged,
    refused_row,
    rested_row,
)
from .statement import Refusal, Statement
from .typed import typed_reading_ohm

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
    temperatures : sequence of PlaceTemperature
        What a thermometer showed, each place once at most; the readings of a place are held
        against its own and no other.
    unit : str
        What a bare temperature is in: "C" or "F".
    short_ohm : float or None
        Below this the team calls a reading a short.
    """

    sensors: Sequence[RestingSensor]
    readings: Sequence[RoundReading]
    tools: Tools
    temperatures: Sequence[PlaceTemperature] = ()
    unit: str = "C"
    short_ohm: float | None = None


@dataclass(frozen=True, kw_only=True)
class RoundAnswer:
    """How the sensors of a machine at rest stand, each among those of its own place.

    Parameters
    ----------
    unit : str
        "C" or "F": the unit to answer in, that of the first temperature.
    temperatures : tuple of PlaceReference
        Each place's as read out of its fields, or why it cannot be used.
    rows : tuple of RoundRow
        In the order of the readings.
    places : tuple of PlaceAnswer
        Each place where something was read: by name, those of one sensor alone last.
    exchanged : tuple of (str, str)
        Ids of sensors that would both agree if each had the other's reading.
    exchange : Statement or None
        The same, to be said.
    against : tuple of Statement
        What they were held against, and what that leaves open.
    """

    unit: str
    temperatures: tuple[PlaceReference, ...]
    rows: tuple[RoundRow, ...]
    places: tuple[PlaceAnswer, ...]
    exchanged: tuple[tuple[str, str], ...]
    exchange: Statement | None
    against: tuple[Statement, ...]
    cautions: tuple[str, ...] = CAUTIONS


def answer_round(question: RoundQuestion) -> RoundAnswer:
    """Return how the sensors read stand.

    What cannot be read is refused in its own row, a temperature in its own place: the place's
    sensors are then held against each other, as without one.
    """
    references = [
        place_reference(typed, tools=question.tools, unit=question.unit)
        for typed in question.temperatures
        if typed.at.strip()
    ]
    measured = {found.place: found for found in references if found.t_c is not None}
    refused, read = _read(question, measured=measured)
    rests = _rests(read, measured=measured, short_ohm=question.short_ohm)
    pairs = _exchanged(read, measured=measured, short_ohm=question.short_ohm)
    rows = {row.sensor: row for row in refused}
    rows |= _rows(question, read=read, rests=rests, pairs=pairs)
    return RoundAnswer(
        unit=references[0].unit if references else question.unit,
        temperatures=tuple(references),
        rows=tuple(rows[reading.sensor] for reading in question.readings if reading.sensor in rows),
        places=tuple(
            _place(question, place=place, rows=rows, held=held) for place, held in rests.items()
        ),
        exchanged=tuple(pairs),
        exchange=_pairs_said("round.exchanged", pairs=pairs, sensors=question.sensors),
        against=_against(question, rests=rests),
    )


def _read(
    question: RoundQuestion, *, measured: Mapping[str, PlaceReference]
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
            refused.append(refused_row(sensor, refusal=refusal.statement))
            continue
        read.append(
            RestedReading(
                sensor=sensor,
                shown_ohm=shown_ohm,
                resting=_resting(sensor, shown_ohm, tools=question.tools),
                kept_out=why_kept_out(
                    sensor, sensors=question.sensors, measured=place_key(sensor) in measured
                ),
            )
        )
    return refused, read


def _resting(sensor: RestingSensor, shown_ohm: float, *, tools: Tools) -> Resting:
    # Only the meter's part counts here: the spots of a place have their own.
    meter = tools.meter.meter if tools.meter else None
    measured = taken(shown_ohm, t_c=sensor.curve.low_c, meter=meter)
    return Resting(
        curve=sensor.curve,
        r_ohm=measured.r_ohm,
        meter_half_ohm=measured.meter_half_ohm,
        meter_span_ohm=measured.meter_span_ohm,
        allow_k=sensor.allow_k,
    )


def _by_place(read: Sequence[RestedReading]) -> dict[str, dict[str, Resting]]:
    """Return place → its readings: by name, those of one sensor alone last."""
    places: dict[str, dict[str, Resting]] = {}
    for reading in read:
        places.setdefault(place_key(reading.sensor), {})[reading.sensor.id] = reading.resting
    return dict(sorted(places.items(), key=lambda item: (item[0].startswith(OWN_PLACE), item[0])))


def _rests(
    read: Sequence[RestedReading],
    *,
    measured: Mapping[str, PlaceReference],
    short_ohm: float | None,
) -> dict[str, PlaceRest]:
    return {
        place: place_rest(
            place, readings=readings, reference=measured.get(place), short_ohm=short_ohm
        )
        for place, readings in _by_place(read).items()
    }


def _exchanged(
    read: Sequence[RestedReading],
    *,
    measured: Mapping[str, PlaceReference],
    short_ohm: float | None,
) -> list[tuple[str, str]]:
    """Return which plugs may be exchanged, among those that are held against anything."""
    places = _by_place([reading for reading in read if not reading.kept_out])
    nothing = PlaceReference(place="", unit="C")
    return exchanged(
        [
            RestingPlace(
                readings=readings,
                t_c=measured.get(place, nothing).t_c,
                thermometer_half_k=measured.get(place, nothing).half_k,
                spread_half_k=spread_half_k(place),
            )
            for place, readings in places.items()
        ],
        short_ohm=short_ohm,
    )


def _rows(
    question: RoundQuestion,
    *,
    read: Sequence[RestedReading],
    rests: Mapping[str, PlaceRest],
    pairs: Sequence[tuple[str, str]],
) -> dict[str, RoundRow]:
    in_pairs = {sensor for pair in pairs for sensor in pair}
    step = _pairs_said("round.next-exchanged", pairs=pairs, sensors=question.sensors)
    rows = {}
    for reading in read:
        sensor = reading.sensor.id
        held = rests[place_key(reading.sensor)]
        rows[sensor] = rested_row(
            reading,
            held=HeldReading(
                standing=held.standing[sensor],
                by_thermometer=held.rest.by_thermometer,
                meter=_meter(question),
                pairs=step if sensor in in_pairs else None,
            ),
        )
    return rows


def _place(
    question: RoundQuestion, *, place: str, rows: Mapping[str, RoundRow], held: PlaceRest
) -> PlaceAnswer:
    return answer_place(
        PlaceRound(
            place=place,
            rows=[rows[sensor] for sensor in held.standing],
            held=held,
            company=company(place, sensors=question.sensors),
            meter=_meter(question),
        )
    )


def _meter(question: RoundQuestion) -> str:
    return question.tools.meter.name if question.tools.meter else ""


def _pairs_said(
    statement_id: str, *, pairs: Sequence[tuple[str, str]], sensors: Sequence[RestingSensor]
) -> Statement | None:
    if not pairs:
        return None
    names = {sensor.id: sensor.name for sensor in sensors}
    return Statement(id=statement_id, figures={"names": pairs_exchanged(pairs, names=names)})


def _against(question: RoundQuestion, *, rests: Mapping[str, PlaceRest]) -> tuple[Statement, ...]:
    """Return what the places were held against; a sensor that is held against nobody says so."""
    held = {
        place: rest.rest
        for place, rest in rests.items()
        if rest.rest.by_thermometer or company(place, sensors=question.sensors) > 1
    }
    statements = []
    if any(rest.by_thermometer for rest in held.values()):
        probe = question.tools.thermometer
        figures = {"instrument": probe.name if probe else ""}
        statements.append(Statement(id="round.against-thermometer", figures=figures))
    if any(not rest.by_thermometer for rest in held.values()):
        statements.append(Statement(id="round.against-middle"))
    if any(spread_half_k(place) for place in held):
        statements.append(Statement(id="round.spread", figures={"spread_k": SPREAD_HALF_K}))
    return tuple(statements)
