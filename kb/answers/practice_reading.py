"""What instruments show on a practice machine: the physics of its sensors and its board's input."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from kb.numbers.divider import parallel_ohm
from kb.numbers.meter import Meter
from kb.numbers.placement import PLACEMENTS
from kb.numbers.rounding import all_digits, significant
from kb.numbers.thermometer import Thermometer

from .controller_figure import BOARD_K, DISPLAY_HALF_K
from .practice_draw import Hidden, luck, place_of
from .practice_machine import PracticeMachine
from .sensor_facts import Curve
from .typed import ICE

PARTS, SPOTS, METERS, PROBES = 1000, 2000, 3000, 4000
"""Where the draws of a job's sensors, their spots, meters and thermometers begin, by stream."""
BOARDS = 5000
TRUE_SHARE = 0.9
"""A sound part lies within so much of its own tolerance."""
DIGITS = 9


@dataclass(frozen=True, kw_only=True)
class Shown:
    """What a display shows.

    Parameters
    ----------
    value : float
        In Ω or °C; infinity over range.
    typed : str
        As somebody would write it down: what a verdict is asked with.
    digit : float
        One digit of the range; infinity over range.
    """

    value: float
    typed: str
    digit: float


def shown_ohm(meter: Meter, *, r_ohm: float, stray: float, leads: bool = True) -> Shown:
    """Return what a meter shows on a resistance.

    Parameters
    ----------
    r_ohm : float
        Between its tips, in Ω.
    stray : float
        From −1 to 1: how much of its accuracy it is off.
    leads : bool
        Whether its leads are still in the reading: on windings they are zeroed.

    Notes
    -----
    It is off by at most what its accuracy allows, the rounding of the display included.
    """
    bare_ohm = r_ohm + (meter.leads_ohm if leads else 0.0)
    for scale in meter.ranges:
        off_ohm = float(scale.half_width_ohm(min(bare_ohm, scale.span_ohm)))
        seen_ohm = bare_ohm + stray * (off_ohm - scale.resolution_ohm / 2)
        counts = math.floor(seen_ohm / scale.resolution_ohm + 0.5) if seen_ohm < math.inf else 0
        shown = significant(max(counts, 0) * scale.resolution_ohm, digits=DIGITS)
        if seen_ohm < math.inf and shown <= scale.span_ohm:
            return Shown(value=shown, typed=f"{all_digits(shown)}Ω", digit=scale.resolution_ohm)
    return Shown(value=math.inf, typed="OL", digit=math.inf)


def shown_c(thermometer: Thermometer, *, t_c: float, stray: float) -> Shown:
    """Return what a thermometer shows at a temperature, off by at most its accuracy."""
    off_k = thermometer.accuracy_k + abs(t_c) * thermometer.percent / 100
    step_k = thermometer.resolution_k or 0.1
    seen_c = t_c + stray * TRUE_SHARE * off_k
    shown = significant(math.floor(seen_c / step_k + 0.5) * step_k, digits=DIGITS)
    return Shown(value=shown, typed=all_digits(shown), digit=step_k)


def sensor_number(machine: PracticeMachine, *, sensor: str) -> int:
    """Return the place of a sensor among the machine's: its draws hang on it."""
    return list(machine.sensors).index(sensor)


def at_sensor_c(hidden: Hidden, *, machine: PracticeMachine, sensor: str, placement: str) -> float:
    """Return how warm the element is: at rest in its place, or near nought in stirred ice."""
    if placement == ICE:
        stray = luck(hidden.seed, stream=SPOTS + sensor_number(machine, sensor=sensor))
        return stray * PLACEMENTS[ICE].half_width_k
    return hidden.places_c[place_of(machine.sensors[sensor])]


def beside_c(hidden: Hidden, *, machine: PracticeMachine, sensor: str, placement: str) -> float:
    """Return how warm the thermometer is beside it, by the way it is put there."""
    at_c = at_sensor_c(hidden, machine=machine, sensor=sensor, placement=placement)
    stray = luck(hidden.seed, stream=SPOTS + sensor_number(machine, sensor=sensor))
    return 0.0 if placement == ICE else at_c + stray * PLACEMENTS[placement].half_width_k


def at_plug_ohm(
    hidden: Hidden,
    *,
    machine: PracticeMachine,
    curves: Mapping[str, Curve],
    sensor: str,
    placement: str = "air",
) -> float:
    """Return Ω at the sensor's side of its plug, pulled; infinity for a break.

    Parameters
    ----------
    placement : str
        How the temperature is taken meanwhile: in ice the element is cold. Where plugs are
        exchanged, that is not the element that this plug leads to.
    """
    pair = (hidden.sensor, hidden.partner)
    if hidden.kind == "exchanged" and sensor in pair:
        other = pair[1 - pair.index(sensor)]
        at_c = at_sensor_c(hidden, machine=machine, sensor=other, placement="air")
        return _element_ohm(hidden, machine=machine, curves=curves, sensor=other, t_c=at_c)
    at_c = at_sensor_c(hidden, machine=machine, sensor=sensor, placement=placement)
    r_ohm = _element_ohm(hidden, machine=machine, curves=curves, sensor=sensor, t_c=at_c)
    if hidden.kind == "wet-plug" and sensor == hidden.sensor:
        return float(parallel_ohm(r_ohm, other_ohm=hidden.by))
    return r_ohm


