"""From entries to what the floor of answers asks: what decides, without the entries' words."""

from __future__ import annotations

from collections.abc import Callable

from kb.answers.instruments import Kit, NamedMeter, NamedThermometer
from kb.answers.reading_next import INSTRUCTIONS
from kb.answers.round_places import RestingSensor
from kb.answers.sensor_facts import Curve, SensorFacts
from kb.answers.stand_in import BoardSide
from kb.catalog import Catalog
from kb.instruments import meter_of, thermometer_of
from kb.model import Family, Instrument, Sensor, Team
from kb.model.code import Suspect


def named_meter(instrument: Instrument) -> NamedMeter:
    """Return an instrument as a meter; ValueError if it reads no resistance."""
    return NamedMeter(
        id=instrument.id,
        name=instrument.name,
        meter=meter_of(instrument),
        rated_v=instrument.rated_v(),
    )


def named_thermometer(instrument: Instrument) -> NamedThermometer:
    """Return an instrument as a thermometer; ValueError if it reads no temperature."""
    return NamedThermometer(
        id=instrument.id, name=instrument.name, thermometer=thermometer_of(instrument)
    )


def kit_of(catalog: Catalog) -> Kit:
    """Return what the team carries, its usual instruments first."""
    return Kit(
        meters=tuple(named_meter(tool) for tool in catalog.meters()),
        thermometers=tuple(named_thermometer(tool) for tool in catalog.thermometers()),
    )


def team_short_ohm(catalog: Catalog) -> float:
    """Return the ohms below which the team calls a reading a short."""
    # A team file with a fault leaves the field's own default.
    team = catalog.notes.team
    return team.short_below_ohm if team else float(Team.model_fields["short_below_ohm"].default)


def sensor_facts(
    catalog: Catalog, *, curve: Curve, curve_id: str, sensor: Sensor | None
) -> SensorFacts:
    """Return what decides on a sensor's readings; on a bare curve's where `sensor` is None."""
    curves = {name: own for name, own in catalog.computing_curves.items() if name != curve_id}
    if sensor is None:
        return SensorFacts(curve=curve, curve_id=curve_id, other_curves=curves)
    labels = family_labels(catalog, sensor)
    board = sensor.board_input
    return SensorFacts(
        curve=curve,
        curve_id=curve_id,
        allow_k=sensor.allow_k or 0.0,
        meets_c=sensor.meets_c,
        pull_up_ohm=board.pull_up_ohm if board else None,
        supply_v=board.supply_v if board else None,
        live_v=catalog.get(Family, sensor.family).live_v if board else None,
        instructions=instructions_of(sensor),
        family_curves={name: own for name, own in curves.items() if name in labels},
        labels=labels,
        other_curves={name: own for name, own in curves.items() if name not in labels},
        twins=twin_labels(catalog, sensor),
        sisters=sister_labels(catalog, sensor),
    )


def round_sensors(catalog: Catalog, family: Family) -> list[Sensor]:
    """Return the sensors that take part in a round: those with a curve and a way to test them."""
    return [
        sensor
        for sensor in catalog.of_family(Sensor, family.id)
        if sensor.testable and sensor.curve in catalog.computing_curves
    ]


def resting_sensors(
    catalog: Catalog, family: Family, *, name: Callable[[Sensor], str]
) -> list[RestingSensor]:
    """Return what decides on a family's round; `name` says what to call a sensor."""
    curves = catalog.computing_curves
    return [
        RestingSensor(
            id=sensor.id,
            name=name(sensor),
            curve=curves[sensor.curve or ""],
            curve_id=sensor.curve or "",
            allow_k=sensor.allow_k or 0.0,
            place=sensor.rests_with or "",
            instructions=instructions_of(sensor),
        )
        for sensor in round_sensors(catalog, family)
    ]


def board_side(sensor: Sensor | None) -> BoardSide | None:
    """Return the board's side of a sensor's plug; None where nobody knows it."""
    board = sensor.board_input if sensor else None
    if board is None:
        return None
    return BoardSide(supply_v=board.supply_v, pull_up_ohm=board.pull_up_ohm)


def steps_by_code(catalog: Catalog, sensor: Sensor) -> dict[str, dict[str, str]]:
    """Return code id → what follows from the sensor's readings under that code, by field."""
    steps: dict[str, dict[str, str]] = {}
    for code in catalog.codes_accusing(sensor):
        for suspect in code.suspects:
            fields = instructions_of(suspect) if suspect.sensor == sensor.id else ()
            if fields:
                steps[code.id] = {name: getattr(suspect, name) for name in fields}
    return steps


def instructions_of(entry: Sensor | Suspect) -> tuple[str, ...]:
    """Return which of its fields say what to do after a verdict."""
    fields = dict.fromkeys(name for names in INSTRUCTIONS.values() for name in names)
    return tuple(name for name in fields if getattr(entry, name))


def family_labels(catalog: Catalog, sensor: Sensor) -> dict[str, tuple[str, ...]]:
    """Return curve id → labels of this family's other sensors that have it."""
    labels: dict[str, list[str]] = {}
    for other in catalog.of_family(Sensor, sensor.family):
        if other.curve and other.id != sensor.id:
            labels.setdefault(other.curve, []).append(other.label)
    return {curve_id: tuple(sorted(named)) for curve_id, named in labels.items()}


def sister_labels(catalog: Catalog, sensor: Sensor) -> tuple[str, ...]:
    """Return the labels of this family's other sensors on the same curve that can be read."""
    return tuple(
        sorted(
            other.label
            for other in catalog.of_family(Sensor, sensor.family)
            if other.curve == sensor.curve and other.id != sensor.id and other.testable
        )
    )


def twin_labels(catalog: Catalog, sensor: Sensor) -> tuple[str, ...]:
    """Return the labels of this family's sensors on the same curve that rest at another place."""
    return tuple(
        sorted(
            other.label
            for other in catalog.of_family(Sensor, sensor.family)
            if other.curve == sensor.curve
            and None not in (other.rests_with, sensor.rests_with)
            and other.rests_with != sensor.rests_with
        )
    )
