"""Which suspect to check first: authored weights, past jobs, and the minutes each check takes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kb.model import Case, Code
from kb.model.code import Suspect
from kb.numbers.check_order import expected_minutes, order_checks, shares_with_cases
from kb.past_jobs import counted_once


@dataclass(frozen=True, kw_only=True)
class Ranked:
    """One suspect with its share and the raw counts behind it."""

    suspect: Suspect
    share: float
    cases: int
    of_cases: int


@dataclass(frozen=True, kw_only=True)
class Ranking:
    """Suspects in the order of least expected time, and that time in minutes."""

    suspects: tuple[Ranked, ...]
    expected_min: float


def rank_suspects(code: Code, *, cases: Iterable[Case]) -> Ranking:
    """Return a code's suspects, first the one to check first.

    Notes
    -----
    A case counts for the suspect that its cause names; a case with a cause that the code does
    not list counts in the total only, so the counts shown never hide it. A job that two cases
    tell counts once (`kb.past_jobs`).
    """
    past = counted_once(case for case in cases if case.code == code.id)
    counts = [sum(case.cause.key == suspect.key for case in past) for suspect in code.suspects]
    shares = shares_with_cases([suspect.share for suspect in code.suspects], counts=counts)
    minutes = [suspect.minutes for suspect in code.suspects]
    order = order_checks(shares, minutes=minutes)
    ranked = tuple(
        Ranked(
            suspect=code.suspects[i], share=float(shares[i]), cases=counts[i], of_cases=len(past)
        )
        for i in order
    )
    return Ranking(
        suspects=ranked, expected_min=expected_minutes(shares, minutes=minutes, order=order)
    )
