"""What a sister in the same cup reads, as typed: the temperature that this one is held to."""

from __future__ import annotations

import math

from kb.numbers.measured import Measured
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.sister import beside_sister

from .instruments import Tools
from .sensor_facts import SensorFacts
from .statement import Refusal, Statement
from .typed import typed_reading_ohm


def taken_beside_sister(sensor: SensorFacts, *, shown: Measured, tools: Tools) -> Measured:
    """Return a reading with the temperature of the sister beside it.

    Raises
    ------
    Refusal
        If the sister's reading is missing, unreadable or none of its curve, or if that curve is
        not at hand: another in its place would pass a wrong sensor.
    """
    if not tools.sister.strip():
        raise Refusal(Statement(id="field.sister-missing"), field="sister", missing=True)
    sister_ohm = typed_reading_ohm(tools.sister, field="sister")
    meter = tools.meter.meter if tools.meter else None
    curves = {"": sensor.curve, sensor.curve_id: sensor.curve, **sensor.family_curves}
    if tools.sister_curve not in curves:
        away = Statement(id="field.sister-curve-away")
        raise Refusal(away, field="sister", missing=True)
    off_curve = Refusal(Statement(id="field.sister-off-curve"), field="sister")
    if math.isinf(sister_ohm) or (meter and sister_ohm > meter.span_ohm):
        raise off_curve
    try:
        return beside_sister(
            shown,
            curve=sensor.curve,
            sister_ohm=sister_ohm,
            sister_curve=curves[tools.sister_curve],
            meter=meter,
            allow_k=sensor.allow_k,
        )
    except OutOfRange:
        raise off_curve from None


def sister_words(state: str, *, t_c: float) -> tuple[Statement, ...]:
    """Return what stands beside such a verdict: a sister is only as sound as she is."""
    held = Statement(id="reading.sister", figures={"t_c": t_c})
    return (held, Statement(id="reading.sister-or-this")) if state == "outside" else (held,)
