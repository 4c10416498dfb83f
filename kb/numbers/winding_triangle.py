"""Three windings between three leads: where is the fault, when one pair stands apart?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

CLEAR_TIMES = 2.0
"""The gap to the pair apart must be so many times the gap between the other two: else more than one
fault may be there, and nobody is named. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class PairApart:
    """The pair that stands apart from the two others, and what those have in common.

    Parameters
    ----------
    pair : str
    high : bool
        Whether it reads more than the others.
    lead : str
        The lead that the two others share.
    """

    pair: str
    high: bool
    lead: str


def pair_apart(readings_ohm: Mapping[str, float]) -> PairApart | None:
    """Return the pair that stands apart, of three readings between three leads; else None.

    Parameters
    ----------
    readings_ohm : mapping of lead pair such as `U-V` to Ω
        Windings that should be equal.

    Notes
    -----
    In a star a pair holds two windings, so a fault in one of them moves the two pairs that share
    its lead, and the third is the sound one: R(U-V) = U + V. In a delta each pair lies across its
    own winding, and a fault there moves that pair most.
    """
    leads = {frozenset(pair.split("-")): pair for pair in readings_ohm}
    if len(readings_ohm) != 3 or len(leads) != 3 or len(frozenset().union(*leads)) != 3:
        return None
    low, middle, high = sorted(readings_ohm, key=lambda pair: readings_ohm[pair])
    below_ohm = readings_ohm[middle] - readings_ohm[low]
    above_ohm = readings_ohm[high] - readings_ohm[middle]
    if above_ohm > CLEAR_TIMES * below_ohm:
        return PairApart(pair=high, high=True, lead=_shared(low, middle))
    if below_ohm > CLEAR_TIMES * above_ohm:
        return PairApart(pair=low, high=False, lead=_shared(middle, high))
    return None


def _shared(first: str, second: str) -> str:
    return next(lead for lead in first.split("-") if lead in second.split("-"))
