"""The best order of a practice job and what it costs: the notes' own, likeliest per minute."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kb.numbers.check_order import expected_minutes

from .practice_machine import PracticeCode, PracticeSuspect


@dataclass(frozen=True, kw_only=True)
class BestOrder:
    """The order of least expected time.

    Parameters
    ----------
    minutes : tuple of float
        All minutes up to and with each check, in the code's own order of suspects.
    expected_min : float
        Minutes until the fault is found, on average over all that it may be.
    found_min : float
        Minutes until this fault is found.
    """

    minutes: tuple[float, ...]
    expected_min: float
    found_min: float


def best_order(code: PracticeCode, *, suspect: int) -> BestOrder:
    """Return what the best order costs where one suspect is the one.

    Notes
    -----
    A code's suspects stand in that order (`kb.numbers.check_order.order_checks`).
    """
    so_far, minutes = 0.0, []
    for row in code.suspects:
        so_far += row.minutes
        minutes.append(so_far)
    return BestOrder(
        minutes=tuple(minutes),
        expected_min=expected_of(code.suspects, order=range(len(code.suspects))),
        found_min=minutes[suspect],
    )


def expected_of(suspects: Sequence[PracticeSuspect], *, order: Sequence[int]) -> float:
    """Return the expected minutes of checking in some order."""
    return expected_minutes(
        [row.share for row in suspects], minutes=[row.minutes for row in suspects], order=order
    )
