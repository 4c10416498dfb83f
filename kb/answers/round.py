"""A round of readings of a machine at rest: who agrees, who stands out, what follows?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.at_rest import SPREAD_HALF_K, Resting, RestingPlace
from kb.numbers.machine_standing import SURE, MachineStanding, PlaceStanding, machine_standing
from kb.numbers.measured import taken
from kb.numbers.place_at_rest import DRIFTED_SHARE

from .instruments import Tools
from .round_first import RoundFirst, round_first
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
    first : RoundFirst or None
        What to do first; None where nothing could be read.
    temperatures : tuple of PlaceReference
        Each place's as read out of its fields, or why it cannot be used.
    rows : tuple of RoundRow
        In the order of the readings.
    places : tuple of PlaceAnswer
        Each place where something was read: by name, those of one sensor alone last.
    exchanged : tuple of (str, str)
        Ids of sensors whose plugs are, or may be, exchanged.
    exchanged_sure : bool
        True where one such pair surely is.
    exchange : Statement or None
        The same, to be said.
    against : tuple of Statement
        What they were held against, and what that leaves open.
    """

    unit: str
    first: RoundFirst | None
    temperatures: tuple[PlaceReference, ...]
    rows: tuple[RoundRow, ...]
    places: tuple[PlaceAnswer, ...]
    exchanged: tuple[tuple[str, str], ...]
    exchanged_sure: bool
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
    machine, rests = _standing(read, measured=measured, short_ohm=question.short_ohm)
    rows = {row.sensor: row for row in refused}
    rows |= _rows(question, read=read, rests=rests, machine=machine)
    places = tuple(
        _place(question, place=place, rows=rows, held=held, measured=measured)
        for place, held in rests.items()
    )
    sure = machine.exchanged_sure
    return RoundAnswer(
        unit=references[0].unit if references else question.unit,
        first=round_first(places, exchange=_step(question, machine=machine), sure=sure),
        temperatures=tuple(references),
        rows=tuple(rows[reading.sensor] for reading in question.readings if reading.sensor in rows),
        places=places,
        exchanged=machine.exchanged,
        exchanged_sure=sure,
        exchange=_pairs_said(
            f"round.{'' if sure else 'perhaps-'}exchanged",
            pairs=machine.exchanged,
            sensors=question.sensors,
        ),
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


def _standing(
    read: Sequence[RestedReading],
    *,
    measured: Mapping[str, PlaceReference],
    short_ohm: float | None,
) -> tuple[MachineStanding, dict[str, PlaceStanding]]:
    """Return how the whole machine stands, and each of its places."""
    places = _by_place(read)
    nothing = PlaceReference(place="", unit="C")
    machine = machine_standing(
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
    return machine, dict(zip(places, machine.places, strict=True))


def _rows(
    question: RoundQuestion,
    *,
    read: Sequence[RestedReading],
    rests: Mapping[str, PlaceStanding],
    machine: MachineStanding,
) -> dict[str, RoundRow]:
    in_pairs = {sensor for pair in machine.exchanged for sensor in pair}
    step = _step(question, machine=machine)
    rows = {}
    for reading in read:
        sensor = reading.sensor.id
        rest = rests[place_key(reading.sensor)]
        stands = rest.standing[sensor]
        torn = stands.state == "undecided" and sensor in rest.torn
        # Who agrees as it is has nothing to explain, and one temperature tells of two groups.
        paired = sensor in in_pairs and stands.state != "agrees" and not torn
        rows[sensor] = rested_row(
            reading,
            held=HeldReading(
                standing=stands, meter=_meter(question), pairs=step if paired else None, torn=torn
            ),
        )
    return rows


def _place(
    question: RoundQuestion,
    *,
    place: str,
    rows: Mapping[str, RoundRow],
    held: PlaceStanding,
    measured: Mapping[str, PlaceReference],
) -> PlaceAnswer:
    return answer_place(
        PlaceRound(
            place=place,
            rows=[rows[sensor] for sensor in held.standing],
            held=held,
            at_c=measured[place].t_c if place in measured else None,
            company=company(place, sensors=question.sensors),
            meter=_meter(question),
        )
    )


def _step(question: RoundQuestion, *, machine: MachineStanding) -> Statement | None:
    """Return what to do where plugs may be exchanged."""
    pairs, sensors = machine.exchanged, question.sensors
    return _pairs_said("round.next-exchanged", pairs=pairs, sensors=sensors)


def _meter(question: RoundQuestion) -> str:
    return question.tools.meter.name if question.tools.meter else ""


def _pairs_said(
    statement_id: str, *, pairs: Sequence[tuple[str, str]], sensors: Sequence[RestingSensor]
) -> Statement | None:
    if not pairs:
        return None
    names = {sensor.id: sensor.name for sensor in sensors}
    return Statement(id=statement_id, figures={"names": pairs_exchanged(pairs, names=names)})


def _against(
    question: RoundQuestion, *, rests: Mapping[str, PlaceStanding]
) -> tuple[Statement, ...]:
    """Return what the places were held against; a sensor that is held against nobody says so."""
    held = {
        place: rest
        for place, rest in rests.items()
        if rest.by_thermometer or company(place, sensors=question.sensors) > 1
    }
    statements = []
    if any(rest.by_thermometer for rest in held.values()):
        probe = question.tools.thermometer
        figures = {"instrument": probe.name if probe else ""}
        statements.append(Statement(id="round.against-thermometer", figures=figures))
    if any(not rest.by_thermometer for rest in held.values()):
        statements.append(Statement(id="round.against-each-other"))
    if any(spread_half_k(place) for place in held):
        taken_as = {"spread_k": SPREAD_HALF_K, "drifted_share": DRIFTED_SHARE, "sure_share": SURE}
        statements.append(Statement(id="round.taken", figures=taken_as))
    return tuple(statements)
