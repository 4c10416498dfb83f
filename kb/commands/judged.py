"""One reading judged, with what else would explain it: ready for words or for JSON."""

from __future__ import annotations

from dataclasses import dataclass

from kb.characteristics import characteristic_of
from kb.model import Curve, Sensor, Team
from kb.model.curve import SwitchingPtc as SwitchingPtcCurve
from kb.notes.load import Notes
from kb.numbers.characteristic import Characteristic
from kb.numbers.explanations import Explanation, explain
from kb.numbers.loop_verdict import LoopVerdict, judge_loop
from kb.numbers.measured import Measured
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.switching_ptc import SwitchingPtc
from kb.numbers.verdict import Verdict
from kb.numbers.verdict import judge as judged_reading

from .arguments import Temperature
from .explanation_words import explanation_words
from .instruments_used import Used
from .options import Asked, NoAnswer

EXPLAINED = ("outside", "off-curve", "short", "open")
"""Verdicts that ask for another explanation."""


@dataclass(frozen=True, kw_only=True)
class Judged:
    """One reading, judged on a curve.

    Parameters
    ----------
    shown_ohm : float
        As the meter showed it, leads included.
    explanations : tuple of Explanation
        Curves of the sensor's own family before others of the notes.
    labels : dict of str to str
        Curve → labels of this family's sensors that have it.
    """

    asked: Asked
    curve: Characteristic
    at: Temperature
    shown_ohm: float
    measured: Measured
    used: Used
    verdict: Verdict
    explanations: tuple[Explanation, ...]
    labels: dict[str, str]


@dataclass(frozen=True, kw_only=True)
class JudgedLoop:
    """One reading of a motor's PTC loop, judged on its limits."""

    asked: Asked
    loop: SwitchingPtc
    at: Temperature
    shown_ohm: float
    measured: Measured
    used: Used
    verdict: LoopVerdict


def judged(notes: Notes, asked: Asked, *, at: Temperature, r_ohm: float, tools: Used) -> Judged:
    """Return the verdict on one reading, with what else would explain it.

    Raises
    ------
    NoAnswer
        If the curve does not compute or does not hold at that temperature.
    """
    curve = computed(asked.curve)
    measured = tools.took(r_ohm, at=at)
    sensor = asked.sensor
    allow_k = (sensor.allow_k or 0.0) if sensor else 0.0
    try:
        verdict = judged_reading(
            curve, measured=measured, allow_k=allow_k, short_ohm=team_short_ohm(notes)
        )
    except OutOfRange as error:
        raise NoAnswer(
            f"the curve '{curve.id}' holds from {at.degrees(error.low)} to "
            f"{at.degrees(error.high)}, not at {at}; measure at a temperature inside"
        ) from None
    found: tuple[Explanation, ...] = ()
    labels = _labels(notes, sensor)
    if verdict.verdict in EXPLAINED:
        pull_up_ohm = sensor.board_input.pull_up_ohm if sensor and sensor.board_input else None
        found = _explained(
            notes,
            curve,
            measured=measured,
            allow_k=allow_k,
            pull_up_ohm=pull_up_ohm,
            family=[*labels],
        )
    return Judged(
        asked=asked,
        curve=curve,
        at=at,
        shown_ohm=r_ohm,
        measured=measured,
        used=tools,
        verdict=verdict,
        explanations=found,
        labels=labels,
    )


def loop_judged(
    notes: Notes, asked: Asked, *, at: Temperature, r_ohm: float, tools: Used
) -> JudgedLoop:
    """Return the verdict on a motor's PTC loop."""
    entry = asked.curve
    assert isinstance(entry, SwitchingPtcCurve)
    loop = SwitchingPtc(trip_c=entry.trip_c, in_series=entry.in_series)
    measured = tools.took(r_ohm, at=at)
    try:
        verdict = judge_loop(loop, measured=measured, short_ohm=team_short_ohm(notes))
    except ValueError as error:
        raise NoAnswer(str(error)) from None
    return JudgedLoop(
        asked=asked,
        loop=loop,
        at=at,
        shown_ohm=r_ohm,
        measured=measured,
        used=tools,
        verdict=verdict,
    )


def computed(curve: Curve) -> Characteristic:
    """Return a curve ready to compute, or NoAnswer with what to do."""
    try:
        found = characteristic_of(curve)
    except ValueError as error:
        raise NoAnswer(
            f"the curve '{curve.id}' does not compute: {error}; see 'ohmfolio check'"
        ) from None
    if found is None:
        raise NoAnswer(
            f"'{curve.id}' is a switching PTC: it has limits and no curve; "
            "see 'ohmfolio expect' and 'ohmfolio judge'"
        )
    return found


def as_dict(one: Judged) -> dict[str, object]:
    """Return what `judge --json` promises; a figure that nobody knows is null."""
    v = one.verdict
    known = v.limit_known
    return {
        "verdict": v.verdict,
        "t_implied_c": v.t_implied_c,
        "error_k": v.error_k,
        "limit_k": v.limit_k if known else None,
        "uncertainty_k": v.uncertainty_k,
        "dominant": v.dominant,
        "low_ohm": v.low_ohm if known else None,
        "high_ohm": v.high_ohm if known else None,
        "explanations": [
            {**other.as_dict(), "text": explanation_words(other, at=one.at, labels=one.labels)}
            for other in one.explanations
        ],
    }


def loop_as_dict(one: JudgedLoop) -> dict[str, object]:
    """Return the same shape for a loop, which stands for no temperature."""
    return {
        "verdict": one.verdict.verdict,
        "t_implied_c": None,
        "error_k": None,
        "limit_k": None,
        "uncertainty_k": None,
        "dominant": one.verdict.dominant,
        "low_ohm": one.verdict.low_ohm,
        "high_ohm": one.verdict.high_ohm,
        "explanations": [],
    }


def team_short_ohm(notes: Notes) -> float:
    """Return the ohms below which the team calls a reading a short."""
    # A team file with a fault leaves the field's own default.
    default = Team.model_fields["short_below_ohm"].default
    return notes.team.short_below_ohm if notes.team else float(default)


def _labels(notes: Notes, sensor: Sensor | None) -> dict[str, str]:
    if sensor is None:
        return {}
    found: dict[str, list[str]] = {}
    for other in notes.of(Sensor).values():
        if other.family == sensor.family and other.curve and other.id != sensor.id:
            found.setdefault(other.curve, []).append(other.label)
    return {curve: ", ".join(sorted(labels)) for curve, labels in found.items()}


def _explained(
    notes: Notes,
    curve: Characteristic,
    *,
    measured: Measured,
    allow_k: float,
    pull_up_ohm: float | None,
    family: list[str],
) -> tuple[Explanation, ...]:
    others = {name: one for name, one in curves_that_compute(notes).items() if name != curve.id}
    near = {name: one for name, one in others.items() if name in family}
    far = {name: one for name, one in others.items() if name not in family}
    own = explain(curve, measured=measured, allow_k=allow_k, pull_up_ohm=pull_up_ohm, others=near)
    wider = explain(curve, measured=measured, allow_k=allow_k, others=far)
    return (
        *(one for one in own if one.kind != "series-resistance"),
        *(one for one in wider if one.kind == "other-curve"),
        *(one for one in own if one.kind == "series-resistance"),
    )


def curves_that_compute(notes: Notes) -> dict[str, Characteristic]:
    """Return every curve of the notes that computes; `check` says what is wrong with the rest."""
    found = {}
    for entry in notes.of(Curve).values():
        try:
            curve = characteristic_of(entry)
        except ValueError:
            continue
        if curve is not None:
            found[entry.id] = curve
    return found
