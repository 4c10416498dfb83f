"""What to do after a verdict: what tells first, then the words of the code or of the sensor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .reading_explained import Explained
from .statement import Statement

INSTRUCTIONS: Mapping[str, tuple[str, ...]] = {
    "within": ("when_good",),
    "outside": ("when_bad",),
    "off-curve": ("when_bad",),
    "open": ("when_open", "when_bad"),
    "short": ("when_short", "when_bad"),
    "undecided": (),
}
"""Verdict → the entry's fields that say what to do; the first that the entry has."""
SLIPS = (
    "tell.plugged-in",
    "tell.board-alone",
    "tell.unit-slip",
    "tell.factor-ten",
    "tell.fahrenheit",
)
"""What explains all of a reading without another sensor."""
OWN_STEPS = {"open": "when_open", "short": "when_short"}
"""Verdict → the field without which the trade's usual steps come first."""


@dataclass(frozen=True, kw_only=True)
class NextStep:
    """What to do now.

    Parameters
    ----------
    first : tuple of Statement
        What tells whether another explanation holds, or the trade's usual steps: before anything
        is replaced. Where there is any, the instruction holds only if the reading stays so.
    instruction : str
        The entry's field that says what to do, `proved` after a repair, or "".
    whose : str
        Whose field it is: "code", "sensor", or "" where it is nobody's.
    """

    first: tuple[Statement, ...]
    instruction: str
    whose: str


def next_step(
    state: str,
    *,
    explanations: Sequence[Explained],
    twins: Sequence[str] = (),
    of_code: Sequence[str],
    of_sensor: Sequence[str],
    after_repair: bool,
) -> NextStep:
    """Return what follows from a verdict.

    Parameters
    ----------
    state : str
        The verdict.
    explanations : sequence of Explained
    twins : sequence of str
        Labels of the sensors whose plug would read like this one's, each at a place of its own.
    of_code, of_sensor : sequence of str
        Which instructions the code's suspect and the sensor have; the code's come first, since
        what a reading means for the machine depends on what the machine complains of.
    after_repair : bool
        A good reading is then a proof, not something to look into.
    """
    if state == "within" and after_repair:
        return NextStep(first=(), instruction="proved", whose="")
    instruction, whose = _instruction(state, of_code=of_code, of_sensor=of_sensor)
    first: list[Statement] = []
    of_family = any(explained.tell.id == "tell.family-curve" for explained in explanations)
    for explained in explanations:
        # Where a part of the family would fit, what tells of it tells of any other part too.
        covered = of_family and explained.tell.id == "tell.other-curve"
        if explained.tell not in first and not covered:
            first.append(explained.tell)
    slipped = any(explained.tell.id in SLIPS for explained in explanations)
    if state == "outside" and twins and not slipped:
        same = Statement(id="tell.same-curve", figures={"labels": list(twins)})
        first.extend([] if same in first else [same])
    if state in OWN_STEPS and instruction != OWN_STEPS[state]:
        first.append(Statement(id=f"tell.default-{state}"))
    return NextStep(first=tuple(first), instruction=instruction, whose=whose)


def _instruction(
    state: str, *, of_code: Sequence[str], of_sensor: Sequence[str]
) -> tuple[str, str]:
    for name in INSTRUCTIONS[state]:
        if name in of_code:
            return name, "code"
        if name in of_sensor:
            return name, "sensor"
    return "", ""
