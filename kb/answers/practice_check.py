"""Check a suspect of a practice job with the team's instruments, and say what it shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kb.numbers.rounding import format_plain

from .instruments import NamedMeter, NamedThermometer, Tools
from .insulation import InsulationAnswer, InsulationQuestion, answer_insulation
from .insulation_tested import NamedTester
from .judged import Judged, judge_typed
from .practice_draw import Hidden, luck
from .practice_machine import BY_EYE, PracticeMachine
from .practice_motor import TESTERS, pairs_ohm, shown_insulation, to_earth_ohm, trend_shown
from .practice_reading import (
    METERS,
    PROBES,
    Shown,
    beside_c,
    between_tips_ohm,
    board_shows_c,
    board_state,
    shown_c,
    shown_ohm,
)
from .sensor_facts import Curve
from .typed import ICE, typed_reading_ohm
from .winding import WindingAnswer, WindingQuestion, answer_windings


@dataclass(frozen=True, kw_only=True)
class Bench:
    """What a job is done with.

    Parameters
    ----------
    curves : mapping of curve id to curve
        Those of the notes.
    meters, thermometers, testers : mapping of id to instrument
        The draws of each hang on its place there.
    short_ohm : float
        Below this the team calls a reading a short.
    """

    curves: Mapping[str, Curve]
    meters: Mapping[str, NamedMeter]
    thermometers: Mapping[str, NamedThermometer]
    testers: Mapping[str, NamedTester]
    short_ohm: float


@dataclass(frozen=True, kw_only=True)
class SensorRead:
    """A sensor as it was read: what meter and thermometer showed, and the verdict on it."""

    sensor: str
    placement: str
    plugged: bool
    ohm: Shown
    beside: Shown | None
    judged: Judged


def read_sensor(
    hidden: Hidden,
    *,
    machine: PracticeMachine,
    bench: Bench,
    sensor: str,
    meter: str,
    thermometer: str,
    placement: str,
    plugged: bool = False,
) -> SensorRead:
    """Return what the instruments show on a sensor, and how `judge` judges that.

    Parameters
    ----------
    meter, thermometer : str
        Ids of the bench's.
    placement : str
        A name of PLACEMENTS.
    """
    tool, probe = bench.meters[meter], bench.thermometers[thermometer]
    tips_ohm = between_tips_ohm(
        hidden,
        machine=machine,
        curves=bench.curves,
        sensor=sensor,
        placement=placement,
        plugged=plugged,
    )
    strays = luck(hidden.seed, stream=METERS + list(bench.meters).index(meter))
    ohm = shown_ohm(tool.meter, r_ohm=tips_ohm, stray=strays)
    beside = None
    if placement != ICE:
        at_c = beside_c(hidden, machine=machine, sensor=sensor, placement=placement)
        stray = luck(hidden.seed, stream=PROBES + list(bench.thermometers).index(thermometer))
        beside = shown_c(probe.thermometer, t_c=at_c, stray=stray)
    tools = Tools(meter=tool, thermometer=probe, placement=placement)
    judged = judge_typed(
        machine.sensors[sensor].facts,
        shown=tools.shown(typed_reading_ohm(ohm.typed, field="reading")),
        at=beside.typed if beside else "",
        unit="C",
        tools=tools,
        short_ohm=bench.short_ohm,
    )
    return SensorRead(
        sensor=sensor, placement=placement, plugged=plugged, ohm=ohm, beside=beside, judged=judged
    )


def by_eye(hidden: Hidden) -> bool:
    """Whether somebody who looks at plug and wiring sees it."""
    return hidden.kind in BY_EYE


@dataclass(frozen=True, kw_only=True)
class BoardRead:
    """What the board made of a plain resistor, beside what that stands for."""

    shows_c: float
    should_c: float
    state: str


def read_board(
    hidden: Hidden, *, machine: PracticeMachine, sensor: str, r_ohm: float, share: float
) -> BoardRead:
    """Return what the board shows for a resistor at a sensor's input.

    Parameters
    ----------
    r_ohm : float
        Printed on it, in Ω, and `share` its tolerance.
    """
    curve = machine.sensors[sensor].facts.curve
    should_c = float(curve.beyond_c(r_ohm))
    shows_c = board_shows_c(hidden, machine=machine, sensor=sensor, r_ohm=r_ohm)
    ends_c = [float(curve.beyond_c(r_ohm * (1 + off))) for off in (-share, share)]
    spread_k = max(abs(end_c - should_c) for end_c in ends_c)
    state = board_state(shows_c, should_c=should_c, spread_k=spread_k)
    return BoardRead(shows_c=shows_c, should_c=should_c, state=state)


@dataclass(frozen=True, kw_only=True)
class WindingsRead:
    """A part's windings as read, by pair of leads, and what `winding` answers."""

    shown: Mapping[str, Shown]
    at: Shown
    answer: WindingAnswer


