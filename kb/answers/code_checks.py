"""What to do on a code: what to check in which order, how long, and what must be said with it.

A page has its answer ready-made from the build, so no script mirrors this.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kb.numbers.rounding import format_whole

from .statement import Statement

CAUTIONS = ("isolate-first", "maker-first")
"""What stands on every code, by id: before the checks, and last."""
LIVE_CAUTIONS = ("live-work",)
"""Of a check that has to be made live."""
STEPS = ("rule_out", "trip", "clear", "afterwards")
"""The entry's fields that follow the checks, in this order."""


@dataclass(frozen=True, kw_only=True)
class StoredCharge:
    """What a family says of its stored charge.

    Parameters
    ----------
    wait_min : float
        Minutes until it has drained.
    drained_v : float
        Below this many volts it has.
    nothing_stored : str
        Why there is none; "" where there is.
    """

    wait_min: float
    drained_v: float
    nothing_stored: str = ""


@dataclass(frozen=True, kw_only=True)
class RankedSuspect:
    """One suspect in its place of the order.

    Parameters
    ----------
    sensor, part, what : str or None
        One of them: an id, or words of what is neither sensor nor part.
    place : int
        Where the entry names it, from 0.
    share : float
        How likely it is, of one.
    minutes : float
        To check it.
    cases, of_cases : int
        So often it was the cause, of so many past jobs.
    live : bool
        Whether the check is made live.
    why, instead : str
        Of a sensor that cannot be tested: why, and what to do instead; else "".
    """

    place: int
    sensor: str | None = None
    part: str | None = None
    what: str | None = None
    share: float
    minutes: float
    cases: int
    of_cases: int
    live: bool = False
    why: str = ""
    instead: str = ""


@dataclass(frozen=True, kw_only=True)
class CodeFacts:
    """What a code's entry, its family's and the past jobs say.

    Parameters
    ----------
    suspects : sequence of RankedSuspect
        First the one to check first.
    expected_min : float
        Minutes until it is found in this order.
    asks : mapping of str to bool
        Whether `code` and `family` have steps that make the machine name the fault.
    fields : sequence of str
        Those of STEPS that the entry has.
    """

    suspects: Sequence[RankedSuspect]
    expected_min: float
    charge: StoredCharge
    asks: Mapping[str, bool]
    fields: Sequence[str]


@dataclass(frozen=True, kw_only=True)
class Check:
    """One check of the order.

    Parameters
    ----------
    likely : Statement
        How likely, how long, how often before.
    untestable : Statement or None
        Where no meter can test it: why, and what to do instead.
    cautions : tuple of str
        Beside this check alone, by id.
    """

    suspect: RankedSuspect
    likely: Statement
    untestable: Statement | None
    cautions: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CodeAnswer:
    """What to do on a code, in the order in which it is done.

    Parameters
    ----------
    charge : Statement
        What to do about stored charge, after isolating.
    ask : str
        Whose steps make the machine name the fault: "code", "family", or "" where nobody's do.
    expected : Statement
        The minutes until it is found.
    steps : tuple of str
        The entry's fields that follow the checks.
    cautions : tuple of str
        By id.
    """

    charge: Statement
    ask: str
    checks: tuple[Check, ...]
    expected_min: float
    expected: Statement
    steps: tuple[str, ...]
    cautions: tuple[str, ...] = CAUTIONS


def answer_code(facts: CodeFacts) -> CodeAnswer:
    """Return what to do on a code."""
    return CodeAnswer(
        charge=_charge(facts.charge),
        ask=next((whose for whose in ("code", "family") if facts.asks.get(whose)), ""),
        checks=tuple(_check(suspect) for suspect in facts.suspects),
        expected_min=facts.expected_min,
        expected=Statement(
            id="code.expected", figures={"whole_minutes": format_whole(facts.expected_min)}
        ),
        steps=tuple(field for field in STEPS if field in facts.fields),
    )


def _charge(charge: StoredCharge) -> Statement:
    below = {"drained_volts": charge.drained_v}
    if charge.nothing_stored:
        why = charge.nothing_stored.rstrip(".")
        return Statement(id="code.nothing-stored", figures={"why": why, **below})
    return Statement(id="code.wait", figures={"minutes": charge.wait_min, **below})


def _check(suspect: RankedSuspect) -> Check:
    figures: dict[str, object] = {"of_one_share": suspect.share, "minutes": suspect.minutes}
    counted = {"cases": suspect.cases, "of_cases": suspect.of_cases}
    untestable = None
    if suspect.why:
        reason = {"why": suspect.why, "instead": suspect.instead}
        untestable = Statement(id="code.untestable", figures=reason)
    return Check(
        suspect=suspect,
        likely=Statement(id="code.likely-counted", figures={**figures, **counted})
        if suspect.of_cases
        else Statement(id="code.likely", figures=figures),
        untestable=untestable,
        cautions=LIVE_CAUTIONS if suspect.live else (),
    )
