"""Volts at a sensor's plug, plugged in and powered: does the board see a sound sensor?"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from kb.numbers.measured import Measured
from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.plug_volts import (
    PULL_UP_SHARE,
    SUPPLY_SHARE,
    VOLTMETER_SHARE,
    PlugReading,
    sensor_at_plug,
    voltmeter_half_v,
)
from kb.numbers.verdict import Verdict

from .instruments import Tools
from .judged import Judged, judge_typed
from .reading import compared_headline
from .sensor_facts import SensorFacts
from .statement import Refusal, Statement

CAUTIONS = ("live-work", "maker-first")
"""What stands under every verdict on volts, by id."""

SUPPLY_OFF_SHARE = 0.1
"""So far off the notes, what a board feeds is itself a fault. Common practice, no source."""

_VOLTS = re.compile(r"-?(\d*)(?:[.,](\d*))? ?(m?)V?", re.IGNORECASE | re.ASCII)


@dataclass(frozen=True, kw_only=True)
class PlugQuestion:
    """What was typed, on which sensor, whose board is known.

    Parameters
    ----------
    volts : str
        At the plug, plugged in and powered, as typed.
    supply : str
        At the plug with nothing in it, as typed; "" takes the notes' word for it.
    at, unit : str
        The temperature as typed, which may be empty; what a bare one is in.
    """

    sensor: SensorFacts
    volts: str
    supply: str = ""
    at: str = ""
    unit: str = "C"
    tools: Tools
    short_ohm: float | None = None


@dataclass(frozen=True, kw_only=True)
class PlugAnswer:
    """The verdict on volts at a plug.

    Parameters
    ----------
    state : str
        One of kb.numbers.verdict.VERDICTS.
    means : Statement
        Which resistance the volts stand for.
    rests_on : Statement
        What the verdict takes for granted.
    beside : tuple of Statement
        As of a reading.
    next : Statement
    """

    state: str
    unit: str
    t_c: float | None
    shown_v: float
    digits: int
    plug: PlugReading
    verdict: Verdict
    headline: Statement
    means: Statement
    rests_on: Statement
    beside: tuple[Statement, ...]
    next: Statement
    cautions: tuple[str, ...] = CAUTIONS


def answer_plug_volts(question: PlugQuestion) -> PlugAnswer:
    """Return the verdict on what was typed.

    Raises
    ------
    Refusal
        If a field cannot be read, the board is not known, or its volts exceed what it feeds.
    """
    sensor = question.sensor
    shown_v, supply_v, plug = _at_plug(question)
    figures: dict[str, object] = {
        "shown_v": shown_v,
        "supply_v": supply_v,
        "pull_up_ohm": sensor.pull_up_ohm,
    }
    shown = Measured(
        r_ohm=plug.r_ohm, t_c=0.0, meter_half_ohm=plug.half_ohm, meter_span_ohm=plug.reach_ohm
    )
    judged = judge_typed(
        sensor,
        shown=shown,
        at=question.at,
        unit=question.unit,
        tools=question.tools,
        short_ohm=question.short_ohm,
    )
    state = judged.verdict.verdict
    return PlugAnswer(
        state=state,
        unit=judged.at.unit if judged.at else question.unit,
        t_c=judged.at.t_c if judged.at else None,
        shown_v=shown_v,
        digits=ohm_digits(sensor.curve),
        plug=plug,
        verdict=judged.verdict,
        headline=_headline(judged, sensor=sensor, figures=figures),
        means=_means(plug, figures=figures),
        rests_on=_rests_on(measured=bool(question.supply.strip())),
        beside=judged.beside,
        next=_next(state, supply_v=supply_v, noted_v=sensor.supply_v),
    )


def _at_plug(question: PlugQuestion) -> tuple[float, float, PlugReading]:
    """Return the volts as typed, those that the board feeds, and the sensor they stand for."""
    sensor = question.sensor
    if sensor.pull_up_ohm is None or sensor.supply_v is None:
        raise Refusal(Statement(id="volts.no-board"), field="volts")
    shown_v, half_v = typed_volts(question.volts, field="volts")
    supply_v, supply_half_v = sensor.supply_v, sensor.supply_v * SUPPLY_SHARE
    if question.supply.strip():
        supply_v, supply_half_v = typed_volts(question.supply, field="supply")
        if supply_v <= supply_half_v:
            raise Refusal(Statement(id="volts.no-supply"), field="supply")
    try:
        plug = sensor_at_plug(
            shown_v,
            half_v=half_v,
            supply_v=supply_v,
            supply_half_v=supply_half_v,
            pull_up_ohm=sensor.pull_up_ohm,
        )
    except ValueError:
        figures: dict[str, object] = {"shown_v": shown_v, "supply_v": supply_v}
        raise Refusal(Statement(id="volts.above-supply", figures=figures), field="volts") from None
    return shown_v, supply_v, plug


def _next(state: str, *, supply_v: float, noted_v: float | None) -> Statement:
    """Return what to do: whatever the sensor does, a board that feeds something else is first."""
    if noted_v is not None and abs(supply_v - noted_v) > SUPPLY_OFF_SHARE * noted_v:
        return Statement(id="volts.next-supply", figures={"supply_v": supply_v, "noted_v": noted_v})
    return Statement(id=f"volts.next-{state if state in ('within', 'undecided') else 'wrong'}")


def typed_volts(text: str, *, field: str) -> tuple[float, float]:
    """Return volts, whichever way round the tips were, and their half-width."""
    tidy = text.replace("−", "-").replace("–", "-").strip()
    if not tidy:
        raise Refusal(Statement(id="volts.missing"), field=field, missing=True)
    found = _VOLTS.fullmatch(tidy)
    if not found or not (found[1] or found[2]):
        raise Refusal(Statement(id="volts.unreadable", figures={"typed": text}), field=field)
    times = 1e-3 if found[3] else 1.0
    volts = float(f"{found[1] or '0'}.{found[2] or '0'}") * times
    # Typed without decimals the last place is a tenth all the same: nobody reads whole volts here.
    decimals = len(found[2] or "") or (0 if found[3] else 1)
    return volts, voltmeter_half_v(volts, digit_v=10.0**-decimals * times)


def _headline(judged: Judged, *, sensor: SensorFacts, figures: dict[str, object]) -> Statement:
    state = judged.verdict.verdict
    if state in ("open", "short", "off-curve"):
        return Statement(id=f"volts.{state}", figures=figures)
    return compared_headline(judged) or Statement(id="volts.beyond", figures=figures)


def _means(plug: PlugReading, *, figures: dict[str, object]) -> Statement:
    if plug.r_ohm == 0 or math.isinf(plug.r_ohm):
        return Statement(id="volts.means-end", figures=figures)
    return Statement(id="volts.means", figures={**figures, "r_ohm": plug.r_ohm})


def _rests_on(*, measured: bool) -> Statement:
    figures: dict[str, object] = {
        "voltmeter_share": VOLTMETER_SHARE,
        "pull_up_share": PULL_UP_SHARE,
    }
    if measured:
        return Statement(id="volts.rests-on-measured", figures=figures)
    figures["supply_share"] = SUPPLY_SHARE
    return Statement(id="volts.rests-on", figures=figures)