def read_windings(
    hidden: Hidden,
    *,
    machine: PracticeMachine,
    bench: Bench,
    part: str,
    meter: str,
    thermometer: str,
) -> WindingsRead:
    """Return what the meter shows between a part's leads, taken off, its own leads zeroed."""
    windings = machine.parts[part].windings
    if windings is None:
        raise ValueError(f"{part} has no windings to read")
    tool = bench.meters[meter]
    stray = luck(hidden.seed, stream=METERS + list(bench.meters).index(meter))
    ohms = pairs_ohm(hidden, machine=machine, part=part, windings=windings)
    shown = {
        pair: shown_ohm(tool.meter, r_ohm=r_ohm, stray=stray, leads=False)
        for pair, r_ohm in ohms.items()
    }
    at = _shell(hidden, bench=bench, thermometer=thermometer)
    question = WindingQuestion(
        part=windings,
        readings=[(pair, reading.typed) for pair, reading in shown.items()],
        at=at.typed,
        meter=tool,
    )
    return WindingsRead(shown=shown, at=at, answer=answer_windings(question))


def _shell(hidden: Hidden, *, bench: Bench, thermometer: str) -> Shown:
    """Return what a thermometer shows on a motor that has cooled through."""
    stray = luck(hidden.seed, stream=PROBES + list(bench.thermometers).index(thermometer))
    return shown_c(bench.thermometers[thermometer].thermometer, t_c=hidden.air_c, stray=stray)


@dataclass(frozen=True, kw_only=True)
class EarthRead:
    """A part's insulation as read, how it moved through the minute, and what is answered."""

    ohm: Shown
    at: Shown
    trend: str
    answer: InsulationAnswer


def read_earth(
    hidden: Hidden,
    *,
    machine: PracticeMachine,
    bench: Bench,
    part: str,
    tester: str,
    thermometer: str,
) -> EarthRead:
    """Return what an insulation tester shows from a part's winding to earth, leads off and dry.

    Raises
    ------
    Refusal
        Where the tester has not the part's test voltage.
    """
    own = machine.parts[part]
    limit, tool = own.insulation, bench.testers[tester]
    if limit is None:
        raise ValueError(f"{part} has no insulation to test")
    voltage = next(row for row in tool.voltages if row.volts == limit.test_volts)
    stray = luck(hidden.seed, stream=TESTERS + list(bench.testers).index(tester))
    ohm = shown_insulation(
        voltage, r_ohm=to_earth_ohm(hidden, machine=machine, part=own), stray=stray
    )
    at = _shell(hidden, bench=bench, thermometer=thermometer)
    trend = trend_shown(hidden, part=part, limit=limit)
    question = InsulationQuestion(
        part=limit,
        volts=format_plain(limit.test_volts),
        reading=ohm.typed,
        at=at.typed,
        testers=[tool],
        tester=tester,
        surface="dry",
        trend=trend,
    )
    return EarthRead(ohm=ohm, at=at, trend=trend, answer=answer_insulation(question))


FAULTY = ("outside", "open", "short", "off-curve")
"""Verdicts that name a fault."""
STAND_IN_SHARE = 0.01
"""What a plain resistor of the van may be off. Common practice, no source."""


def check_suspect(
    hidden: Hidden, *, machine: PracticeMachine, bench: Bench, suspect: int
) -> tuple[str, ...]:
    """Return the verdicts that a suspect's check ends with, by the closest way the team has.

    Notes
    -----
    A sensor is read in stirred ice where its curve reaches it, else with a strapped probe; windings
    with the meter that has the finest digit; what is looked at is "outside" where it is seen.
    """
    row = machine.codes[hidden.code].suspects[suspect]
    if row.check == "sensor":
        return (_closest(hidden, machine=machine, bench=bench, sensor=row.sensor),)
    if row.check == "board":
        sensor = machine.codes[hidden.code].sensor
        curve = machine.sensors[sensor].facts.curve
        middle_c = min(max(25.0, curve.low_c), curve.high_c)
        read = read_board(
            hidden,
            machine=machine,
            sensor=sensor,
            r_ohm=float(curve.r_ohm(middle_c)),
            share=STAND_IN_SHARE,
        )
        return (read.state,)
    if row.check == "motor":
        return _motor(hidden, machine=machine, bench=bench, part=row.part)
    seen = row.check == "look" and by_eye(hidden) and hidden.suspect == suspect
    return ("outside" if seen else "within",)


def _closest(hidden: Hidden, *, machine: PracticeMachine, bench: Bench, sensor: str) -> str:
    curve = machine.sensors[sensor].facts.curve
    placement = ICE if curve.low_c <= 0 <= curve.high_c else "strapped"
    state = ""
    for meter in bench.meters:
        read = read_sensor(
            hidden,
            machine=machine,
            bench=bench,
            sensor=sensor,
            meter=meter,
            thermometer=next(iter(bench.thermometers)),
            placement=placement,
        )
        state = read.judged.verdict.verdict
        if state != "undecided":
            return state
    return state


def _motor(hidden: Hidden, *, machine: PracticeMachine, bench: Bench, part: str) -> tuple[str, ...]:
    own, states = machine.parts[part], []
    probe = next(iter(bench.thermometers))
    if own.windings is not None:
        finest = min(
            bench.meters, key=lambda name: bench.meters[name].meter.ranges[0].resolution_ohm
        )
        read = read_windings(
            hidden, machine=machine, bench=bench, part=part, meter=finest, thermometer=probe
        )
        states.append(read.answer.state)
    if own.insulation is not None:
        volts = own.insulation.test_volts
        testers = [
            name
            for name, tester in bench.testers.items()
            if any(row.volts == volts for row in tester.voltages)
        ]
        if testers:
            earth = read_earth(
                hidden,
                machine=machine,
                bench=bench,
                part=part,
                tester=testers[0],
                thermometer=probe,
            )
            states.append(earth.answer.state)
    return tuple(states)
