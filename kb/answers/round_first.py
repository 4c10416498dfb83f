"""What to do first after a round: one step out of all, and where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .round_outcome import PlaceAnswer
from .statement import Statement

URGENCY = (
    "stands-out",
    "stand-out",
    "faulty",
    "others-agree",
    "exchanged",
    "suspicious",
    "temperature",
    "split",
    "undecided",
    "one-read",
    "alone",
    "no-place",
    "agree",
)
"""Outcomes of a place, the one first that is to be seen to first."""
LESS_THAN_EXCHANGED = ("undecided", "one-read", "alone", "no-place", "agree")
"""Outcomes after which plugs that may be exchanged are looked at first."""


@dataclass(frozen=True, kw_only=True)
class RoundFirst:
    """What to do first.

    Parameters
    ----------
    place : str
        The key of the place; "" where it concerns several.
    state : str
        "within", "outside" or "undecided".
    title : Statement
        Why, in few words.
    step : Statement
    """

    place: str
    state: str
    title: Statement
    step: Statement


def round_first(
    places: Sequence[PlaceAnswer], *, exchange: Statement | None, sure: bool
) -> RoundFirst | None:
    """Return what to do first, or None where nothing was read.

    Notes
    -----
    Plugs that are surely exchanged come before all: they may be all that is wrong. Plugs that may
    be come after what is surely faulty, or what one temperature tells.
    """
    by_urgency = sorted(places, key=lambda place: URGENCY.index(place.outcome))
    first = next((place for place in by_urgency if place.next), None)
    swap = exchange and RoundFirst(
        place="", state="undecided", title=Statement(id="round.title-exchange"), step=exchange
    )
    if swap and (sure or first is None or first.outcome in LESS_THAN_EXCHANGED):
        return swap
    if first is None:
        return None
    title = first.title
    if first.outcome == "others-agree":
        # Of its place alone: what rests elsewhere may not.
        title = Statement(id="round.title-faulty", figures=title.figures)
    return RoundFirst(place=first.place, state=first.state, title=title, step=first.next[0])
