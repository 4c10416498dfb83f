"""From entries to a machine to practise on: which faults its notes know enough of to hide one."""

from __future__ import annotations

from collections.abc import Iterator

from kb.answers.insulation_tested import WOUND
from kb.answers.practice_check import Bench
from kb.answers.practice_draw import sides
from kb.answers.practice_machine import (
    PracticeCode,
    PracticeMachine,
    PracticePart,
    PracticeSensor,
    PracticeSuspect,
)
from kb.catalog import Catalog
from kb.code_facts import code_facts, under_codes
from kb.facts import named_meter, named_thermometer, round_sensors, sensor_facts, team_short_ohm
from kb.model import Code, Family, Method, Part, Sensor
from kb.model.code import Suspect, Trip
from kb.part_facts import insulation_facts, named_testers, winding_facts

MEASURED = ("drifted", "wrong-part")
"""Faults of a sensor that have a size: how far off it must be, the code decides."""


def practice_machines(catalog: Catalog) -> tuple[PracticeMachine, ...]:
    """Return the families that can be practised on, in the order of their ids."""
    machines = (practice_machine(catalog, family) for family in catalog.all(Family).values())
    return tuple(machine for machine in machines if machine is not None)


def practice_bench(catalog: Catalog) -> Bench:
    """Return the team's instruments and the notes' curves."""
    return Bench(
        curves=catalog.computing_curves,
        meters={tool.id: named_meter(tool) for tool in catalog.meters()},
        thermometers={tool.id: named_thermometer(tool) for tool in catalog.thermometers()},
        testers={tester.id: tester for tester in named_testers(catalog)},
        short_ohm=team_short_ohm(catalog),
    )


def practice_machine(catalog: Catalog, family: Family) -> PracticeMachine | None:
    """Return a family as a machine to practise on; None where no fault can be hidden in it."""
    sensors = {sensor.id: sensor for sensor in round_sensors(catalog, family)}
    parts = {part.id: part for part in catalog.of_family(Part, family.id)}
    codes = [
        _code(catalog, code=code, sensors=sensors, parts=parts)
        for code in catalog.of_family(Code, family.id)
    ]
    found = tuple(code for code in codes if any(suspect.kinds for suspect in code.suspects))
    if not found:
        return None
    return PracticeMachine(
        id=family.id,
        wait_min=family.drain_min,
        drained_v=family.drained_below_v,
        charge_v=0.0 if family.no_charge else family.charge_v or 0.0,
        sensors={name: _sensor(catalog, sensor=sensor) for name, sensor in sensors.items()},
        parts={name: _part(part) for name, part in parts.items()},
        codes=found,
    )


def _sensor(catalog: Catalog, *, sensor: Sensor) -> PracticeSensor:
    curve = catalog.computing_curves[sensor.curve or ""]
    return PracticeSensor(
        id=sensor.id,
        place=sensor.rests_with or "",
        facts=sensor_facts(catalog, curve=curve, curve_id=sensor.curve or "", sensor=sensor),
    )


def _part(part: Part) -> PracticePart:
    return PracticePart(
        id=part.id,
        windings=winding_facts(part, windings=part.windings) if part.windings else None,
        insulation=insulation_facts(part, limit=part.insulation) if part.insulation else None,
    )


def _code(
    catalog: Catalog, *, code: Code, sensors: dict[str, Sensor], parts: dict[str, Part]
) -> PracticeCode:
    accused = [row.sensor for row in code.suspects if row.sensor in sensors]
    sensor, partner = (*accused, "", "")[:2]
    needs_k: tuple[float, ...] = ()
    if sensor:
        needs_k = under_codes(catalog, sensors[sensor])[code.id].needs_k
    first = sensors.get(sensor or "")
    kinds = _Kinds(
        code=code,
        sensor=first,
        partner=sensors.get(partner or ""),
        needs_k=needs_k,
        falling=bool(first and catalog.computing_curves[first.curve or ""].falling),
    )
    suspects = []
    for ranked in code_facts(catalog, code=code).suspects:
        row = code.suspects[ranked.place]
        check = _check(catalog, row=row, sensors=sensors, parts=parts, board=kinds.board)
        suspects.append(
            PracticeSuspect(
                sensor=row.sensor if row.sensor in sensors else "",
                part=row.part or "",
                share=ranked.share,
                minutes=ranked.minutes,
                check=check,
                kinds=tuple(kinds.of(row, check=check, parts=parts)),
            )
        )
    return PracticeCode(
        id=code.id,
        suspects=tuple(suspects),
        sensor=sensor or "",
        partner=partner or "",
        needs_k=needs_k,
    )


def _check(
    catalog: Catalog,
    *,
    row: Suspect,
    sensors: dict[str, Sensor],
    parts: dict[str, Part],
    board: bool,
) -> str:
    if row.sensor in sensors:
        return "sensor"
    judges = catalog.get(Method, row.method).judges if row.method else ""
    part = parts.get(row.part or "")
    if part is not None and part.is_a == "board" and judges == "voltage" and board:
        return "board"
    if part is not None and part.windings is not None:
        return "motor"
    return "look" if row.what and judges == "plain look" else "other"


class _Kinds:
    """Which faults can be hidden under a code: those that would bring it."""

    def __init__(
        self,
        *,
        code: Code,
        sensor: Sensor | None,
        partner: Sensor | None,
        needs_k: tuple[float, ...],
        falling: bool,
    ) -> None:
        limits = [trip for trip in code.trip if sensor and trip.sensor == sensor.id]
        self._sensor, self._partner = sensor, partner
        self._limits, self._falling = limits, falling
        self._ways = sides(needs_k) if needs_k or not limits else ()
        self.board = sensor is not None and sensor.board_input is not None

    def of(self, row: Suspect, *, check: str, parts: dict[str, Part]) -> Iterator[str]:
        """Yield the kinds of one suspect."""
        if check == "motor":
            yield from _motor(parts[row.part or ""])
        if self._sensor is None:
            return
        if check == "sensor" and row.sensor == self._sensor.id:
            yield from self._of_sensor()
        if check == "board" and self._ways:
            yield "board-input"
        if check == "look" and row.practice == "wet plug" and self._wet():
            yield "wet-plug"
        if check == "look" and row.practice == "unplugged" and self._ends("above"):
            yield "unplugged"
        if check == "look" and row.practice == "exchanged" and self._apart():
            yield "exchanged"

    def _of_sensor(self) -> Iterator[str]:
        if self._ends("above"):
            yield "open"
        if self._ends("below"):
            yield "short"
        if self._ways:
            yield from MEASURED

    def _ends(self, side: str) -> bool:
        """Whether the code comes where the ohms are beyond all, on this side."""
        return any(_beyond(trip, side=side) for trip in self._limits)

    def _wet(self) -> bool:
        """Whether ohms that fall bring the code; on a curve that rises they seem colder."""
        return any((need_k > 0) == self._falling for need_k in self._ways)

    def _apart(self) -> bool:
        own, other = self._sensor, self._partner
        return own is not None and other is not None and own.rests_with != other.rests_with


def _beyond(trip: Trip, *, side: str) -> bool:
    """Whether a limit of a code says so in ohms; the notes give them beside the degrees."""
    return (trip.above_ohm if side == "above" else trip.below_ohm) is not None


def _motor(part: Part) -> Iterator[str]:
    windings = part.windings
    judged = windings and (windings.tolerance_percent or windings.balance_percent)
    if part.is_a in WOUND and judged:
        yield "winding"
    if part.is_a == "compressor" and part.insulation is not None:
        yield "damp"
