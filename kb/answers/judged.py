"""Judge what was taken: at its temperature, or without one where all say the same."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.numbers.any_temperature import Meets, judge_anywhere, meets_on
from kb.numbers.measured import Measured
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.placement import PLACEMENTS
from kb.numbers.verdict import Verdict, judge

from .instruments import Tools
from .reading_sister import sister_words, taken_beside_sister
from .sensor_facts import SensorFacts
from .statement import Refusal, Statement
from .typed import ICE, SISTER, TypedTemperature, placed_temperature


@dataclass(frozen=True, kw_only=True)
class Judged:
    """A verdict, and what it needed.

    Parameters
    ----------
    at : TypedTemperature or None
        None where no temperature was needed.
    measured : Measured
        What the verdict rests on; its temperature counts only where there is one.
    meets : Meets or None
        The temperatures that it holds for, where none was needed.
    any_placement : bool
        True where it was not said how the temperature was taken, and nothing hangs on it.
    by_sister : bool
        True where it was held against a sister in the same cup.
    """

    verdict: Verdict
    at: TypedTemperature | None
    measured: Measured
    meets: Meets | None = None
    any_placement: bool = False
    by_sister: bool = False

    @property
    def beside(self) -> tuple[Statement, ...]:
        """What was not needed, or took a thermometer's place, in so many words."""
        if self.meets is not None:
            figures = {"low_c": self.meets.low_c, "high_c": self.meets.high_c}
            return (Statement(id="reading.anywhere", figures=figures),)
        if self.by_sister:
            return sister_words(self.verdict.verdict, t_c=self.measured.t_c)
        return (Statement(id="reading.any-placement"),) if self.any_placement else ()


def judge_typed(
    sensor: SensorFacts,
    *,
    shown: Measured,
    at: str,
    unit: str,
    tools: Tools,
    short_ohm: float | None = None,
) -> Judged:
    """Return the verdict on a resistance.

    Parameters
    ----------
    sensor : SensorFacts
    shown : Measured
        The resistance with its errors, yet without a temperature (`Tools.shown`).
    at, unit : str
        The temperature as typed, or nothing; what a bare one is in.
    tools : Tools
    short_ohm : float, optional

    Raises
    ------
    Refusal
        If temperature or placement decides and is not given, or the temperature cannot be taken.
    """
    if tools.placement == SISTER:
        return _beside_sister(sensor, shown=shown, unit=unit, tools=tools, short_ohm=short_ohm)
    if not at.strip() and tools.placement != ICE:
        return _anywhere(sensor, shown=shown, short_ohm=short_ohm)
    taken_at = temperature_in_range(sensor, text=at, unit=unit, tools=tools)

    def judged(placement: str) -> Judged:
        measured = tools.taken_at(shown, t_c=taken_at.t_c, placement=placement)
        verdict = judge(
            sensor.curve, measured=measured, allow_k=sensor.allow_k, short_ohm=short_ohm
        )
        return Judged(
            verdict=verdict, at=taken_at, measured=measured, any_placement=not tools.placement
        )

    if tools.placement:
        return judged(tools.placement)
    # The closest first: what holds with it and with the last holds with all between.
    closest, *_, farthest = PLACEMENTS
    widest = judged(farthest)
    same = judged(closest).verdict.verdict == widest.verdict.verdict
    if not same or widest.verdict.settling is not None:
        raise Refusal(Statement(id="field.placement-missing"), field="how", missing=True)
    return widest


def _beside_sister(
    sensor: SensorFacts, *, shown: Measured, unit: str, tools: Tools, short_ohm: float | None
) -> Judged:
    measured = taken_beside_sister(sensor, shown=shown, tools=tools)
    return Judged(
        verdict=judge(sensor.curve, measured=measured, allow_k=sensor.allow_k, short_ohm=short_ohm),
        at=TypedTemperature(t_c=measured.t_c, unit=unit),
        measured=measured,
        by_sister=True,
    )


def _anywhere(sensor: SensorFacts, *, shown: Measured, short_ohm: float | None) -> Judged:
    meets = meets_on(sensor.curve, meets_c=sensor.meets_c)
    if meets is not None:
        verdict = judge_anywhere(
            sensor.curve, measured=shown, meets=meets, allow_k=sensor.allow_k, short_ohm=short_ohm
        )
        if verdict is not None:
            return Judged(verdict=verdict, at=None, measured=shown, meets=meets)
    raise Refusal(Statement(id="field.temperature-decides"), field="at", missing=True)


def temperature_in_range(
    sensor: SensorFacts, *, text: str, unit: str, tools: Tools
) -> TypedTemperature:
    """Return the temperature typed, or the sister's, in the curve's range; Refusal elsewhere."""
    if tools.placement == SISTER:
        nothing = tools.shown(math.inf)
        sister = taken_beside_sister(sensor, shown=nothing, tools=tools)
        return TypedTemperature(t_c=sister.t_c, unit=unit)
    at = placed_temperature(text, field="at", placement=tools.placement, unit=unit)
    curve = sensor.curve
    try:
        curve.r_ohm(at.t_c)
    except OutOfRange:
        figures = {
            "curve": sensor.curve_id,
            "t_c": at.t_c,
            "low_c": curve.low_c,
            "high_c": curve.high_c,
        }
        raise Refusal(Statement(id="field.beyond-curve", figures=figures), field="at") from None
    return at
