"""What a sensor should read at a temperature, before anything was read."""

from __future__ import annotations

from dataclasses import dataclass

from kb.numbers.divider import volts_at_plug
from kb.numbers.ohm_digits import ohm_digits

from .judged import temperature_in_range
from .reading import ReadingQuestion
from .statement import Statement


@dataclass(frozen=True, kw_only=True)
class ExpectedAnswer:
    """What a sensor should read at a temperature, before anything was read.

    Parameters
    ----------
    part_ohm : (low, high) or None
        What a new part reads; None where nobody knows its tolerance.
    machine_ohm : (low, high) or None
        What the machine accepts, where that is more.
    plug_v : float or None
        Volts at the plug, plugged in and powered, where the board is known.
    statements : tuple of Statement
        All of it, the resistance to expect first.
    """

    unit: str
    t_c: float
    digits: int
    r_ohm: float
    part_ohm: tuple[float, float] | None
    machine_ohm: tuple[float, float] | None
    plug_v: float | None
    statements: tuple[Statement, ...]


def expected_reading(question: ReadingQuestion) -> ExpectedAnswer:
    """Return what the sensor should read at the temperature typed; Refusal as answer_reading."""
    sensor = question.sensor
    at = temperature_in_range(sensor, text=question.at, unit=question.unit, tools=question.tools)
    curve = sensor.curve
    part_ohm = machine_ohm = None
    if curve.tolerance_known:
        part_ohm = (float(curve.low_ohm(at.t_c)), float(curve.high_ohm(at.t_c)))
    if sensor.allow_k > float(curve.tol_k(at.t_c)):
        ends = [
            float(curve.beyond_ohm(at.t_c + off_k)) for off_k in (-sensor.allow_k, sensor.allow_k)
        ]
        known = part_ohm or ()
        machine_ohm = (min(*ends, *known), max(*ends, *known))
    r_ohm = float(curve.r_ohm(at.t_c))
    plug_v = None
    if sensor.pull_up_ohm is not None and sensor.supply_v is not None:
        plug_v = float(
            volts_at_plug(r_ohm, supply_v=sensor.supply_v, pull_up_ohm=sensor.pull_up_ohm)
        )
    figures: dict[str, dict[str, object] | None] = {
        "reading.expect": {"r_ohm": r_ohm, "t_c": at.t_c},
        "reading.expect-part": {"part_ohm": part_ohm} if part_ohm else None,
        "reading.expect-machine": {"machine_ohm": machine_ohm, "allow_k": sensor.allow_k}
        if machine_ohm
        else None,
        "reading.expect-volts": {"plug_v": plug_v} if plug_v is not None else None,
    }
    return ExpectedAnswer(
        unit=at.unit,
        t_c=at.t_c,
        digits=ohm_digits(curve),
        r_ohm=r_ohm,
        part_ohm=part_ohm,
        machine_ohm=machine_ohm,
        plug_v=plug_v,
        statements=tuple(
            Statement(id=name, figures=known) for name, known in figures.items() if known
        ),
    )
