"""What a motor's PTC loop may read at a temperature: limits, as it is a switch and no curve."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.numbers.switching_ptc import LOW_C, SwitchingPtc

from .statement import Refusal, Statement
from .typed import typed_temperature

CAUTIONS = ("loop-test-voltage",)
"""What stands under every loop's limits, by id."""


@dataclass(frozen=True, kw_only=True)
class LoopLimits:
    """The limits at one temperature; None where there is none."""

    unit: str
    t_c: float
    least_ohm: float | None
    most_ohm: float | None
    statement: Statement
    cautions: tuple[str, ...] = CAUTIONS


def loop_limits(text: str, *, loop: SwitchingPtc, unit: str = "C") -> LoopLimits:
    """Return what a loop may read at the temperature typed.

    Raises
    ------
    Refusal
        If the temperature is missing or unreadable, or no limit holds there.
    """
    at = typed_temperature(text, field="at", unit=unit)
    hold_limits_at(at.t_c)
    least_ohm, most_ohm = loop.limits_ohm(at.t_c)
    figures: dict[str, object] = {"t_c": at.t_c}
    name = "limit-none"
    if least_ohm:
        name, figures = "limit-least", figures | {"least_ohm": least_ohm}
    elif math.isfinite(most_ohm):
        name, figures = "limit-most", figures | {"most_ohm": most_ohm}
    return LoopLimits(
        unit=at.unit,
        t_c=at.t_c,
        least_ohm=least_ohm or None,
        most_ohm=None if math.isinf(most_ohm) else most_ohm,
        statement=Statement(id=f"curve.{name}", figures=figures),
    )


def hold_limits_at(t_c: float) -> None:
    """Refuse a temperature at which the standard sets a loop no limit."""
    if t_c < LOW_C:
        figures = {"t_c": t_c, "low_c": LOW_C}
        raise Refusal(Statement(id="field.beyond-loop", figures=figures), field="at")
