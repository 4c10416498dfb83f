"""Three windings between three leads: what each has by itself, where the connection is known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import combinations

from .winding_triangle import is_triangle

OPEN_TIMES = 5.0
"""A winding of a delta that has so many times the others is broken: what is solved there is the
difference of nearly equal readings. Common practice, no source."""


def star_windings(readings_ohm: Mapping[str, float]) -> dict[str, float]:
    """Return Ω of each winding of a star by its lead; empty where no star can read so.

    Parameters
    ----------
    readings_ohm : mapping of lead pair such as `U-V` to Ω

    Notes
    -----
    R(U-V) = U + V, and so on, hence U = (R(U-V) + R(W-U) − R(V-W))/2.
    """
    if not (is_triangle(readings_ohm) and all(map(math.isfinite, readings_ohm.values()))):
        return {}
    around_ohm = sum(readings_ohm.values())
    windings = {
        lead: sum(r_ohm for pair, r_ohm in readings_ohm.items() if lead in pair.split("-"))
        - around_ohm / 2
        for lead in dict.fromkeys("-".join(readings_ohm).split("-"))
    }
    return windings if min(windings.values()) > 0 else {}


def delta_windings(readings_ohm: Mapping[str, float]) -> dict[str, float]:
    """Return Ω of each winding of a delta by its pair of leads, infinity for a broken one.

    Parameters
    ----------
    readings_ohm : mapping of lead pair such as `U-V` to Ω

    Returns
    -------
    dict of lead pair to Ω
        Empty where no delta can read so.

    Notes
    -----
    Three leads show no difference between a delta and the star of u = (R(U-V) + R(W-U) − R(V-W))/2,
    and the delta's winding between U and V has (uv + vw + wu)/w. A broken one leaves w at nothing:
    its pair reads twice what the two others do.

    Source: Kennelly, "The equivalence of triangles and three-pointed stars in conducting networks",
    Electrical World and Engineer 34 (1899), from memory.
    """
    if not (is_triangle(readings_ohm) and all(map(math.isfinite, readings_ohm.values()))):
        return {}
    around_ohm = sum(readings_ohm.values())
    # Of the equal star, the leg opposite a pair.
    legs_ohm = {pair: around_ohm / 2 - r_ohm for pair, r_ohm in readings_ohm.items()}
    across = sum(first * second for first, second in combinations(legs_ohm.values(), 2))
    if not (across > 0 and sorted(legs_ohm.values())[1] > 0):
        return {}
    return {pair: across / leg if leg > 0 else math.inf for pair, leg in legs_ohm.items()}


def is_broken(windings_ohm: Mapping[str, float], *, winding: str) -> bool:
    """Whether a winding of a delta has so much more than the others that it is open."""
    others = [r_ohm for name, r_ohm in windings_ohm.items() if name != winding]
    return windings_ohm[winding] > OPEN_TIMES * max(others)
