"""One reading of a motor's PTC loop: it is a switch with limits, and stands for no temperature."""

from __future__ import annotations

from dataclasses import dataclass, replace

from kb.numbers.loop_verdict import LoopVerdict, judge_loop
from kb.numbers.switching_ptc import COLD_K, LOW_C, SHORTED_OHM, SwitchingPtc

from .instruments import Tools
from .loop_limits import hold_limits_at
from .reading_next import INSTRUCTIONS
from .statement import Statement
from .typed import TypedTemperature, typed_reading_ohm, typed_temperature

CAUTIONS = ("loop-wires-off", "loop-test-voltage", "maker-first")
"""What stands under every verdict on a loop, by id."""


LOW = ("short", "usual")
"""Why nothing is decided of a loop that reads little, whatever its temperature."""


@dataclass(frozen=True, kw_only=True)
class LoopQuestion:
    """What was typed, with what, on which loop.

    Parameters
    ----------
    loop : SwitchingPtc
    reading, at : str
        As typed; without a temperature it is told what holds in a cold motor.
    unit : str
        What a bare temperature is in: "C" or "F".
    short_ohm : float
        Below this the team calls a reading a short.
    instructions : tuple of str
        Which of when_good, when_bad, … the sensor's entry has.
    """

    loop: SwitchingPtc
    reading: str
    at: str
    unit: str = "C"
    tools: Tools
    short_ohm: float
    instructions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class LoopAnswer:
    """The verdict on a loop's reading.

    Parameters
    ----------
    state : str
        "within", "outside", "undecided", "open" or "short".
    t_c : float or None
    expected : Statement
        What it should read, with its limit.
    instruction : str
        The entry's field that says what to do, or "".
    """

    state: str
    unit: str
    t_c: float | None
    shown_ohm: float
    verdict: LoopVerdict
    headline: Statement
    expected: Statement
    instruction: str
    cautions: tuple[str, ...] = CAUTIONS


def answer_loop(question: LoopQuestion) -> LoopAnswer:
    """Return the verdict on what was typed.

    Raises
    ------
    Refusal
        If a field is empty or unreadable, or no limit holds at that temperature.
    """
    at = _temperature(question)
    shown_ohm = typed_reading_ohm(question.reading, field="reading")
    if at is None:
        verdict, headline = _at_any_warmth(question, shown_ohm=shown_ohm)
    else:
        verdict = _judged(question, shown_ohm=shown_ohm, t_c=at.t_c)
        headline = _headline(verdict, loop=question.loop, t_c=at.t_c, shown_ohm=shown_ohm)
    names = (name for name in INSTRUCTIONS[verdict.verdict] if name in question.instructions)
    return LoopAnswer(
        state=verdict.verdict,
        unit=question.unit if at is None else at.unit,
        t_c=None if at is None else at.t_c,
        shown_ohm=shown_ohm,
        verdict=verdict,
        headline=headline,
        expected=_expected(verdict, in_series=question.loop.in_series, cold=at is None),
        instruction=next(names, ""),
    )


def _temperature(question: LoopQuestion) -> TypedTemperature | None:
    if not question.at.strip():
        return None
    return typed_temperature(question.at, field="at", unit=question.unit)


def _judged(question: LoopQuestion, *, shown_ohm: float, t_c: float) -> LoopVerdict:
    measured = question.tools.take(shown_ohm, t_c=t_c)
    hold_limits_at(t_c)
    return judge_loop(question.loop, measured=measured, short_ohm=question.short_ohm)


def _at_any_warmth(question: LoopQuestion, *, shown_ohm: float) -> tuple[LoopVerdict, Statement]:
    """Return what a reading tells where nobody took the motor's temperature.

    Notes
    -----
    A cold loop has one limit from −20 °C up to 20 K below its response. What is more than that may
    be a hot motor's, which has tripped: that stays open. A short, and less than such loops usually
    read, are so at any temperature.
    """
    cold_c = question.loop.trip_c - COLD_K
    # The limit is the same all over that range, so no error of a temperature counts.
    meter_alone = replace(question.tools, thermometer=None, placement="held-on")
    measured = replace(meter_alone.take(shown_ohm, t_c=cold_c), placement_half_k=0.0)
    cold = judge_loop(question.loop, measured=measured, short_ohm=question.short_ohm)
    figures: dict[str, object] = {"shown_ohm": shown_ohm, "low_c": LOW_C, "high_c": cold_c}
    if cold.verdict == "short" or cold.dominant in LOW:
        return cold, _headline(cold, loop=question.loop, t_c=cold_c, shown_ohm=shown_ohm)
    if cold.verdict == "within":
        return cold, Statement(id="loop.within-cold", figures=figures)
    name = "close-cold" if cold.verdict == "undecided" else "more-than-cold"
    statement = Statement(id=f"loop.{name}", figures={"shown_ohm": shown_ohm})
    return replace(cold, verdict="undecided", dominant=None), statement


def _expected(verdict: LoopVerdict, *, in_series: int, cold: bool) -> Statement:
    if verdict.low_ohm is not None:
        return Statement(id="loop.expect-tripped", figures={"low_ohm": verdict.low_ohm})
    if verdict.high_ohm is not None:
        figures = {"high_ohm": verdict.high_ohm, "in_series": in_series}
        return Statement(id=f"loop.expect-{'cold-motor' if cold else 'cold'}", figures=figures)
    return Statement(id="loop.expect-anything")


def _headline(
    verdict: LoopVerdict, *, loop: SwitchingPtc, t_c: float, shown_ohm: float
) -> Statement:
    figures: dict[str, object] = {"shown_ohm": shown_ohm, "t_c": t_c}
    if verdict.verdict == "within":
        return Statement(id="loop.within", figures=figures)
    if verdict.verdict == "outside":
        # Where it has a highest resistance it must conduct; where it has a least it must block.
        way = "high" if verdict.high_ohm is not None else "low"
        return Statement(id=f"loop.outside-{way}", figures=figures)
    if verdict.verdict == "open":
        return Statement(id="loop.open", figures={"high_ohm": verdict.high_ohm})
    if verdict.verdict == "short":
        return Statement(id="loop.short", figures={"shown_ohm": shown_ohm})
    if verdict.dominant in LOW:
        figures = {
            "shown_ohm": shown_ohm,
            "shorted_ohm": SHORTED_OHM,
            "usual_ohm": loop.usual_least_ohm,
            "in_series": loop.in_series,
        }
        return Statement(id=f"loop.close-{verdict.dominant}", figures=figures)
    if verdict.low_ohm is None and verdict.high_ohm is None:
        return Statement(id="loop.switching", figures={"t_c": t_c})
    if verdict.dominant is None:
        return Statement(id="loop.over-range")
    return Statement(id=f"loop.close-{verdict.dominant}")
