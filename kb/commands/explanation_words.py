"""Other explanations of a reading, in words: what would have to be so, and what it would mean."""

from __future__ import annotations

from collections.abc import Mapping

from kb.numbers.explanations import Explanation
from kb.numbers.rounding import format_ohm

from .arguments import Temperature


def explanation_words(one: Explanation, *, at: Temperature, labels: Mapping[str, str]) -> str:
    """Return one explanation in a sentence.

    Parameters
    ----------
    one : Explanation
    at : Temperature
        The temperature measured; its unit is used.
    labels : mapping of curve to labels
        The family's other sensors.
    """
    there = f"{at.degrees(one.t_implied_c)}, {at.apart(one.error_k)} off"
    told = one.figures
    if one.kind == "unit-slip":
        typed, meant = ("ohms", "kilohms") if told["times"] > 1 else ("kilohms", "ohms")
        return f"{typed} typed where the meter showed {meant}: {there}"
    if one.kind == "factor-ten":
        way = "low" if told["times"] > 1 else "high"
        return f"a decimal point misread, ten times too {way}: {there}"
    if one.kind == "plugged-in":
        return (
            f"still plugged in: {format_ohm(told['sensor_ohm'])} beside the board's "
            f"{format_ohm(told['pull_up_ohm'])} pull-up: {there}"
        )
    if one.kind == "series-resistance":
        return f"{format_ohm(told['series_ohm'], digits=2)} in series, as of a bad contact or joint"
    curve = told["curve"]
    if curve in labels:
        return f"the curve of {labels[curve]} ({curve}): wrong part, or plugs exchanged: {there}"
    return f"another part, on the curve {curve}: {there}"
