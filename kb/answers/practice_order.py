"""The best order of a practice job and what it costs: the notes' own, likeliest per minute."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kb.numbers.check_order import expected_minutes

from .practice_machine import PracticeCode, PracticeSuspect
from .reading_settling import MINUTES


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


def reading_minutes(own_min: float, *, placement: str, again: bool) -> float:
    """Return the minutes of reading a sensor.

    Parameters
    ----------
    own_min : float
        What the notes say its check takes, a thermometer held on beside it.
    placement : str
        How the temperature is taken: what is slower costs so much more (`MINUTES`).
    again : bool
        Whether its plug is off already: then the way alone counts.
    """
    way_min = MINUTES.get(placement, MINUTES["held-on"])
    return way_min if again else own_min + way_min - MINUTES["held-on"]


def expected_of(suspects: Sequence[PracticeSuspect], *, order: Sequence[int]) -> float:
    """Return the expected minutes of checking in some order."""
    return expected_minutes(
        [row.share for row in suspects], minutes=[row.minutes for row in suspects], order=order
    )
