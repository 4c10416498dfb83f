"""Beside a verdict: how far off it may be, which limits that rules out, and what to believe now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kb.numbers.believed import fault_share
from kb.numbers.error_bound import SURE
from kb.numbers.verdict import Verdict, full_half

from .judged import Judged
from .sensor_facts import SensorFacts
from .statement import Statement

_LEAST_SHARE = 0.01
"""No belief is printed as nearer to never or always than this: a model is not that good."""


@dataclass(frozen=True, kw_only=True)
class UnderCode:
    """What the notes say of this sensor under the code that the machine shows.

    Parameters
    ----------
    needs_k : tuple of float
        How far off it must be for this code in K, colder below zero; those next to nothing.
    share, rival_share : float
        How likely the notes hold this sensor to be at fault, and the likeliest other suspect.
    rival : str
        What that one is called; "" where there is none.
    """

    needs_k: tuple[float, ...] = ()
    share: float = 0.0
    rival: str = ""
    rival_share: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Held:
    """A limit, and whether the true error is inside it for sure, outside it, or either.

    Parameters
    ----------
    name : str
        "part": the part's own tolerance; "machine": what the machine allows; "code": what the code
        needs, and more.
    low_k, high_k : float or None
        Its ends in K; of the code's the nearer one, None on a side that raises no code.
    state : str
        "in", "out" or "open".
    """

    name: str
    low_k: float | None
    high_k: float | None
    state: str


@dataclass(frozen=True, kw_only=True)
class Excluded:
    """Where the true error is, as surely as SURE, among the limits.

    Parameters
    ----------
    error_k, low_k, high_k : float
        As read, and its bounds, in K.
    limits : tuple of Held
    statements : tuple of Statement
    """

    error_k: float
    low_k: float
    high_k: float
    limits: tuple[Held, ...]
    statements: tuple[Statement, ...]


def what_is_excluded(
    sensor: SensorFacts, *, judged: Judged, under: UnderCode | None
) -> Excluded | None:
    """Return what a reading excludes: not decided, or off by less than a code needs."""
    verdict = judged.verdict
    if verdict.error_k is None or verdict.uncertainty_k is None or judged.at is None:
        return None
    low_k, high_k = verdict.error_k - verdict.uncertainty_k, verdict.error_k + verdict.uncertainty_k
    limits = _limits(sensor, judged=judged, under=under, bounds_k=(low_k, high_k))
    states = {limit.name: limit.state for limit in limits}
    statements: list[Statement] = []
    if verdict.verdict == "undecided":
        figures = {"most_k": max(-low_k, high_k), "sure_share": SURE}
        statements.append(Statement(id="reading.at-most", figures=figures))
        if states.get("part") == "out":
            tol_k = next(limit.high_k for limit in limits if limit.name == "part")
            statements.append(Statement(id="reading.part-out", figures={"tol_k": tol_k}))
    if under and verdict.verdict in ("undecided", "outside") and "code" in states:
        needs_k = min(abs(needs_k) for needs_k in under.needs_k)
        # Not decided whether it is so far off is said by the picture.
        if states["code"] != "open":
            statement_id = f"reading.code-{states['code']}"
            statements.append(Statement(id=statement_id, figures={"needs_k": needs_k}))
    if under and verdict.verdict == "undecided":
        statements += _believed(verdict, sensor=sensor, under=under, t_c=judged.at.t_c)
    if not statements:
        return None
    return Excluded(
        error_k=verdict.error_k,
        low_k=low_k,
        high_k=high_k,
        limits=limits,
        statements=tuple(statements),
    )


def _limits(
    sensor: SensorFacts, *, judged: Judged, under: UnderCode | None, bounds_k: tuple[float, float]
) -> tuple[Held, ...]:
    limits = []
    tol_k = float(sensor.curve.tol_k(judged.measured.t_c))
    if sensor.curve.tolerance_known:
        limits.append(_around("part", half_k=tol_k, bounds_k=bounds_k))
    if sensor.allow_k > tol_k:
        limits.append(_around("machine", half_k=sensor.allow_k, bounds_k=bounds_k))
    if under and under.needs_k:
        limits.append(_needed(under.needs_k, bounds_k=bounds_k))
    return tuple(limits)


def _around(name: str, *, half_k: float, bounds_k: tuple[float, float]) -> Held:
    low_k, high_k = bounds_k
    state = "open"
    if -half_k <= low_k and high_k <= half_k:
        state = "in"
    elif high_k < -half_k or half_k < low_k:
        state = "out"
    return Held(name=name, low_k=-half_k, high_k=half_k, state=state)


def _needed(needs_k: Sequence[float], *, bounds_k: tuple[float, float]) -> Held:
    low_k, high_k = bounds_k
    cold_k = max((k for k in needs_k if k < 0), default=None)
    hot_k = min((k for k in needs_k if k > 0), default=None)
    reached = (cold_k is not None and high_k <= cold_k) or (hot_k is not None and low_k >= hot_k)
    missed = (cold_k is None or low_k > cold_k) and (hot_k is None or high_k < hot_k)
    state = "in" if reached else "out" if missed else "open"
    return Held(name="code", low_k=cold_k, high_k=hot_k, state=state)


def _believed(
    verdict: Verdict, *, sensor: SensorFacts, under: UnderCode, t_c: float
) -> tuple[Statement, ...]:
    """Return how likely it is at fault now; nothing where the notes say nothing of before."""
    if not 0 < under.share < 1 or not verdict.limit_known or verdict.error_k is None:
        return ()
    after = fault_share(
        verdict.error_k,
        limit_k=verdict.limit_k,
        half_widths_k=[full_half(u_k) for u_k in verdict.terms_k.values()],
        before=under.share,
        largest_k=max(t_c - sensor.curve.low_c, sensor.curve.high_c - t_c),
    )
    if after is None:
        return ()
    after = min(max(after, _LEAST_SHARE), 1 - _LEAST_SHARE)
    figures: dict[str, object] = {
        "before_share": under.share,
        "after_share": after,
        "sound_share": 1 - after,
    }
    if not under.rival:
        return (Statement(id="reading.believed", figures=figures),)
    # The reading says nothing of the others: they share what is left as they did before.
    grown = under.rival_share * (1 - after) / (1 - under.share)
    figures |= {"rival": under.rival, "rival_share": grown}
    return (Statement(id="reading.believed-rival", figures=figures),)
