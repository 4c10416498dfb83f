"""Three windings between three leads: where is the fault, when one pair stands apart?"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

CLEAR_TIMES = 2.0
"""The gap to the pair apart must be so many times the gap between the other two: else more than one
fault may be there, and nobody is named. Common practice, no source."""


PHASE_TIMES = 3.0
"""A winding that is off by a share moves one of three pairs off their mean by a third of that.

In a star by x: two pairs hold half of it, + x/2, the mean of three is + x/3, and the sound pair is
− x/3 off it. In a delta its own pair takes two thirds of x, the others a sixth: the mean is + x/3
again, and its own pair + x/3 off that. Both for a small x.
"""


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


def is_triangle(pairs: Collection[str]) -> bool:
    """Whether these are the three pairs of three leads."""
    leads = {frozenset(pair.split("-")) for pair in pairs}
    return len(pairs) == 3 and len(leads) == 3 and len(frozenset().union(*leads)) == 3


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
    if not is_triangle(readings_ohm):
        return None
    low, middle, high = sorted(readings_ohm, key=lambda pair: readings_ohm[pair])
    below_ohm = readings_ohm[middle] - readings_ohm[low]
    above_ohm = readings_ohm[high] - readings_ohm[middle]
    if above_ohm > CLEAR_TIMES * below_ohm:
        return PairApart(pair=high, high=True, lead=shared_lead(low, other=middle))
    if below_ohm > CLEAR_TIMES * above_ohm:
        return PairApart(pair=low, high=False, lead=shared_lead(middle, other=high))
    return None


def shared_lead(pair: str, *, other: str) -> str:
    """Return the lead that two pairs share; "" where there is none."""
    return next((lead for lead in pair.split("-") if lead in other.split("-")), "")
