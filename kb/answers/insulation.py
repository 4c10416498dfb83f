"""A part's insulation to earth: by its own limit first, never tested too high, at any warmth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from kb.numbers.insulation import HIGH_C, LOW_C, InsulationVerdict, judge_insulation
from kb.numbers.winding_value import TEMPERATURE_HALF_K

from .insulation_damp import typed_damp
from .insulation_statements import (
    Shown,
    check_line,
    insulation_beside,
    insulation_headline,
    insulation_notes,
    read_line,
)
from .insulation_tested import InsulationFacts, NamedTester, Tested, tested
from .insulation_watched import watched
from .statement import Refusal, Statement
from .typed import TypedTemperature, typed_temperature


@dataclass(frozen=True, kw_only=True)
class InsulationQuestion:
    """What was typed for a part's insulation.

    Parameters
    ----------
    volts, reading, at : str
        As typed: direct test voltage, what the tester shows after one minute, the temperature;
        this may be empty, then a winding is told what holds whatever it is.
    unit : str
        What a bare temperature is in: "C" or "F".
    testers : sequence of NamedTester
        Those of the notes.
    tester : str
        The id of the one used; "" for the notes' only one of that voltage.
    air, humidity, surface : str
        As typed: temperature and relative humidity of the air there; "wet", "dry" or "".
    at_15s, at_30s, at_10min, trend : str
        As typed: what the tester showed then; "rising", "flat", "falling" or "".
    """

    part: InsulationFacts
    volts: str
    reading: str
    at: str
    unit: str = "C"
    testers: Sequence[NamedTester] = field(default=())
    tester: str = ""
    air: str = ""
    humidity: str = ""
    surface: str = ""
    at_15s: str = ""
    at_30s: str = ""
    at_10min: str = ""
    trend: str = ""


@dataclass(frozen=True, kw_only=True)
class InsulationAnswer:
    """The verdict on an insulation reading.

    Parameters
    ----------
    state : str
        "within", "outside" or "undecided", by the part's own limit; "" where that waits for the
        temperature. Too little on a wet surface is undecided.
    t_c : float or None
    over_range : bool
        It is then judged as the most that the tester can show.
    r_ohm : float
        As read; infinity over range.
    verdict : InsulationVerdict
        The part's own limit first, then the standard's where it applies; no check of a winding
        whose temperature nobody took.
    dew_c : float or None
        Dew point of the air in °C.
    surface : str
        "seen" to be wet or dirty, "wet" or "near" by the dew point, "dry" or "".
    trend : str
        "rising", "flat", "falling" or "".
    ratio : float or None
        Ten minutes to one.
    headline : Statement
    beside : tuple of Statement
        What the standard would say, where it would say something else; that it fell.
    checks : tuple of Statement
        Each limit with its verdict.
    read : Statement
        What was read, at which voltage, with what.
    notes : tuple of Statement
        How it was brought to another temperature, and what to mind before it is believed.
    """

    state: str
    unit: str
    t_c: float | None
    volts: float
    over_range: bool
    r_ohm: float
    verdict: InsulationVerdict
    dew_c: float | None
    surface: str
    trend: str
    ratio: float | None
    headline: Statement
    beside: tuple[Statement, ...]
    checks: tuple[Statement, ...]
    read: Statement
    notes: tuple[Statement, ...]


def answer_insulation(question: InsulationQuestion) -> InsulationAnswer:
    """Return the verdict on what was typed.

    Raises
    ------
    Refusal
        First if the part may not be tested so; then if a field is empty or unreadable, or what
        was read depends on a temperature that is not there.

    Notes
    -----
    Over range counts as the most that the tester can show: that may be too little to tell, and is
    never too low. Of a tester that nobody knows it tells nothing.
    """
    part = question.part
    test = tested(
        part,
        volts=question.volts,
        reading=question.reading,
        testers=question.testers,
        tester=question.tester,
    )
    at = _temperature(question)
    t_c = None if at is None else at.t_c
    verdict = _verdict(part, test=test, t_c=t_c)
    shown = _shown(question, test=test, t_c=t_c, verdict=verdict)
    return InsulationAnswer(
        state=shown.state,
        unit=question.unit if at is None else at.unit,
        t_c=t_c,
        volts=test.volts,
        over_range=test.over_range,
        r_ohm=math.inf if test.over_range else test.r_ohm,
        verdict=verdict,
        dew_c=shown.damp.dew_c,
        surface=shown.damp.surface,
        trend=shown.seen.trend,
        ratio=shown.seen.ratio,
        headline=insulation_headline(shown),
        beside=insulation_beside(shown),
        checks=tuple(check_line(shown, check=check) for check in verdict.checks),
        read=read_line(shown),
        notes=insulation_notes(shown),
    )


def _shown(
    question: InsulationQuestion, *, test: Tested, t_c: float | None, verdict: InsulationVerdict
) -> Shown:
    """Return the test with its verdict, the surface it was read on, and how it moved."""
    damp = typed_damp(
        air=question.air,
        humidity=question.humidity,
        surface=question.surface,
        unit=question.unit,
        winding_c=t_c,
    )
    seen = watched(
        question.part,
        test=test,
        early=(question.at_15s, question.at_30s),
        late=question.at_10min,
        trend=question.trend,
        at_40_ohm=verdict.at_40_ohm,
    )
    return Shown(part=question.part, test=test, t_c=t_c, verdict=verdict, damp=damp, seen=seen)


def _temperature(question: InsulationQuestion) -> TypedTemperature | None:
    if not question.at.strip():
        return None
    return typed_temperature(question.at, field="at", unit=question.unit)


def _verdict(part: InsulationFacts, *, test: Tested, t_c: float | None) -> InsulationVerdict:
    if t_c is not None:
        return _judged(part, test=test, t_c=t_c, t_half_k=TEMPERATURE_HALF_K if part.wound else 0.0)
    if not part.wound:
        return _judged(part, test=test, t_c=part.limit_c)
    return _at_any_warmth(part, test=test)


def _at_any_warmth(part: InsulationFacts, *, test: Tested) -> InsulationVerdict:
    """Return what a winding's reading tells whatever its temperature is.

    Notes
    -----
    Insulation reads less the hotter it is, and no correction holds below LOW_C and above HIGH_C:
    what is enough at the one is enough from there up, what is too little at the other is too
    little up to there. That is said, and is no verdict yet. Nothing at all is too little anywhere.
    """
    coldest = _judged(part, test=test, t_c=LOW_C).state
    hottest = _judged(part, test=test, t_c=HIGH_C).state
    untold = InsulationVerdict(at_40_ohm=None, beyond="", state="", checks=())
    if test.r_ohm == 0:
        return replace(untold, state="outside")
    if test.over_range and test.used is None:
        return replace(untold, state="undecided")
    if coldest == "within":
        return replace(untold, beyond="cold")
    if hottest == "outside":
        return replace(untold, beyond="hot")
    raise Refusal(Statement(id="insulation.temperature-missing"), field="at", missing=True)


def _judged(
    part: InsulationFacts, *, test: Tested, t_c: float, t_half_k: float = 0.0
) -> InsulationVerdict:
    if not LOW_C <= part.limit_c <= HIGH_C:
        figures = {"limit_c": part.limit_c, "low_c": LOW_C, "high_c": HIGH_C}
        raise Refusal(Statement(id="insulation.limit-uncorrected", figures=figures))
    verdict = judge_insulation(
        test.most_ohm if test.over_range else test.r_ohm,
        # The correction is one for windings; a heater or a valve is held to its limit as read.
        t_c=t_c if part.wound else part.limit_c,
        material=part.material,
        percent=0.0 if test.over_range or test.used is None else test.used.percent,
        t_half_k=t_half_k,
        part_min_ohm=part.min_ohm,
        part_limit_c=part.limit_c,
        winding=part.winding,
    )
    checks = verdict.checks if part.wound else verdict.checks[:1]
    if test.over_range:
        enough = "within" if test.used else "undecided"
        checks = tuple(
            replace(check, state=enough if check.state == "within" else "undecided")
            for check in checks
        )
    return InsulationVerdict(
        at_40_ohm=verdict.at_40_ohm if part.wound else None,
        beyond=verdict.beyond,
        state=checks[0].state,
        checks=checks,
    )
