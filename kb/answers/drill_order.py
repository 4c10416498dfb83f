"""Drills that are put in order: which suspect first, and what makes a machine safe."""

from __future__ import annotations

from collections.abc import Sequence

from kb.numbers.rounding import format_plain
from kb.numbers.seeded import Seeded

from .drill import Drill, choices_of, different_words, unstopped
from .drill_notes import DrillCode, DrillFamily, DrillNotes
from .statement import Statement

FEWEST_SUSPECTS = 3
MOST_SUSPECTS = 5
"""More to order than fit on a phone beside each other."""


def to_order(notes: DrillNotes) -> list[DrillCode]:
    """Return the codes with enough suspects to order."""
    return [code for code in notes.codes if len(code.suspects) >= FEWEST_SUSPECTS]


def order_of_checks(code: DrillCode, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: in which order would you check? Share by minutes, the largest first.

    The figures are those of `kb.numbers.check_order`, which has its reason.
    """
    first = code.suspects[:MOST_SUSPECTS]
    shuffled = draw.shuffled(list(range(len(first))))
    choices = tuple(
        Statement(
            id="drill.suspect",
            figures={
                "what": first[place].name,
                "part_share": first[place].share,
                "minutes": first[place].minutes,
            },
        )
        for place in shuffled
    )
    return Drill(
        kind="order",
        form="order",
        family=code.family,
        about=f"codes/{code.id}",
        ask=Statement(id="drill.ask-order", figures={"code": code.name}),
        choices=choices,
        right=tuple(shuffled.index(place) for place in range(len(first))),
        because=(Statement(id="drill.because-order"),),
    )


def to_make_safe(notes: DrillNotes) -> list[DrillFamily]:
    """Return the families; each says how it is made safe."""
    return list(notes.families)


def what_is_safe_first(family: DrillFamily, *, notes: DrillNotes, draw: Seeded) -> Drill:
    """Return: in which order is it made safe, where is it isolated, how long is the wait?"""
    others = [other for other in notes.families if other.id != family.id]
    ways = ["steps"]
    if different_words(family.isolate_at, others=[other.isolate_at for other in others]):
        ways.append("isolate")
    waits = _waits(others)
    if not family.no_charge and different_words(_minutes(family), others=waits):
        ways.append("wait")
    way = draw.chosen(ways)
    if way == "steps":
        return _steps(family, draw=draw)
    right = family.isolate_at if way == "isolate" else _minutes(family)
    wrong = [other.isolate_at for other in others] if way == "isolate" else waits
    choices, place = choices_of(right, others=wrong, draw=draw)
    return Drill(
        kind="safe",
        form="choice",
        family=family.id,
        about=f"families/{family.id}",
        ask=Statement(id=f"drill.ask-{way}", figures={"family": family.name}),
        choices=choices,
        right=place,
        because=_made_safe(family),
    )


def _waits(families: Sequence[DrillFamily]) -> list[str]:
    return [_minutes(family) for family in families if not family.no_charge]


def _minutes(family: DrillFamily) -> str:
    """Return the wait as plain digits: the word beside it stands in the question."""
    return format_plain(family.drain_min)


def _steps(family: DrillFamily, *, draw: Seeded) -> Drill:
    """Return the steps to put in order: five rules' first three, then the charge, then the work.

    Source: DIN VDE 0105-100, five safety rules, from memory; the charge by the family's entry.
    """
    steps = [
        Statement(id="drill.step-isolate", figures={"isolate_at": family.isolate_at}),
        Statement(id="drill.step-lock"),
        Statement(id="drill.step-dead"),
        *([] if family.no_charge else [_wait(family)]),
        Statement(
            id="drill.step-measure",
            figures={"volts": family.drained_below_v, "drain_at": family.drain_at},
        ),
        Statement(id="drill.step-work"),
    ]
    shuffled = draw.shuffled(list(range(len(steps))))
    return Drill(
        kind="safe",
        form="order",
        family=family.id,
        about=f"families/{family.id}",
        ask=Statement(id="drill.ask-steps", figures={"family": family.name}),
        choices=tuple(steps[place] for place in shuffled),
        right=tuple(shuffled.index(place) for place in range(len(steps))),
        because=_made_safe(family),
    )


def _wait(family: DrillFamily) -> Statement:
    return Statement(id="drill.step-wait", figures={"minutes": family.drain_min})


def _made_safe(family: DrillFamily) -> tuple[Statement, ...]:
    figures: dict[str, object] = {
        "isolate_at": unstopped(family.isolate_at),
        "volts": family.drained_below_v,
        "drain_at": unstopped(family.drain_at),
    }
    if family.no_charge:
        figures["no_charge"] = unstopped(family.no_charge)
        return (Statement(id="drill.because-no-charge", figures=figures),)
    figures["minutes"] = family.drain_min
    return (Statement(id="drill.because-safe", figures=figures),)
