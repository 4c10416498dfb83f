"""`ohmfolio round`: a machine at rest: do its sensors agree, and who stands out?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import click

from kb.catalog import Catalog
from kb.facts import team_short_ohm
from kb.model import Family, Sensor
from kb.notes.load import Notes, load_notes
from kb.notes.problem import nearest
from kb.numbers.at_rest import SPREAD_HALF_K, AtRest, Resting, Standing, at_rest
from kb.numbers.exchanged import exchanged
from kb.numbers.measured import taken
from kb.numbers.rounding import format_ohm

from .arguments import ManyPairs, Temperature, at_option, pair_arguments
from .computing import computing
from .instruments_used import Used, meter_option, thermometer_option, used
from .options import NotUnderstood, find_curve, json_option, notes_option, read_entry, say_json
from .terminal import caution_words, wrapped

BROKEN = {
    "open": "is an open circuit",
    "short": "is a short circuit",
    "off-curve": "is off its curve",
}


@dataclass(frozen=True, kw_only=True)
class Round:
    """The sensors of one machine, read at rest.

    Parameters
    ----------
    sensors : dict of id to Sensor
        Those read, in the order given.
    readings_ohm : dict of id to float
        As the meter showed them.
    at : Temperature or None
        What a thermometer showed.
    """

    family: Family
    sensors: dict[str, Sensor]
    readings_ohm: dict[str, float]
    used: Used
    at: Temperature | None
    rest: AtRest
    exchanged: list[tuple[str, str]]
    """Pairs of ids that would both agree if each had the other's reading."""


@click.command("round", cls=ManyPairs)
@click.argument("family", metavar="FAMILY")
@click.option(
    "--reading",
    metavar="SENSOR=R…",
    multiple=True,
    required=True,
    help="A sensor's id or label and what it read, such as T1=12.1k.",
)
@at_option(required=False, help="What a thermometer shows; without it they vouch for each other.")
@meter_option
@thermometer_option
@notes_option
@json_option
def round_of_readings(
    family: str,
    reading: tuple[str, ...],
    at: Temperature | None,
    meter: str | None,
    thermometer: str | None,
    notes: Path,
    as_json: bool,
) -> None:
    """Say whether the sensors of a machine at rest agree, and which one stands out.

    The machine must have stood long enough to be the same all over. No thermometer is needed with
    three sensors or more.

    Example: ohmfolio round brenholt-split --reading T3=12.1k T4=12.0k T6=9.1k
    """
    loaded = load_notes(notes)
    one = compared(
        loaded,
        _family(loaded, family),
        pair_arguments(reading, form="T1=12.1k"),
        at=at,
        tools=used(loaded, meter=meter, thermometer=thermometer),
    )
    say_json(as_dict(one)) if as_json else click.echo(words(one))


def compared(
    notes: Notes,
    family: Family,
    pairs: list[tuple[str, float]],
    *,
    at: Temperature | None,
    tools: Used,
) -> Round:
    """Return how the sensors read stand to each other, or to a thermometer.

    Raises
    ------
    NotUnderstood
        When the family has no such sensor, or one was given twice.
    NoAnswer
        When a sensor has no curve, or the thermometer does not reach.
    """
    sensors: dict[str, Sensor] = {}
    readings: dict[str, float] = {}
    for told, r_ohm in pairs:
        sensor = _sensor(notes, family, told)
        if sensor.id in readings:
            raise NotUnderstood(f"{_name(sensor)} was given twice; give each sensor once")
        sensors[sensor.id], readings[sensor.id] = sensor, r_ohm
    _one_place(sensors)
    resting = {}
    for sensor_id, r_ohm in readings.items():
        curve = computing(find_curve(notes, name=f"sensors/{sensor_id}").curve)
        # Only the meter's part of it counts here: the places of a resting machine have their own.
        read = taken(r_ohm, t_c=curve.low_c, meter=tools.meter)
        resting[sensor_id] = Resting(
            curve=curve,
            r_ohm=read.r_ohm,
            meter_half_ohm=read.meter_half_ohm,
            meter_span_ohm=read.meter_span_ohm,
            allow_k=sensors[sensor_id].allow_k or 0.0,
        )
    half_k = 0.0 if at is None else tools.took(0.0, at=at).thermometer_half_k
    against = {
        "t_c": None if at is None else at.t_c,
        "thermometer_half_k": half_k,
        "short_ohm": team_short_ohm(Catalog(notes)),
    }
    return Round(
        family=family,
        sensors=sensors,
        readings_ohm=readings,
        used=tools,
        at=at,
        rest=at_rest(resting, **against),
        exchanged=exchanged([resting], **against),
    )


def _one_place(sensors: dict[str, Sensor]) -> None:
    """Refuse to hold a room against the outdoors."""
    places: dict[str | None, list[str]] = {}
    for one in sensors.values():
        places.setdefault(one.rests_with, []).append(_name(one))
    if len(places) < 2:
        return
    told = "; ".join(
        f"{', '.join(names)}: {place or 'a place of its own'}" for place, names in places.items()
    )
    raise NotUnderstood(
        f"these do not rest in one place ({told}), so they need not agree; "
        "give those of one place at a time"
    )


def _family(notes: Notes, name: str) -> Family:
    families = notes.of(Family)
    if not notes.knows("families", name):
        raise NotUnderstood(f"no family is called '{name}'; {nearest(name, families)}")
    return read_entry(notes, model=Family, entry_id=name)


