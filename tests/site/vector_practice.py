"""Practice jobs on made-up machines: what is drawn, and what every instrument shows on them."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import numpy as np

from kb.answers.instruments import NamedMeter, NamedThermometer
from kb.answers.insulation_tested import InsulationFacts, InsulationVoltage, NamedTester
from kb.answers.practice_check import Bench, read_board, read_earth, read_sensor, read_windings
from kb.answers.practice_draw import draw_job
from kb.answers.practice_machine import (
    KINDS,
    PracticeCode,
    PracticeMachine,
    PracticePart,
    PracticeSensor,
    PracticeSuspect,
)
from kb.answers.practice_order import best_order, reading_minutes
from kb.answers.practice_safety import prove
from kb.answers.sensor_facts import SensorFacts
from kb.answers.winding_reading import WindingFacts
from kb.numbers.grid import Grid
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.thermometer import Thermometer

from .page_names import page_names
from .vector_readings import one_of
from .vector_sensors import named_for_page

METER = NamedMeter(
    id="pocket",
    name="Pocket",
    meter=Meter(
        ranges=tuple(
            OhmRange(span_ohm=4 * 10**i, resolution_ohm=10.0 ** (i - 3), percent=0.9, digits=3)
            for i in range(8)
        ),
        leads_ohm=0.3,
    ),
)
PROBE = NamedThermometer(
    id="probe", name="Probe", thermometer=Thermometer(accuracy_k=0.4, percent=0.1, resolution_k=0.1)
)
TESTER = NamedTester(
    id="tester", name="Tester", voltages=(InsulationVoltage(volts=500.0, max_ohm=1e9, percent=3.0),)
)
READ_AS = ("ice-water", "held-on")
SENSOR_KINDS = ("drifted", "open", "short", "wrong-part")
WIRING_KINDS = ("wet-plug", "exchanged", "unplugged")


def practice_asked(rng: np.random.Generator, grids: dict[str, Grid]) -> tuple[object, Callable]:
    """A seed on a machine of two sensors and a motor, with a code of every kind of check."""
    wide = [
        name
        for name, grid in grids.items()
        if grid.low_c <= -9 and grid.high_c >= 50 and grid.tolerance_known
    ]
    names = [str(name) for name in rng.choice(wide, size=4, replace=False)]
    machine = _machine(rng, names=names, grids=grids)
    curves = {name: grids[name] for name in names}
    bench = Bench(
        curves=curves,
        meters={"pocket": METER},
        thermometers={"probe": PROBE},
        testers={"tester": TESTER},
        short_ohm=5.0,
    )
    seed, minutes = int(rng.integers(100_000)), float(rng.uniform(0, 12))
    asked = {
        "seed": seed,
        "minutes": minutes,
        "curves": names,
        "machine": page_machine(machine),
        "bench": {
            "meters": {"pocket": named_for_page(METER)},
            "thermometers": {"probe": named_for_page(PROBE)},
            "testers": {"tester": page_names(TESTER)},
            "shortOhm": 5.0,
        },
    }
    return asked, lambda: _answer(seed, machine=machine, bench=bench, minutes=minutes)


def page_machine(machine: PracticeMachine) -> dict[str, object]:
    """Return a machine as the page has it, its curves by name."""
    bare = {
        name: dataclasses.replace(
            sensor,
            facts=dataclasses.replace(
                sensor.facts, curve=None, family_curves={}, other_curves={}, labels={}
            ),
        )
        for name, sensor in machine.sensors.items()
    }
    return page_names(dataclasses.replace(machine, sensors=bare))


def _answer(
    seed: int, *, machine: PracticeMachine, bench: Bench, minutes: float
) -> dict[str, object]:
    hidden = draw_job(seed, machines=[machine], curves=bench.curves)
    code = machine.codes[hidden.code]
    how = {"machine": machine, "bench": bench}
    reads = [
        read_sensor(
            hidden,
            sensor=sensor,
            meter="pocket",
            thermometer="probe",
            placement=placement,
            plugged=plugged,
            **how,
        )
        for sensor in machine.sensors
        for placement in READ_AS
        for plugged in (False, True)
    ]
    windings = read_windings(hidden, part="motor", meter="pocket", thermometer="probe", **how)
    earth = read_earth(hidden, part="motor", tester="tester", thermometer="probe", **how)
    return {
        "hidden": hidden,
        "reads": [
            {"ohm": read.ohm, "beside": read.beside, "verdict": read.judged.verdict}
            for read in reads
        ],
        "board": read_board(hidden, machine=machine, sensor="r1", r_ohm=10e3, share=0.01),
        "windings": {"shown": windings.shown, "state": windings.answer.state},
        "earth": {"ohm": earth.ohm, "trend": earth.trend, "state": earth.answer.state},
        "best": best_order(code, suspect=hidden.suspect),
        "minutes": [
            reading_minutes(minutes, placement=placement, again=again)
            for placement in ("ice-water", "strapped", "air")
            for again in (False, True)
        ],
        "proof": prove(machine, done=["isolate"], minutes=minutes),
    }


def _machine(
    rng: np.random.Generator, *, names: list[str], grids: dict[str, Grid]
) -> PracticeMachine:
    sensors = {
        label: PracticeSensor(
            id=label,
            place=one_of(rng, ("outdoor air", "room", "")) + (label if label == "r2" else ""),
            facts=SensorFacts(
                curve=grids[name],
                curve_id=name,
                allow_k=one_of(rng, (0.0, 1.0, 2.0)),
                meets_c=one_of(rng, (None, (-8.0, 45.0))),
                pull_up_ohm=one_of(rng, (None, 5100.0, 10e3)),
                supply_v=5.0,
            ),
        )
        for label, name in zip(("r1", "r2"), names, strict=False)
    }
    motor = PracticePart(id="motor", windings=_windings(rng), insulation=_insulation(rng))
    return PracticeMachine(
        id="machine",
        wait_min=one_of(rng, (0.0, 5.0, 10.0)),
        drained_v=50.0,
        charge_v=one_of(rng, (0.0, 360.0, 620.0)),
        sensors=sensors,
        parts={"motor": motor},
        codes=(_code(rng),),
    )


def _windings(rng: np.random.Generator) -> WindingFacts:
    leads, connection = one_of(
        rng,
        (
            (("U-V", "V-W", "U-W"), "star"),
            (("U-V", "V-W", "U-W"), "delta"),
            (("U1-U2", "V1-V2", "W1-W2"), "unknown"),
            (("blue-brown", "blue-black"), "single-phase"),
        ),
    )
    return WindingFacts(
        pairs=dict.fromkeys(leads, float(one_of(rng, (0.48, 5.9, 38.4)))),
        tolerance_share=one_of(rng, (None, 0.08)),
        balance_share=one_of(rng, (None, 0.03)),
        wound=True,
        insulated=True,
        connection=connection,
    )


def _insulation(rng: np.random.Generator) -> InsulationFacts:
    return InsulationFacts(
        name="Motor",
        min_ohm=float(one_of(rng, (1e6, 5e6))),
        test_volts=500.0,
        material=one_of(rng, ("thermoset", "thermoplastic")),
        wound=True,
    )


def _code(rng: np.random.Generator) -> PracticeCode:
    kind = one_of(rng, KINDS)
    checks = (
        ("sensor", "r1", SENSOR_KINDS),
        ("look", "", WIRING_KINDS),
        ("board", "", ("board-input",)),
        ("motor", "", ("winding", "damp")),
    )
    return PracticeCode(
        id="code",
        suspects=tuple(
            PracticeSuspect(
                sensor=sensor,
                part="motor" if check == "motor" else "",
                share=float(rng.uniform(0.1, 1)),
                minutes=float(rng.integers(1, 30)),
                check=check,
                kinds=(kind,) if kind in kinds else (),
            )
            for check, sensor, kinds in checks
        ),
        sensor="r1",
        partner="r2",
        needs_k=one_of(rng, ((), (-12.0, 18.0), (9.0,), (-15.0, 40.0))),
    )
