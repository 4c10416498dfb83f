"""What the controller itself shows for a sensor, held against the thermometer beside it."""

from __future__ import annotations

from dataclasses import dataclass

from kb.numbers.verdict import expanded_k, guard_banded_decision, rectangular

from .instruments import Tools
from .judged import Judged, judge_typed, temperature_in_range
from .sensor_facts import SensorFacts
from .statement import Refusal, Statement
from .typed import typed_reading_ohm, typed_temperature

BOARD_K = 1.0
"""How far a sound board may turn a resistance into a wrong figure. Common practice, no source."""
DISPLAY_HALF_K = 0.5
"""Controllers show whole or half degrees. Common practice, no source."""
CAUTIONS = ("maker-first",)
"""What stands under every answer, by id."""


@dataclass(frozen=True, kw_only=True)
class ControllerQuestion:
    """What was typed, on which sensor.

    Parameters
    ----------
    shown, at : str
        What the controller shows and what the thermometer beside the sensor shows, as typed.
    reading : str
        The sensor's resistance, unplugged, at the same temperature; "" where it was not read.
    """

    sensor: SensorFacts
    shown: str
    at: str
    unit: str = "C"
    reading: str = ""
    tools: Tools
    short_ohm: float | None = None


@dataclass(frozen=True, kw_only=True)
class ControllerAnswer:
    """Whether controller and thermometer agree, and whose fault it is where they do not.

    Parameters
    ----------
    state : str
        "agrees", "stands-out" or "undecided".
    off_k, limit_k, uncertainty_k : float
        What it shows less what was measured; what sensor and board may be off together; U.
    whose : Statement or None
        What the sensor's own reading says of it, or how to find out; None where they agree.
    """

    state: str
    unit: str
    t_c: float
    shown_c: float
    off_k: float
    limit_k: float
    uncertainty_k: float
    headline: Statement
    whose: Statement | None
    cautions: tuple[str, ...] = CAUTIONS


def answer_controller(question: ControllerQuestion) -> ControllerAnswer:
    """Return how the controller's figure stands to the thermometer.

    Raises
    ------
    Refusal
        If a field is empty or cannot be read, or it was not said how the temperature was taken.
    """
    sensor = question.sensor
    if not question.shown.strip():
        raise Refusal(Statement(id="controller.shown-missing"), field="shown", missing=True)
    shown = typed_temperature(question.shown, field="shown", unit=question.unit)
    at = temperature_in_range(sensor, text=question.at, unit=question.unit, tools=question.tools)
    taken = question.tools.take(0.0, t_c=at.t_c)
    own_k = max(float(sensor.curve.tol_k(at.t_c)), sensor.allow_k)
    limit_k = own_k + BOARD_K
    uncertainty_k = expanded_k(
        rectangular(taken.thermometer_half_k),
        rectangular(taken.placement_half_k),
        rectangular(DISPLAY_HALF_K),
    )
    off_k = shown.t_c - at.t_c
    known = sensor.curve.tolerance_known or sensor.allow_k > 0
    decision = int(guard_banded_decision(off_k, limit=limit_k, uncertainty=uncertainty_k))
    state = {1: "agrees", -1: "stands-out"}.get(decision, "undecided") if known else "undecided"
    figures: dict[str, object] = {"shown_c": shown.t_c, "off_k": abs(off_k), "t_c": at.t_c}
    headline = state if known else "undecided-limit"
    return ControllerAnswer(
        state=state,
        unit=at.unit,
        t_c=at.t_c,
        shown_c=shown.t_c,
        off_k=off_k,
        limit_k=limit_k,
        uncertainty_k=uncertainty_k,
        headline=Statement(id=f"controller.{headline}", figures=figures),
        whose=None if state == "agrees" else _whose(question, shown_c=shown.t_c),
    )


def _whose(question: ControllerQuestion, *, shown_c: float) -> Statement:
    """Return what the sensor's own reading says, or that it has to be read."""
    if not question.reading.strip():
        return Statement(id="controller.next-read")
    judged = judge_typed(
        question.sensor,
        shown=question.tools.shown(typed_reading_ohm(question.reading, field="reading")),
        at=question.at,
        unit=question.unit,
        tools=question.tools,
        short_ohm=question.short_ohm,
    )
    t_implied_c = judged.verdict.t_implied_c
    if t_implied_c is None:
        return Statement(id="controller.sensor-faulty")
    kind = "both-differ"
    if abs(shown_c - t_implied_c) <= _may_differ_k(judged):
        kind = "follows-sensor"
    elif judged.verdict.verdict == "within":
        kind = "board-differs"
    return Statement(id=f"controller.{kind}", figures={"t_implied_c": t_implied_c})


def _may_differ_k(judged: Judged) -> float:
    """How far a sound board may be from what was read: its own error, meter, curve, display."""
    terms_k = judged.verdict.terms_k
    return BOARD_K + expanded_k(terms_k["meter"], terms_k["curve"], rectangular(DISPLAY_HALF_K))
