"""Drills on a sensor's curve: what it should read, how warm it is, and if a reading is right."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.numbers.measured import Measured
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.rounding import meter_display, significant
from kb.numbers.seeded import Seeded
from kb.numbers.verdict import VERDICTS, Verdict, judge, short_below_ohm

from .drill import Drill
from .drill_notes import DrillNotes, DrillSensor
from .instruments import NamedMeter, NamedThermometer, Tools
from .sensor_facts import Curve
from .statement import Statement
from .typed import ICE

ICE_C = 0.0
LEAST_SPAN_K = 5
"""A sensor that meets fewer whole degrees on its curve always has the same drill."""
VERDICT_CHOICES = tuple(verdict for verdict in VERDICTS if verdict != "off-curve")
SHORT_DIGITS = 20
"""A short is shown as up to so many digits of the meter's lowest range."""


@dataclass(frozen=True, kw_only=True)
class _Aim:
    """What a drill is made for, and the draws that place it there."""

    verdict: str
    by: float
    sign: int
    digits: int


def on_curve(notes: DrillNotes) -> list[DrillSensor]:
    """Return the sensors that can be asked about by their curve."""
    return [sensor for sensor in notes.sensors if _asked_on(sensor, notes=notes)]


def limit_k(sensor: DrillSensor, *, curve: Curve, t_c: float) -> float:
    """Return how far off a typed answer may be in K: the part's tolerance, else the allowance."""
    return float(curve.tol_k(t_c)) if curve.tolerance_known else sensor.allow_k


