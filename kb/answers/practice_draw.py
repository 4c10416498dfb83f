"""Draw a job to practise: which machine, which code, what is hidden in it, how warm it stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from kb.numbers.seeded import Seeded

from .practice_machine import PracticeMachine, PracticeSensor
from .sensor_facts import Curve

AIR_C = (-5.0, 32.0)
"""Days on which somebody is called. Common practice, no source."""
WARMER_K = (-1.5, 4.0)
"""How far a place of a machine at rest stands off the air. Common practice, no source."""
APART_K = (9.0, 14.0)
"""So far apart stand the places of two exchanged plugs: nearer each other they would not show."""
LEAST_K = 6.0
"""A drift that nobody argues about. Common practice, no source."""
MOST_K = 60.0
"""Another part that reads further off than this is an open or a short to whoever reads it."""
MOST_NEED_K = 30.0
"""A code that asks for more than this of a drift is about opens and shorts. No source."""
LIMITS = 2.0
"""A fault is at least so many times what a sound sensor may be off."""
MORE_K = 8.0
"""And up to so many K more."""
OFF_ICE_C = 6.0
"""Exchanged plugs are tried on days that stand off the ice point: a cup of ice would hide them."""
TILT = 0.02
"""Share by which a drifted sensor's B is off, either way. Common practice, no source."""
SHORT_OHM = (0.2, 3.0)
DAMP = (0.03, 0.4)
"""Of its own limit, what a damp winding still has. Common practice, no source."""
DAMP_FROM_C = 12.0
TURNS = (0.3, 0.5)
"""Share of a winding's turns that is shorted: a meter that shows hundredths sees it. No source."""
OF_MOTORS = ("winding", "damp")
OPEN_WINDINGS = 0.4
"""Of faults in a winding, so many are a break; the others are shorted turns. No source."""


@dataclass(frozen=True, kw_only=True)
class Hidden:
    """A job: a machine with one fault, today.

    Parameters
    ----------
    machine, code : int
        Places among those drawn from.
    suspect : int
        Place among the code's.
    kind : str
        One of KINDS.
    sensor, partner, part : str
        Where it is; "" where it is none.
    by : float
        K of a drift, Ω of a short or a leak, the pull-up against what it should be, the share of
        turns that is shorted (1 for a break), the share of an insulation limit.
    tilt : float
        Share by which B is off beside it.
    curve : str
        The curve of a wrong part.
    winding : int
        Which of a part's windings.
    places_c : mapping of place to °C
    """

    seed: int
    machine: int
    code: int
    suspect: int
    kind: str
    sensor: str = ""
    partner: str = ""
    part: str = ""
    by: float = 0.0
    tilt: float = 0.0
    curve: str = ""
    winding: int = 0
    air_c: float
    places_c: Mapping[str, float]


def luck(seed: int, *, stream: int) -> float:
    """Return how far something strays in this job, from −1 to 1 of what it may."""
    return 2 * Seeded(seed, stream=stream).share() - 1


def draw_job(
    seed: int, *, machines: Sequence[PracticeMachine], curves: Mapping[str, Curve]
) -> Hidden:
    """Return the job of a seed.

    Parameters
    ----------
    curves : mapping of curve id to curve
        Those of the notes: a wrong part has another one of them.

    Raises
    ------
    ValueError
        If nothing can be hidden in any of the machines.

    Notes
    -----
    Codes are alike; of a code's suspects each comes by its share, of its kinds each alike.
    """
    draw = Seeded(seed)
    codes = [
        (i, j)
        for i, machine in enumerate(machines)
        for j, code in enumerate(machine.codes)
        if any(suspect.kinds for suspect in code.suspects)
    ]
    at, number = draw.chosen(codes)
    machine, code = machines[at], machines[at].codes[number]
    place = draw.weighted([row.share if row.kinds else 0.0 for row in code.suspects])
    suspect = code.suspects[place]
    kind = draw.chosen(suspect.kinds)
    air_c = draw.between(AIR_C[0], high=AIR_C[1])
    hidden = Hidden(
        seed=seed,
        machine=at,
        code=number,
        suspect=place,
        kind=kind,
        sensor="" if kind in OF_MOTORS else suspect.sensor or code.sensor,
        partner=code.partner if kind == "exchanged" else "",
        part=suspect.part,
        air_c=air_c,
        places_c=_places_c(machine, draw=draw, air_c=air_c),
    )
    if kind in OF_MOTORS:
        return _motor_fault(hidden, machine=machine, draw=draw)
    return _sensor_fault(hidden, machine=machine, draw=draw, curves=curves)


def place_of(sensor: PracticeSensor) -> str:
    """Return where a sensor rests: a place that it shares, or its own."""
    return sensor.place or sensor.id


def limit_k(sensor: PracticeSensor, *, t_c: float) -> float:
    """Return what a sound one is not further off than, in K."""
    return max(float(sensor.facts.curve.tol_k(t_c)), sensor.facts.allow_k)


def _places_c(machine: PracticeMachine, *, draw: Seeded, air_c: float) -> dict[str, float]:
    places: dict[str, float] = {}
    for sensor in machine.sensors.values():
        at_c = air_c + draw.between(WARMER_K[0], high=WARMER_K[1])
        if place_of(sensor) not in places:
            places[place_of(sensor)] = _inside(sensor, t_c=at_c)
    return places


