"""One reading of a motor's PTC loop: it is a switch with limits, and stands for no temperature."""

from __future__ import annotations

from dataclasses import dataclass

from kb.numbers.loop_verdict import LoopVerdict, judge_loop
from kb.numbers.switching_ptc import SwitchingPtc

from .instruments import Tools
from .reading_next import INSTRUCTIONS
from .statement import Refusal, Statement
from .typed import typed_reading_ohm, typed_temperature

CAUTIONS = ("loop-test-voltage", "sensor-unplugged", "maker-first")
"""What stands under every verdict on a loop, by id."""


@dataclass(frozen=True, kw_only=True)
class LoopQuestion:
    """What was typed, with what, on which loop.

    Parameters
    ----------
    loop : SwitchingPtc
    reading, at : str
        As typed.
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
    expected : Statement
        What it should read, with its limit.
    instruction : str
        The entry's field that says what to do, or "".
    """

    state: str
    unit: str
    t_c: float
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
    at = typed_temperature(question.at, field="at", unit=question.unit)
    shown_ohm = typed_reading_ohm(question.reading, field="reading")
    measured = question.tools.take(shown_ohm, t_c=at.t_c)
    try:
        verdict = judge_loop(question.loop, measured=measured, short_ohm=question.short_ohm)
    except ValueError as error:
        statement = Statement(id="field.beyond-loop", figures={"why": str(error)})
        raise Refusal(statement, field="at") from None
    names = (name for name in INSTRUCTIONS[verdict.verdict] if name in question.instructions)
    return LoopAnswer(
        state=verdict.verdict,
        unit=at.unit,
        t_c=at.t_c,
        shown_ohm=shown_ohm,
        verdict=verdict,
        headline=_headline(verdict, t_c=at.t_c, shown_ohm=shown_ohm),
        expected=_expected(verdict, in_series=question.loop.in_series),
        instruction=next(names, ""),
    )


def _expected(verdict: LoopVerdict, *, in_series: int) -> Statement:
    if verdict.low_ohm is not None:
        return Statement(id="loop.expect-tripped", figures={"low_ohm": verdict.low_ohm})
    if verdict.high_ohm is not None:
        figures = {"high_ohm": verdict.high_ohm, "in_series": in_series}
        return Statement(id="loop.expect-cold", figures=figures)
    return Statement(id="loop.expect-anything")


def _headline(verdict: LoopVerdict, *, t_c: float, shown_ohm: float) -> Statement:
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
    if verdict.low_ohm is None and verdict.high_ohm is None:
        return Statement(id="loop.switching", figures={"t_c": t_c})
    if verdict.dominant is None:
        return Statement(id="loop.over-range")
    return Statement(id=f"loop.close-{verdict.dominant}")