def _sensor(notes: Notes, family: Family, told: str) -> Sensor:
    own = [one for one in notes.of(Sensor).values() if one.family == family.id]
    for one in own:
        if told in (one.id, one.label) or told.casefold() == one.label.casefold():
            return one
    if ("sensors", told) in notes.broken:
        read_entry(notes, model=Sensor, entry_id=told)
    names = [name for one in own for name in (one.label, one.id)]
    raise NotUnderstood(f"{family.name} has no sensor '{told}'; {nearest(told, names)}")


def as_dict(one: Round) -> dict[str, object]:
    """Return the answer for machines."""
    return {
        "family": one.family.id,
        "centre_c": one.rest.centre_c,
        "by_thermometer": one.rest.by_thermometer,
        "sensors": [
            {
                "sensor": sensor_id,
                "state": told.state,
                "t_implied_c": told.t_implied_c,
                "off_k": told.off_k,
                "limit_k": told.limit_k,
                "uncertainty_k": told.uncertainty_k,
            }
            for sensor_id, told in one.rest.standing.items()
        ],
        "exchanged": [list(pair) for pair in one.exchanged],
    }


def words(one: Round) -> str:
    """Return the whole answer for a terminal."""
    parts = [
        wrapped(_headline(one)),
        wrapped(_exchanged(one)),
        "\n".join(_rows(one)),
        wrapped(_held_against(one)),
        "\n".join(_next(one)),
        caution_words(("sensor-unplugged", "maker-first")),
    ]
    return "\n\n".join(part for part in parts if part)


def _headline(one: Round) -> str:
    at = one.at or Temperature(0.0)
    standing = one.rest.standing
    said = [
        f"{_name(one.sensors[sensor_id])} {BROKEN[told.state]}."
        for sensor_id, told in standing.items()
        if told.state in BROKEN
    ]
    said += [
        f"{_name(one.sensors[sensor_id])} is over range on {one.used.meter_entry.name}, which a "
        "good one may be: take a meter that reaches further."
        for sensor_id, told in standing.items()
        if told.state == "undecided" and told.t_implied_c is None
    ]
    read = {i: told for i, told in standing.items() if told.t_implied_c is not None}
    if not one.rest.by_thermometer and len(read) < 3 and _apart(read.values()):
        said.append("Fewer than three cannot say who is right: read a third, or give --at T.")
        return " ".join(said)
    others = "the thermometer" if one.rest.by_thermometer else "the middle of all"
    for sensor_id, told in read.items():
        if told.state != "stands-out":
            continue
        side = "colder" if told.off_k < 0 else "hotter"
        said.append(
            f"{_name(one.sensors[sensor_id])} stands out: {at.apart(told.off_k)} {side} than "
            f"{others}."
        )
    doubtful = [i for i, told in read.items() if told.state == "undecided"]
    if doubtful:
        names = ", ".join(_name(one.sensors[i]) for i in doubtful)
        said.append(f"Not decided: {names}.")
    agreeing = {i: told for i, told in read.items() if told.state == "agrees"}
    if agreeing:
        most = at.apart(max(abs(told.off_k) for told in agreeing.values()))
        whole = len(agreeing) == len(standing)
        lead = f"All {len(agreeing)} agree" if whole else f"The other {len(agreeing)} agree"
        if len(agreeing) == 1:
            lead = "It agrees" if whole else "The other one agrees"
        said.append(f"{lead}: at most {most} from {others}, {at.degrees(one.rest.centre_c)}.")
    return " ".join(said)


def _exchanged(one: Round) -> str:
    pairs = [" and ".join(_name(one.sensors[i]) for i in pair) for pair in one.exchanged]
    if not pairs:
        return ""
    return (
        f"{', or '.join(pairs)}: each reads what the other should. Look whether their plugs are "
        "exchanged before you replace either."
    )


def _apart(read: Iterable[Standing]) -> bool:
    return any(told.state != "agrees" for told in read)


def _rows(one: Round) -> list[str]:
    at = one.at or Temperature(0.0)
    rows = [["", "read", "reads as", "off", "allowed", "uncertainty"]]
    for sensor_id, told in one.rest.standing.items():
        row = [_name(one.sensors[sensor_id]), format_ohm(one.readings_ohm[sensor_id])]
        row.append("" if told.t_implied_c is None else at.degrees(told.t_implied_c))
        if told.off_k is None:
            row += ["", "", ""]
        else:
            sign = "−" if told.off_k < 0 else "+"
            limit = f"± {at.apart(told.limit_k)}" if told.limit_k else "not known"
            row += [sign + at.apart(told.off_k), limit, f"± {at.apart(told.uncertainty_k)}"]
        rows.append(row)
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(
            cell.ljust(wide[i]) if i == 0 else cell.rjust(wide[i]) for i, cell in enumerate(row)
        ).rstrip()
        for row in rows
    ]


def _held_against(one: Round) -> str:
    at = one.at or Temperature(0.0)
    places = f"Places of a machine at rest are taken to differ by up to {at.apart(SPREAD_HALF_K)}."
    if one.rest.by_thermometer:
        return f"Held against {one.used.thermometer_entry.name}, {one.at}. {places}"
    return (
        "Held against the middle of the sensors, without a thermometer: a fault that most of "
        f"them share would not show. {places}"
    )


def _next(one: Round) -> list[str]:
    rows = []
    for sensor_id, told in one.rest.standing.items():
        sensor = one.sensors[sensor_id]
        if told.state in ("agrees", "undecided"):
            continue
        bad = f" {sensor.when_bad}" if sensor.when_bad else ""
        rows.append(
            wrapped(
                f"Next for {_name(sensor)}: judge it at its own temperature, ohmfolio judge "
                f"{sensor_id}.{bad}"
            )
        )
    return rows


def _name(sensor: Sensor) -> str:
    return f"{sensor.label} ({sensor.id})"
