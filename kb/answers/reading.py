"""One reading of one sensor: is it right, what else would explain it, what follows?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from kb.numbers.characteristic import Characteristic
from kb.numbers.divider import volts_at_plug
from kb.numbers.explanations import Explanation, explain
from kb.numbers.grid import Grid
from kb.numbers.measured import Measured
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.verdict import Verdict, judge

from .instruments import Kit, Tools
from .reading_settling import Settling, what_settles
from .statement import Refusal, Statement
from .typed import TypedTemperature, typed_reading_ohm, typed_temperature

Curve = Characteristic | Grid

EXPLAINED = ("outside", "off-curve", "short", "open")
"""Verdicts that ask for another explanation."""
CAUTIONS = ("sensor-unplugged", "maker-first")
"""What stands under every verdict on a sensor, by id."""
INSTRUCTIONS: Mapping[str, tuple[str, ...]] = {
    "within": ("when_good",),
    "outside": ("when_bad",),
    "off-curve": ("when_bad",),
    "open": ("when_open", "when_bad"),
    "short": ("when_short", "when_bad"),
    "undecided": (),
}
"""Verdict → the entry's fields that say what to do; the first that the entry has."""


@dataclass(frozen=True, kw_only=True)
class SensorFacts:
    """What an entry says of a sensor, or of a bare curve: no words, only what decides.

    Parameters
    ----------
    curve : Characteristic or Grid
    curve_id : str
    allow_k : float
        What the machine tolerates in K; 0 for no word on it.
    pull_up_ohm, supply_v : float or None
        The board's pull-up in Ω and what it feeds through it, where the entry knows them.
    instructions : tuple of str
        Which of when_good, when_bad, when_open, when_short the entry has.
    family_curves : mapping of curve id to curve
        Those of the family's other sensors.
    labels : mapping of curve id to labels
        Which sensors of the family have it.
    other_curves : mapping of curve id to curve
        Those of the notes beyond the family.
    """

    curve: Curve
    curve_id: str
    allow_k: float = 0.0
    pull_up_ohm: float | None = None
    supply_v: float | None = None
    instructions: tuple[str, ...] = ()
    family_curves: Mapping[str, Curve] = field(default_factory=dict)
    labels: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    other_curves: Mapping[str, Curve] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class ReadingQuestion:
    """What was typed, with what, on which sensor.

    Parameters
    ----------
    reading, at : str
        As typed; `reading` may be over range (`OL`).
    unit : str
        What a bare temperature is in: "C" or "F".
    short_ohm : float
        Below this the team calls a reading a short.
    after_repair : bool
        A good reading is then a proof, not something to look into.
    kit : Kit
        What the team could take instead, where nothing is decided.
    """

    sensor: SensorFacts
    reading: str
    at: str
    unit: str = "C"
    tools: Tools
    short_ohm: float | None = None
    after_repair: bool = False
    kit: Kit = field(default_factory=Kit)


@dataclass(frozen=True, kw_only=True)
class Explained:
    """Another explanation that fits, and how to say it."""

    explanation: Explanation
    statement: Statement


@dataclass(frozen=True, kw_only=True)
class ReadingAnswer:
    """The verdict on a reading, and everything that follows from it.

    Parameters
    ----------
    state : str
        One of kb.numbers.verdict.VERDICTS.
    unit : str
        "C" or "F": the unit to answer in.
    t_c, shown_ohm : float
        As read out of the fields; the leads still in it.
    digits : int
        So many significant digits of ohms tell what a kelvin needs on this curve.
    headline : Statement
    settling : Settling or None
        What would decide it, where an uncertainty is why nothing was decided.
    instruction : str
        The entry's field that says what to do, `proved` after a repair, or "".
    cautions : tuple of str
        By id.
    """

    state: str
    unit: str
    t_c: float
    shown_ohm: float
    digits: int
    measured: Measured
    verdict: Verdict
    headline: Statement
    explanations: tuple[Explained, ...]
    settling: Settling | None
    instruction: str
    cautions: tuple[str, ...] = CAUTIONS


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


def ohm_digits(curve: Curve) -> int:
    """Return how many digits of ohms tell what a kelvin needs.

    Metal changes by a third of a per cent per kelvin, an NTC by four per cent: one digit more.
    """
    return 4 if curve.falling else 5


