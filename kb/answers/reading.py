"""One reading of one sensor: is it right, what else would explain it, what follows?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from kb.numbers.measured import Measured
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.verdict import Verdict

from .instruments import Kit, Tools
from .judged import Judged, judge_typed, temperature_in_range
from .reading_earlier import Counted, EarlierReading, counted
from .reading_excluded import Excluded, UnderCode, what_is_excluded
from .reading_explained import Explained, what_else
from .reading_next import NextStep, next_step
from .reading_settling import Settling, what_settles
from .sensor_facts import SensorFacts
from .statement import Statement
from .typed import ICE, SISTER, typed_reading_ohm

CAUTIONS = ("sensor-unplugged", "maker-first")
"""What stands under every verdict on a sensor, by id."""
SAME_K = 0.005
"""Nearer to the temperature measured it is the same: nobody measures the next figure of either."""


@dataclass(frozen=True, kw_only=True)
class ReadingQuestion:
    """What was typed, with what, on which sensor.

    Parameters
    ----------
    reading, at : str
        As typed; `reading` may be over range (`OL`), `at` may be empty.
    unit : str
        What a bare temperature is in: "C" or "F".
    short_ohm : float
        Below this the team calls a reading a short.
    after_repair : bool
        A good reading is then a proof, not something to look into.
    code_instructions : tuple of str
        Which of when_good, … the suspect of the code has that the machine shows.
    earlier : tuple of EarlierReading
        Others of the same sensor, before a repair like this one: they help to explain it.
    kit : Kit
        What the team could take instead, where nothing is decided.
    under : UnderCode or None
        What the notes say of this sensor under the code that the machine shows.
    """

    sensor: SensorFacts
    reading: str
    at: str
    unit: str = "C"
    tools: Tools
    short_ohm: float | None = None
    after_repair: bool = False
    code_instructions: tuple[str, ...] = ()
    earlier: tuple[EarlierReading, ...] = ()
    kit: Kit = field(default_factory=Kit)
    under: UnderCode | None = None


@dataclass(frozen=True, kw_only=True)
class ReadingAnswer:
    """The verdict on a reading, and everything that follows from it.

    Parameters
    ----------
    state : str
        One of kb.numbers.verdict.VERDICTS.
    unit : str
        "C" or "F": the unit to answer in.
    t_c : float or None
        As read out of its field; None where it is empty and every temperature says the same.
    shown_ohm : float
        As read out of its field; the leads still in it.
    digits : int
        So many significant digits of ohms tell what a kelvin needs on this curve.
    measured : Measured or None
        What the verdict rests on; None without a temperature.
    headline : Statement
    beside : tuple of Statement
        Which of temperature and placement was not needed, where one was not given.
    excluded : Excluded or None
        Where the error may be, and what that rules out.
    counted : tuple of Statement
        Other readings that the explanations rest on too.
    settling : Settling or None
        What would decide it, where an uncertainty is why nothing was decided.
    next : NextStep
    cautions : tuple of str
        By id.
    """

    state: str
    unit: str
    t_c: float | None
    shown_ohm: float
    digits: int
    measured: Measured | None
    verdict: Verdict
    headline: Statement
    beside: tuple[Statement, ...]
    excluded: Excluded | None
    explanations: tuple[Explained, ...]
    counted: tuple[Statement, ...]
    settling: Settling | None
    next: NextStep
    cautions: tuple[str, ...] = CAUTIONS


def answer_reading(question: ReadingQuestion) -> ReadingAnswer:
    """Return the verdict on what was typed.

    Raises
    ------
    Refusal
        If a field is unreadable, or empty and something hangs on it, or could be read two ways, or
        curve or thermometer do not reach the temperature.
    """
    sensor, tools = question.sensor, question.tools
    if not question.reading.strip():
        # Nothing is missing but the reading only where the temperature can be taken.
        temperature_in_range(sensor, text=question.at, unit=question.unit, tools=tools)
    shown_ohm = typed_reading_ohm(question.reading, field="reading")
    judged = judge_typed(
        sensor,
        shown=tools.shown(shown_ohm),
        at=question.at,
        unit=question.unit,
        tools=tools,
        short_ohm=question.short_ohm,
    )
    verdict = judged.verdict
    others = _others(question, judged=judged)
    explanations = what_else(sensor, judged=judged, shown_ohm=shown_ohm, tools=tools, beside=others)
    return ReadingAnswer(
        state=verdict.verdict,
        unit=judged.at.unit if judged.at else question.unit,
        t_c=judged.at.t_c if judged.at else None,
        shown_ohm=shown_ohm,
        digits=ohm_digits(sensor.curve),
        measured=judged.measured if judged.at else None,
        verdict=verdict,
        headline=_headline(question, judged=judged, shown_ohm=shown_ohm),
        beside=judged.beside,
        excluded=what_is_excluded(sensor, judged=judged, under=question.under),
        explanations=explanations,
        counted=tuple(other.statement for other in others) if explanations else (),
        settling=_settling(question, judged=judged),
        next=next_step(
            verdict.verdict,
            explanations=explanations,
            twins=_twins(question, others=others),
            of_code=question.code_instructions,
            of_sensor=sensor.instructions,
            after_repair=question.after_repair,
        ),
    )


def _others(question: ReadingQuestion, *, judged: Judged) -> tuple[Counted, ...]:
    """Return which other readings count; after a repair none of before does."""
    if question.after_repair:
        return ()
    return counted(question.sensor, earlier=question.earlier, judged=judged)


def _twins(question: ReadingQuestion, *, others: Sequence[Counted]) -> tuple[str, ...]:
    """Return whose plug it may be; in a bath one sees which sensor it is.

    With a second reading an exchanged plug is among the explanations, or ruled out.
    """
    return () if others or question.tools.placement in (ICE, SISTER) else question.sensor.twins


def _settling(question: ReadingQuestion, *, judged: Judged) -> Settling | None:
    """Return what would settle it; without a temperature nothing is left to be settled."""
    if judged.at is None:
        return None
    return what_settles(
        question.sensor,
        verdict=judged.verdict,
        measured=judged.measured,
        tools=question.tools,
        kit=question.kit,
    )


def _headline(question: ReadingQuestion, *, judged: Judged, shown_ohm: float) -> Statement:
    curve, verdict = question.sensor.curve, judged.verdict
    state = verdict.verdict
    high_ohm = verdict.high_ohm if verdict.limit_known else verdict.low_ohm
    figures: dict[str, object] = {"shown_ohm": shown_ohm}
    if state == "open":
        return Statement(id="reading.open", figures={"expected_ohm": (verdict.low_ohm, high_ohm)})
    if state == "short":
        return Statement(id="reading.short", figures=figures)
    if state == "off-curve":
        figures |= {"low_c": curve.low_c, "high_c": curve.high_c}
        return Statement(id="reading.off-curve", figures=figures)
    compared = compared_headline(judged)
    if compared is not None:
        return compared
    meter = question.tools.meter
    figures = {"instrument": meter.name if meter else ""}
    figures["t_c"] = judged.at.t_c if judged.at else None
    return Statement(id="reading.over-range", figures=figures)


def compared_headline(judged: Judged) -> Statement | None:
    """Return how a temperature read compares with the one measured; None where none was read."""
    verdict = judged.verdict
    if verdict.t_implied_c is None or verdict.error_k is None:
        return None
    side = "colder" if verdict.error_k < 0 else "hotter"
    figures: dict[str, object] = {
        "t_implied_c": verdict.t_implied_c,
        "error_k": abs(verdict.error_k),
    }
    if judged.meets is not None:
        figures |= {"low_c": judged.meets.low_c, "high_c": judged.meets.high_c}
        return Statement(id=f"reading.outside-anywhere-{side}", figures=figures)
    state = verdict.verdict
    why = state if state != "undecided" or verdict.limit_known else "unknown-limit"
    figures["t_c"] = judged.at.t_c if judged.at else None
    if abs(verdict.error_k) < SAME_K and why != "outside":
        side = "same"
    return Statement(id=f"reading.{why}-{side}", figures=figures)