def _inside(sensor: PracticeSensor, *, t_c: float) -> float:
    """Return a temperature that the sensor meets in service, and its curve holds for."""
    curve = sensor.facts.curve
    low_c, high_c = sensor.facts.meets_c or (curve.low_c, curve.high_c)
    return min(max(t_c, low_c + 1, curve.low_c + 1), high_c - 1, curve.high_c - 1)


def _sensor_fault(
    hidden: Hidden, *, machine: PracticeMachine, draw: Seeded, curves: Mapping[str, Curve]
) -> Hidden:
    sensor = machine.sensors[hidden.sensor]
    kind, at_c = hidden.kind, hidden.places_c[place_of(sensor)]
    seems_c = at_c + _off_k(hidden, machine=machine, sensor=sensor, draw=draw)
    curve = sensor.facts.curve
    r_ohm, seems_ohm = float(curve.beyond_ohm(at_c)), float(curve.beyond_ohm(seems_c))
    if kind == "exchanged":
        return _apart(hidden, machine=machine, draw=draw)
    if kind == "short":
        return replace(hidden, by=draw.between(SHORT_OHM[0], high=SHORT_OHM[1]))
    if kind == "wet-plug":
        return replace(hidden, by=1 / (1 / seems_ohm - 1 / r_ohm))
    if kind == "board-input":
        return replace(hidden, by=r_ohm / seems_ohm)
    if kind == "wrong-part":
        others = _other_parts(hidden, machine=machine, sensor=sensor, curves=curves)
        if others:
            return replace(hidden, curve=draw.chosen(others))
    if kind in ("drifted", "wrong-part"):
        # Where no other part would bring this code, the sensor has drifted instead.
        tilt = draw.between(-TILT, high=TILT)
        return replace(hidden, kind="drifted", by=seems_c - at_c, tilt=tilt)
    return hidden


def sides(needs_k: Sequence[float]) -> tuple[float, ...]:
    """Return how far off it must seem, at least, each way that would bring the code."""
    near = tuple(need_k for need_k in needs_k if abs(need_k) <= MOST_NEED_K)
    return near if needs_k else (-LEAST_K, LEAST_K)


def _off_k(
    hidden: Hidden, *, machine: PracticeMachine, sensor: PracticeSensor, draw: Seeded
) -> float:
    """Return how far off the sensor seems, in K: enough for the code, and for whoever judges it."""
    ways = sides(machine.codes[hidden.code].needs_k)
    if hidden.kind == "wet-plug":
        # Water lies beside the sensor, so the ohms can only fall.
        falls = 1 if sensor.facts.curve.falling else -1
        ways = tuple(need_k for need_k in ways if need_k * falls > 0)
    # A break or a short has no measure: then nothing hangs on it.
    need_k = draw.chosen(ways or (LEAST_K,))
    at_c = hidden.places_c[place_of(sensor)]
    least_k = max(abs(need_k), LEAST_K, LIMITS * limit_k(sensor, t_c=at_c))
    return (least_k + draw.between(0.0, high=MORE_K)) * (1 if need_k > 0 else -1)


def _apart(hidden: Hidden, *, machine: PracticeMachine, draw: Seeded) -> Hidden:
    """Return the job with the places of both sensors so far apart that the exchange shows."""
    own, other = machine.sensors[hidden.sensor], machine.sensors[hidden.partner]
    at_c = max(_inside(own, t_c=hidden.places_c[place_of(own)]), OFF_ICE_C)
    away_c = at_c + draw.between(APART_K[0], high=APART_K[1])
    places_c = {**hidden.places_c, place_of(own): at_c, place_of(other): away_c}
    return replace(hidden, places_c=places_c)


def _other_parts(
    hidden: Hidden, *, machine: PracticeMachine, sensor: PracticeSensor, curves: Mapping[str, Curve]
) -> list[str]:
    """Return the curves of the notes that would bring the code here, and show in ice as well."""
    at_c = hidden.places_c[place_of(sensor)]
    ways = sides(machine.codes[hidden.code].needs_k)

    def seen_k(curve: Curve, *, t_c: float) -> float:
        return float(sensor.facts.curve.beyond_c(curve.beyond_ohm(t_c))) - t_c

    return [
        name
        for name, curve in sorted(curves.items())
        if name != sensor.facts.curve_id
        and curve.low_c <= min(0.0, at_c)
        and curve.high_c >= at_c
        and any(
            abs(need_k) <= seen_k(curve, t_c=at_c) * (1 if need_k > 0 else -1) <= MOST_K
            and LEAST_K <= abs(seen_k(curve, t_c=0.0)) <= MOST_K
            and abs(seen_k(curve, t_c=at_c)) >= LIMITS * limit_k(sensor, t_c=at_c)
            for need_k in ways
        )
    ]


def _motor_fault(hidden: Hidden, *, machine: PracticeMachine, draw: Seeded) -> Hidden:
    if hidden.kind == "damp":
        # In the cold nobody corrects a reading, and damp passes for sound.
        air_c = max(hidden.air_c, DAMP_FROM_C)
        return replace(hidden, by=draw.between(DAMP[0], high=DAMP[1]), air_c=air_c)
    windings = machine.parts[hidden.part].windings
    winding = draw.below(len(windings.pairs) if windings else 1)
    broken = draw.share() < OPEN_WINDINGS
    share = draw.between(TURNS[0], high=TURNS[1])
    return replace(hidden, winding=winding, by=1.0 if broken else share)
