"""What else would make a reading, and for each explanation the step that tells."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from kb.numbers.any_temperature import explain_anywhere
from kb.numbers.explanations import Explanation
from kb.numbers.likely_faults import Known, explain

from .instruments import Tools
from .judged import Judged
from .reading_earlier import Counted
from .sensor_facts import SensorFacts
from .statement import Statement
from .typed import ICE, SISTER

EXPLAINED = ("outside", "off-curve", "short", "open")
"""Verdicts that ask for another explanation."""
APART_K = 15.0
"""So far off a second temperature tells ohms from a drift: common practice, no source."""
OHMS_BESIDE = ("series-resistance", "leak")
"""Causes that stay the same ohms at another temperature."""


@dataclass(frozen=True, kw_only=True)
class Explained:
    """Another explanation that fits, how to say it, and how to tell whether it is so."""

    explanation: Explanation
    statement: Statement
    tell: Statement


def what_else(
    sensor: SensorFacts,
    *,
    judged: Judged,
    shown_ohm: float,
    tools: Tools,
    beside: Sequence[Counted] = (),
) -> tuple[Explained, ...]:
    """Return what else would explain it, the likeliest first.

    Parameters
    ----------
    sensor : SensorFacts
    judged : Judged
    shown_ohm : float
        As typed, leads included: a figure beyond what the meter can show is a slip.
    tools : Tools
        In ice nobody typed a temperature.
    beside : sequence of Counted
        Other readings of the same sensor that count.
    """
    if judged.verdict.verdict not in EXPLAINED:
        return ()
    # One sees which sensor is in a cup: no plug of another place is read there.
    in_cup = tools.placement in (ICE, SISTER)
    sensor = replace(sensor, labels={}, twins=()) if in_cup else sensor
    if judged.at is None:
        found = _anywhere(sensor, judged=judged)
    else:
        known = Known(
            curve=sensor.curve,
            allow_k=sensor.allow_k,
            pull_up_ohm=sensor.pull_up_ohm,
            family=sensor.family_curves,
            others=sensor.other_curves,
            unit="" if in_cup else judged.at.unit,
            has_twins=bool(sensor.twins),
        )
        first = judged.measured
        if math.isinf(first.r_ohm):
            first = first.read_as(shown_ohm, meter_half_ohm=0.0)
        found = explain(known, readings=(first, *(other.measured for other in beside)))
    return tuple(
        Explained(
            explanation=explanation,
            statement=_explained(explanation, sensor=sensor, judged=judged),
            tell=_tell(explanation, sensor=sensor),
        )
        for explanation in found
    )


def _anywhere(sensor: SensorFacts, *, judged: Judged) -> tuple[Explanation, ...]:
    """Without a temperature some curve of the notes always fits: the family's alone count."""
    if judged.meets is None:
        return ()
    return explain_anywhere(
        sensor.curve,
        measured=judged.measured,
        meets=judged.meets,
        pull_up_ohm=sensor.pull_up_ohm,
        others=sensor.family_curves,
    )


def _curves(explanation: Explanation) -> list[str]:
    """Return the curves that it names: one without a temperature, else all that fit alike."""
    curves = explanation.figures.get("curves")
    if isinstance(curves, tuple):
        return list(curves)
    return [str(explanation.figures["curve"])] if "curve" in explanation.figures else []


def _labels(explanation: Explanation, *, sensor: SensorFacts) -> list[str]:
    """Return which of the family's sensors have one of its curves."""
    labels = (sensor.labels.get(curve, ()) for curve in _curves(explanation))
    return [label for of_curve in labels for label in of_curve]


def _explained(explanation: Explanation, *, sensor: SensorFacts, judged: Judged) -> Statement:
    kind, own = explanation.kind, explanation.figures
    if kind == "several":
        causes = [_explained(cause, sensor=sensor, judged=judged) for cause in explanation.causes]
        return Statement(id="explanation.several", figures={"causes": causes})
    figures: dict[str, object] = {}
    if explanation.t_implied_c is not None:
        figures["t_implied_c"] = explanation.t_implied_c
    for name in ("series_ohm", "leak_ohm", "sensor_ohm", "pull_up_ohm", "at_c"):
        if name in own:
            figures[name] = own[name]
    if "times" in own:
        kind = f"{kind}-{'low' if float(str(own['times'])) > 1 else 'high'}"
    elif kind == "fahrenheit":
        kind = f"fahrenheit-{judged.at.unit.lower() if judged.at else 'c'}"
    elif kind == "leak" and sensor.pull_up_ohm is None:
        kind = "leak-plugged"
    elif kind == "exchanged":
        figures["labels"] = list(sensor.twins)
    elif kind == "other-curve":
        figures["curves"] = _curves(explanation)
        labels = _labels(explanation, sensor=sensor)
        if labels:
            kind, figures["labels"] = "family-curve", labels
    if explanation.error_k is not None:
        figures["error_k"] = abs(explanation.error_k)
    elif explanation.t_implied_c is not None:
        kind = f"{kind}-anywhere"
    return Statement(id=f"explanation.{kind}", figures=figures)


def _tell(explanation: Explanation, *, sensor: SensorFacts) -> Statement:
    """Return the step that tells whether an explanation holds."""
    kind = explanation.kind
    labels = _labels(explanation, sensor=sensor)
    if kind == "other-curve" and labels:
        return Statement(id="tell.family-curve", figures={"labels": labels})
    if kind == "exchanged":
        return Statement(id="tell.same-curve", figures={"labels": list(sensor.twins)})
    if kind == "several":
        ohms = [cause.kind for cause in explanation.causes if cause.kind in OHMS_BESIDE]
        return Statement(
            id=f"tell.several-{ohms[0] if ohms else 'other'}", figures={"apart_k": APART_K}
        )
    return Statement(id=f"tell.{kind}")