def answer_reading(question: ReadingQuestion) -> ReadingAnswer:
    """Return the verdict on what was typed.

    Raises
    ------
    Refusal
        If a field is empty or unreadable, or curve or thermometer do not reach the temperature.
    """
    sensor = question.sensor
    at = _temperature(question)
    shown_ohm = typed_reading_ohm(question.reading, field="reading")
    measured = question.tools.take(shown_ohm, t_c=at.t_c)
    verdict = judge(
        sensor.curve, measured=measured, allow_k=sensor.allow_k, short_ohm=question.short_ohm
    )
    return ReadingAnswer(
        state=verdict.verdict,
        unit=at.unit,
        t_c=at.t_c,
        shown_ohm=shown_ohm,
        digits=ohm_digits(sensor.curve),
        measured=measured,
        verdict=verdict,
        headline=_headline(question, verdict=verdict, t_c=at.t_c, shown_ohm=shown_ohm),
        explanations=_explanations(sensor, verdict=verdict, measured=measured),
        settling=what_settles(verdict, measured=measured, tools=question.tools, kit=question.kit),
        instruction=_instruction(question, state=verdict.verdict),
    )


def expected_reading(question: ReadingQuestion) -> ExpectedAnswer:
    """Return what the sensor should read at the temperature typed; Refusal as answer_reading."""
    sensor, at = question.sensor, _temperature(question)
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


def _temperature(question: ReadingQuestion) -> TypedTemperature:
    """Return the temperature typed, inside the curve's range."""
    at = typed_temperature(question.at, field="at", unit=question.unit)
    curve = question.sensor.curve
    try:
        curve.r_ohm(at.t_c)
    except OutOfRange:
        figures = {
            "curve": question.sensor.curve_id,
            "t_c": at.t_c,
            "low_c": curve.low_c,
            "high_c": curve.high_c,
        }
        raise Refusal(Statement(id="field.beyond-curve", figures=figures), field="at") from None
    return at


def _headline(
    question: ReadingQuestion, *, verdict: Verdict, t_c: float, shown_ohm: float
) -> Statement:
    curve, state = question.sensor.curve, verdict.verdict
    high_ohm = verdict.high_ohm if verdict.limit_known else verdict.low_ohm
    figures: dict[str, object] = {"t_c": t_c, "shown_ohm": shown_ohm}
    if state == "open":
        return Statement(id="reading.open", figures={"expected_ohm": (verdict.low_ohm, high_ohm)})
    if state == "short":
        return Statement(id="reading.short", figures={"shown_ohm": shown_ohm})
    if state == "off-curve":
        figures = {"shown_ohm": shown_ohm, "low_c": curve.low_c, "high_c": curve.high_c}
        return Statement(id="reading.off-curve", figures=figures)
    if verdict.t_implied_c is None or verdict.error_k is None:
        meter = question.tools.meter
        figures = {"instrument": meter.name if meter else "", "t_c": t_c}
        return Statement(id="reading.over-range", figures=figures)
    side = "colder" if verdict.error_k < 0 else "hotter"
    why = state if state != "undecided" or verdict.limit_known else "unknown-limit"
    figures = {"t_implied_c": verdict.t_implied_c, "error_k": abs(verdict.error_k), "t_c": t_c}
    return Statement(id=f"reading.{why}-{side}", figures=figures)


def _explanations(
    sensor: SensorFacts, *, verdict: Verdict, measured: Measured
) -> tuple[Explained, ...]:
    """Return what else would explain it: the family's curves before others, series last."""
    if verdict.verdict not in EXPLAINED:
        return ()
    own = explain(
        sensor.curve,
        measured=measured,
        allow_k=sensor.allow_k,
        pull_up_ohm=sensor.pull_up_ohm,
        others=sensor.family_curves,
    )
    wider = explain(
        sensor.curve, measured=measured, allow_k=sensor.allow_k, others=sensor.other_curves
    )
    series = [explanation for explanation in own if explanation.kind == "series-resistance"]
    near = [explanation for explanation in own if explanation.kind != "series-resistance"]
    far = [explanation for explanation in wider if explanation.kind == "other-curve"]
    return tuple(
        Explained(explanation=explanation, statement=_explained(explanation, sensor=sensor))
        for explanation in (*near, *far, *series)
    )


def _explained(explanation: Explanation, *, sensor: SensorFacts) -> Statement:
    kind, own = explanation.kind, explanation.figures
    figures: dict[str, object] = {
        "t_implied_c": explanation.t_implied_c,
        "error_k": abs(explanation.error_k),
    }
    if "times" in own:
        kind = f"{kind}-{'low' if float(own['times']) > 1 else 'high'}"
    elif kind == "plugged-in":
        figures |= {"sensor_ohm": own["sensor_ohm"], "pull_up_ohm": own["pull_up_ohm"]}
    elif kind == "series-resistance":
        figures = {"series_ohm": own["series_ohm"]}
    else:
        curve = str(own["curve"])
        figures["curve"] = curve
        if curve in sensor.labels:
            kind = "family-curve"
            figures["labels"] = list(sensor.labels[curve])
    return Statement(id=f"explanation.{kind}", figures=figures)


def _instruction(question: ReadingQuestion, *, state: str) -> str:
    if state == "within" and question.after_repair:
        return "proved"
    found = (name for name in INSTRUCTIONS[state] if name in question.sensor.instructions)
    return next(found, "")
