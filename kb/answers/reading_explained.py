"""What else would make a reading, and for each explanation the step that tells."""

from __future__ import annotations

from dataclasses import dataclass

from kb.numbers.any_temperature import explain_anywhere
from kb.numbers.explanations import Explanation, explain

from .judged import Judged
from .sensor_facts import SensorFacts
from .statement import Statement

EXPLAINED = ("outside", "off-curve", "short", "open")
"""Verdicts that ask for another explanation."""


@dataclass(frozen=True, kw_only=True)
class Explained:
    """Another explanation that fits, how to say it, and how to tell whether it is so."""

    explanation: Explanation
    statement: Statement
    tell: Statement


def what_else(sensor: SensorFacts, *, judged: Judged) -> tuple[Explained, ...]:
    """Return what else would explain it: the family's curves before others, series last."""
    if judged.verdict.verdict not in EXPLAINED:
        return ()
    found = (
        _anywhere(sensor, judged=judged) if judged.meets else _at_its_temperature(sensor, judged)
    )
    return tuple(
        Explained(
            explanation=explanation,
            statement=_explained(explanation, sensor=sensor),
            tell=_tell(explanation, sensor=sensor),
        )
        for explanation in found
    )


def _at_its_temperature(sensor: SensorFacts, judged: Judged) -> tuple[Explanation, ...]:
    own = explain(
        sensor.curve,
        measured=judged.measured,
        allow_k=sensor.allow_k,
        pull_up_ohm=sensor.pull_up_ohm,
        others=sensor.family_curves,
    )
    wider = explain(
        sensor.curve, measured=judged.measured, allow_k=sensor.allow_k, others=sensor.other_curves
    )
    series = [explanation for explanation in own if explanation.kind == "series-resistance"]
    near = [explanation for explanation in own if explanation.kind != "series-resistance"]
    far = [explanation for explanation in wider if explanation.kind == "other-curve"]
    return (*near, *far, *series)


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


def _kind(explanation: Explanation, *, sensor: SensorFacts) -> str:
    of_family = explanation.figures.get("curve") in sensor.labels
    return "family-curve" if of_family else explanation.kind


def _explained(explanation: Explanation, *, sensor: SensorFacts) -> Statement:
    kind, own = _kind(explanation, sensor=sensor), explanation.figures
    if kind == "series-resistance":
        figures: dict[str, object] = {"series_ohm": own["series_ohm"]}
        return Statement(id=f"explanation.{kind}", figures=figures)
    if kind == "board-alone":
        return Statement(id=f"explanation.{kind}", figures={"pull_up_ohm": own["pull_up_ohm"]})
    figures = {"t_implied_c": explanation.t_implied_c}
    if "times" in own:
        kind = f"{kind}-{'low' if float(own['times']) > 1 else 'high'}"
    elif kind == "plugged-in":
        figures |= {"sensor_ohm": own["sensor_ohm"], "pull_up_ohm": own["pull_up_ohm"]}
    else:
        figures["curve"] = str(own["curve"])
        if kind == "family-curve":
            figures["labels"] = list(sensor.labels[str(own["curve"])])
    if explanation.error_k is None:
        kind = f"{kind}-anywhere"
    else:
        figures["error_k"] = abs(explanation.error_k)
    return Statement(id=f"explanation.{kind}", figures=figures)


def _tell(explanation: Explanation, *, sensor: SensorFacts) -> Statement:
    """Return the step that tells whether an explanation holds."""
    kind = _kind(explanation, sensor=sensor)
    if kind == "family-curve":
        labels = list(sensor.labels[str(explanation.figures["curve"])])
        return Statement(id=f"tell.{kind}", figures={"labels": labels})
    return Statement(id=f"tell.{kind}")