def expected_resistance(sensor: DrillSensor, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: what should it read at this temperature?"""
    curve = notes.curves[sensor.curve_id]
    t_c = _degrees(sensor, curve=curve, draw=draw)
    figures = {"t_c": t_c, "limit_k": limit_k(sensor, curve=curve, t_c=t_c)}
    return _typed("ohm", sensor, curve=curve, figures=figures)


def temperature_of_reading(sensor: DrillSensor, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: how warm is it where it reads this?"""
    curve = notes.curves[sensor.curve_id]
    near_c = _degrees(sensor, curve=curve, draw=draw)
    # What is shown is what is asked about: its last digit counts.
    r_ohm = significant(float(curve.r_ohm(near_c)), digits=ohm_digits(curve))
    t_c = float(curve.beyond_c(r_ohm))
    figures = {"t_c": t_c, "r_ohm": r_ohm, "limit_k": limit_k(sensor, curve=curve, t_c=near_c)}
    return _typed("temperature", sensor, curve=curve, figures=figures)


def verdict_of_reading(sensor: DrillSensor, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: is this reading right? Answered by the rule that judges every reading."""
    curve = notes.curves[sensor.curve_id]
    t_c = _degrees(sensor, curve=curve, draw=draw)
    low_c, high_c = _ends_c(sensor, curve=curve)
    in_ice = draw.below(2) == 0 and low_c <= ICE_C <= high_c
    named = draw.chosen(notes.meters)
    placement = draw.chosen([name for name in PLACEMENTS if PLACEMENTS[name].fixed_c is None])
    if in_ice:
        t_c, placement = ICE_C, ICE
    probes = [probe for probe in notes.thermometers if _reads(probe, t_c=t_c)]
    probe = draw.chosen(probes) if probes else None
    tools = Tools(meter=named, thermometer=None if in_ice else probe, placement=placement)
    aim = _Aim(
        verdict=draw.chosen(VERDICT_CHOICES),
        by=draw.share(),
        sign=1 if draw.below(2) else -1,
        digits=draw.below(SHORT_DIGITS),
    )
    shown_ohm = _shown_ohm(aim, sensor=sensor, curve=curve, t_c=t_c, tools=tools)
    measured, verdict = _judged(shown_ohm, sensor=sensor, notes=notes, t_c=t_c, tools=tools)
    if verdict.verdict not in VERDICT_CHOICES:
        shown_ohm = math.inf
        measured, verdict = _judged(shown_ohm, sensor=sensor, notes=notes, t_c=t_c, tools=tools)
    asked: dict[str, object] = {
        "t_c": t_c,
        "how": Statement(id=f"drill.how-{placement}"),
        "meter": named.name,
        "thermometer": _probe_words(tools),
        "shown": _display(named, shown_ohm=shown_ohm),
    }
    return Drill(
        kind="verdict",
        form="choice",
        family=sensor.family,
        about=f"sensors/{sensor.id}",
        ask=Statement(id="drill.ask-verdict", figures={"sensor": sensor.name}),
        given=(Statement(id="drill.given-verdict", figures=asked),),
        choices=tuple(Statement(id=f"drill.is-{name}") for name in VERDICT_CHOICES),
        right=(VERDICT_CHOICES.index(verdict.verdict),),
        curve_id=sensor.curve_id,
        digits=ohm_digits(curve),
        figures={"shown_ohm": shown_ohm, "t_c": t_c},
        because=_because(verdict, measured=measured, curve=curve, notes=notes),
    )


def _asked_on(sensor: DrillSensor, *, notes: DrillNotes) -> bool:
    curve = notes.curves.get(sensor.curve_id)
    if curve is None or sensor.meets_c is None:
        return False
    low_c, high_c = _ends_c(sensor, curve=curve)
    return high_c - low_c >= LEAST_SPAN_K and (curve.tolerance_known or sensor.allow_k > 0)


def _ends_c(sensor: DrillSensor, *, curve: Curve) -> tuple[int, int]:
    """Return the lowest and highest whole degree that it meets and its curve holds."""
    lowest_c, highest_c = sensor.meets_c or (curve.low_c, curve.high_c)
    return (math.ceil(max(lowest_c, curve.low_c)), math.floor(min(highest_c, curve.high_c)))


def _degrees(sensor: DrillSensor, *, curve: Curve, draw: Seeded) -> float:
    low_c, high_c = _ends_c(sensor, curve=curve)
    return float(low_c + draw.below(high_c - low_c + 1))


def _typed(kind: str, sensor: DrillSensor, *, curve: Curve, figures: dict[str, float]) -> Drill:
    t_c = figures["t_c"]
    inside_c = min(max(t_c, curve.low_c), curve.high_c)
    r_ohm = figures.get("r_ohm", float(curve.r_ohm(inside_c)))
    asked = {"sensor": sensor.name, "t_c": t_c, "r_ohm": r_ohm}
    asked.pop("r_ohm" if kind == "ohm" else "t_c")
    return Drill(
        kind=kind,
        form=kind,
        family=sensor.family,
        about=f"sensors/{sensor.id}",
        ask=Statement(id=f"drill.ask-{kind}", figures=asked),
        curve_id=sensor.curve_id,
        digits=ohm_digits(curve),
        figures=figures,
        because=(
            Statement(id="drill.because-curve", figures={"t_c": t_c, "r_ohm": r_ohm}),
            Statement(id="drill.because-limit", figures={"limit_k": figures["limit_k"]}),
        ),
    )


def _probe_words(tools: Tools) -> Statement | str:
    """Return the thermometer's name; in ice and water none is needed."""
    if tools.thermometer is not None:
        return tools.thermometer.name
    return Statement(id=f"drill.{'ice' if tools.placement == ICE else 'no'}-thermometer")


def _reads(probe: NamedThermometer, *, t_c: float) -> bool:
    try:
        probe.thermometer.half_width_k(t_c)
    except OutOfRange:
        return False
    return True


def _shown_ohm(aim: _Aim, *, sensor: DrillSensor, curve: Curve, t_c: float, tools: Tools) -> float:
    """Return what the meter shows for what is aimed at, to its own last digit."""
    named = tools.meter
    if named is None or aim.verdict == "open":
        return math.inf
    meter = named.meter
    if aim.verdict == "short":
        return aim.digits * meter.ranges[0].resolution_ohm
    sound_ohm = float(curve.r_ohm(t_c)) + meter.leads_ohm
    sound = _compared(sound_ohm, sensor=sensor, curve=curve, t_c=t_c, tools=tools)
    u_k = sound.uncertainty_k or 0.0
    if aim.verdict == "outside":
        error_k = (sound.limit_k + u_k) * (1.3 + aim.by)
    elif aim.verdict == "within" and sound.limit_k > u_k:
        error_k = (sound.limit_k - u_k) * 0.7 * aim.by
    else:
        error_k = sound.limit_k + u_k * 0.4 * (aim.by - 0.5)
    reads_c = t_c + aim.sign * error_k
    if not curve.low_c <= reads_c <= curve.high_c:
        reads_c = min(max(t_c - aim.sign * error_k, curve.low_c), curve.high_c)
    r_ohm = float(curve.r_ohm(reads_c)) + meter.leads_ohm
    used = meter.range_for(r_ohm)
    if used is None:
        return math.inf
    return math.floor(r_ohm / used.resolution_ohm + 0.5) * used.resolution_ohm


def _compared(
    shown_ohm: float, *, sensor: DrillSensor, curve: Curve, t_c: float, tools: Tools
) -> Verdict:
    """Return the verdict on a reading, without what the team calls a short."""
    measured = tools.take(shown_ohm, t_c=t_c)
    return judge(curve, measured=measured, allow_k=sensor.allow_k)


def _judged(
    shown_ohm: float, *, sensor: DrillSensor, notes: DrillNotes, t_c: float, tools: Tools
) -> tuple[Measured, Verdict]:
    measured = tools.take(shown_ohm, t_c=t_c)
    curve = notes.curves[sensor.curve_id]
    return measured, judge(
        curve, measured=measured, allow_k=sensor.allow_k, short_ohm=notes.short_ohm
    )


def _display(named: NamedMeter, *, shown_ohm: float) -> Statement | str:
    """Return a reading as its meter shows it."""
    used = named.meter.range_for(shown_ohm)
    if used is None:
        return Statement(id="drill.over-range")
    shown, unit = meter_display(shown_ohm, span_ohm=used.span_ohm, digit_ohm=used.resolution_ohm)
    return f"{shown} {unit}"


def _because(
    verdict: Verdict, *, measured: Measured, curve: Curve, notes: DrillNotes
) -> tuple[Statement, ...]:
    """Return the working: what it rests on, then the rule that decides."""
    expected = Statement(
        id="drill.because-expected",
        figures={"t_c": measured.t_c, "part_ohm": [verdict.low_ohm, verdict.high_ohm]},
    )
    rule = Statement(id=f"drill.because-{verdict.verdict}")
    if verdict.verdict == "short":
        below_ohm = short_below_ohm(curve, at_most_ohm=notes.short_ohm)
        return (expected, Statement(id="drill.because-short", figures={"r_ohm": below_ohm}))
    if verdict.error_k is None or verdict.uncertainty_k is None:
        rule_id = "open" if verdict.verdict == "open" else "beyond-meter"
        return (expected, Statement(id=f"drill.because-{rule_id}"))
    figures = {
        "error_k": verdict.error_k,
        "limit_k": verdict.limit_k,
        "uncertainty_k": verdict.uncertainty_k,
    }
    return (expected, Statement(id="drill.because-compared", figures=figures), rule)
