"""`ohmfolio round`: a machine at rest: do its sensors agree, and who stands out?"""

from __future__ import annotations

from pathlib import Path

import click

from kb.answers.round import RoundAnswer, RoundQuestion, answer_round
from kb.answers.round_rows import RoundReading
from kb.answers.statement import Refusal
from kb.catalog import Catalog
from kb.facts import resting_sensors, team_short_ohm
from kb.model import Family, Sensor
from kb.notes.late import open_notes
from kb.notes.load import Notes
from kb.notes.problem import nearest
from kb.words.phrase import phrase

from .computing import computing, refuse_untestable
from .instruments_used import instruments_options, tools_named
from .options import (
    NotUnderstood,
    find_curve,
    json_option,
    notes_option,
    read_entry,
    refused,
    say_json,
)
from .pairs import ManyPairs, PairText, pair_texts
from .round_temperatures import place_temperatures
from .round_words import round_as_dict, round_words, sensor_name


@click.command("round", cls=ManyPairs)
@click.argument("family", metavar="FAMILY")
@click.option(
    "--reading",
    metavar="SENSOR=R…",
    multiple=True,
    required=True,
    help="A sensor's id or label and what it read, such as T1=12.1k.",
)
@click.option(
    "--at",
    metavar="PLACE=T…",
    multiple=True,
    help="What a thermometer shows where sensors rest, such as outdoor=8C; without it they vouch "
    "for each other.",
)
@instruments_options
@notes_option
@json_option
def round_of_readings(
    family: str,
    reading: tuple[str, ...],
    at: tuple[str, ...],
    meter: str | None,
    thermometer: str | None,
    placement: str | None,
    notes: Path,
    as_json: bool,
) -> None:
    """Say whether the sensors of a machine at rest agree, and which one stands out.

    The machine must have stood long enough to be the same all over. Sensors are held against each
    other, or against a temperature, only where they rest in one place: a room is not the outdoors.
    No thermometer is needed with three sensors or more of one place.

    Example: ohmfolio round brenholt-split --reading T3=12.1k T4=12.0k T6=9.1k
    """
    catalog = Catalog(open_notes(notes))
    own_family = _family(catalog.notes, family)
    pairs = pair_texts(reading, form="T1=12.1k")
    sensors = _sensors(catalog, own_family, pairs)
    resting = resting_sensors(catalog, own_family, name=sensor_name)
    read = {sensor.id: sensor for sensor in sensors if sensor}
    tools = tools_named(catalog, meter=meter, thermometer=thermometer, placement=placement)
    question = RoundQuestion(
        sensors=resting,
        readings=[
            RoundReading(sensor=sensor.id, reading=pair.value)
            for sensor, pair in zip(sensors, pairs, strict=True)
            if sensor is not None
        ],
        tools=tools,
        temperatures=place_temperatures(
            at,
            placement=tools.placement,
            resting=[sensor for sensor in resting if sensor.id in read],
            labels={sensor.id: sensor.label for sensor in read.values()},
        ),
        short_ohm=team_short_ohm(catalog),
    )
    answer = answer_round(question)
    _refuse_unread(answer, sensors=sensors, pairs=pairs)
    if as_json:
        say_json(round_as_dict(answer, family=own_family))
    else:
        click.echo(round_words(answer, sensors=read))


def _refuse_unread(
    answer: RoundAnswer, *, sensors: list[Sensor | None], pairs: list[PairText]
) -> None:
    """Raise where a reading or a temperature cannot be taken: all the readings at once."""
    unread = {row.sensor: phrase(row.refusal) for row in answer.rows if row.refusal}
    faults = [
        pair.fault or unread.get(sensor.id if sensor else "", "")
        for sensor, pair in zip(sensors, pairs, strict=True)
    ]
    if any(faults):
        raise NotUnderstood("\n".join(filter(None, faults)))
    for taken in answer.temperatures:
        if taken.refusal is not None:
            raise refused(Refusal(taken.refusal, field=taken.field), at=taken.unit)


def _sensors(catalog: Catalog, family: Family, pairs: list[PairText]) -> list[Sensor | None]:
    """Return the sensor of each pair, None where it is no pair.

    Raises
    ------
    NotUnderstood
        When the family has no such sensor, or one was given twice.
    NoAnswer
        When a sensor has no curve, or no test.
    """
    found: list[Sensor | None] = []
    for pair in pairs:
        if pair.fault:
            found.append(None)
            continue
        sensor = _sensor(catalog, family, pair.name)
        if sensor in found:
            raise NotUnderstood(f"{sensor_name(sensor)} was given twice; give each sensor once")
        computing(find_curve(catalog.notes, name=f"sensors/{sensor.id}").curve)
        refuse_untestable(sensor)
        found.append(sensor)
    return found


def _family(notes: Notes, name: str) -> Family:
    families = notes.of(Family)
    if not notes.knows("families", name):
        raise NotUnderstood(f"no family is called '{name}'; {nearest(name, families)}")
    return read_entry(notes, model=Family, entry_id=name)


def _sensor(catalog: Catalog, family: Family, name: str) -> Sensor:
    own = catalog.of_family(Sensor, family.id)
    for sensor in own:
        if name == sensor.id or name.casefold() == sensor.label.casefold():
            return sensor
    if catalog.notes.knows("sensors", name):
        read_entry(catalog.notes, model=Sensor, entry_id=name)
    names = [known for sensor in own for known in (sensor.label, sensor.id)]
    raise NotUnderstood(f"{family.name} has no sensor '{name}'; {nearest(name, names)}")