def _element_ohm(
    hidden: Hidden,
    *,
    machine: PracticeMachine,
    curves: Mapping[str, Curve],
    sensor: str,
    t_c: float,
) -> float:
    """Return Ω of the element itself, within its own tolerance, with what is wrong with it."""
    curve = machine.sensors[sensor].facts.curve
    stray = luck(hidden.seed, stream=PARTS + sensor_number(machine, sensor=sensor))
    inside_c = min(max(t_c, curve.low_c), curve.high_c)
    own_k = stray * TRUE_SHARE * float(curve.tol_k(inside_c))
    if sensor != hidden.sensor:
        return float(curve.beyond_ohm(t_c + own_k))
    if hidden.kind == "open":
        return math.inf
    if hidden.kind == "short":
        return hidden.by
    if hidden.kind == "wrong-part":
        return float(curves[hidden.curve].beyond_ohm(t_c))
    if hidden.kind == "drifted":
        return _drifted_ohm(hidden, machine=machine, curve=curve, t_c=t_c)
    return float(curve.beyond_ohm(t_c + own_k))


def _drifted_ohm(hidden: Hidden, *, machine: PracticeMachine, curve: Curve, t_c: float) -> float:
    """Return Ω of a sensor whose R25 and B have moved.

    Notes
    -----
    R = R25 exp(B (1/T − 1/T25)), so that (R/R25)^(1 + b) R25 has B larger by the share b; the
    factor on it is the one that is off by `by` kelvin in the machine today.
    """
    at_c = hidden.places_c[place_of(machine.sensors[hidden.sensor])]
    middle_ohm = float(curve.beyond_ohm(min(max(25.0, curve.low_c), curve.high_c)))

    def tilted_ohm(warm_c: float) -> float:
        return float((float(curve.beyond_ohm(warm_c)) / middle_ohm) ** (1 + hidden.tilt))

    today_ohm = float(curve.beyond_ohm(at_c + hidden.by))
    return today_ohm * tilted_ohm(t_c) / tilted_ohm(at_c)


def between_tips_ohm(
    hidden: Hidden,
    *,
    machine: PracticeMachine,
    curves: Mapping[str, Curve],
    sensor: str,
    placement: str = "air",
    plugged: bool = False,
) -> float:
    """Return Ω between a meter's tips, at a plug that is pulled or still in, the machine dead.

    Still in, the board's pull-up lies beside the sensor; a plug that is out already lies beside
    nothing.
    """
    r_ohm = at_plug_ohm(hidden, machine=machine, curves=curves, sensor=sensor, placement=placement)
    pull_up_ohm = machine.sensors[sensor].facts.pull_up_ohm
    hangs = hidden.kind == "unplugged" and sensor == hidden.sensor
    if not plugged or pull_up_ohm is None or hangs:
        return r_ohm
    return float(parallel_ohm(r_ohm, other_ohm=pull_up_ohm * board_share(hidden, sensor=sensor)))


def board_share(hidden: Hidden, *, sensor: str) -> float:
    """Return the pull-up of a sensor's input against what it should be."""
    return hidden.by if hidden.kind == "board-input" and sensor == hidden.sensor else 1.0


def board_shows_c(hidden: Hidden, *, machine: PracticeMachine, sensor: str, r_ohm: float) -> float:
    """Return the degrees that the board makes of a resistance at a sensor's input, to a half.

    Notes
    -----
    The divider gives U0 R/(R + Rp'), and the board takes its pull-up for Rp: so it sees R Rp/Rp'.
    Beyond its curve it shows the end.
    """
    curve = machine.sensors[sensor].facts.curve
    low_ohm, high_ohm = curve.range_ohm
    seen_ohm = r_ohm / board_share(hidden, sensor=sensor)
    inside_ohm = min(max(seen_ohm, low_ohm), high_ohm)
    stray = luck(hidden.seed, stream=BOARDS + sensor_number(machine, sensor=sensor))
    seen_c = float(curve.t_c(inside_ohm)) + stray * BOARD_K
    return math.floor(seen_c * 2 + 0.5) / 2


def board_state(board_c: float, *, should_c: float, spread_k: float) -> str:
    """Return "within" or "outside" of what a board shows for a plain resistor.

    Parameters
    ----------
    should_c : float
        What the resistor stands for, in °C.
    spread_k : float
        How far the resistor's own tolerance may move that, in K.

    Notes
    -----
    Board, display and resistor are added whole: no sound board is condemned (common practice, no
    source).
    """
    off_k = abs(board_c - should_c)
    return "within" if off_k <= BOARD_K + DISPLAY_HALF_K + spread_k else "outside"
