"""Three windings between three leads: what each has by itself, where the connection is known."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
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


def solved_u_ohm(
    readings_ohm: Mapping[str, float],
    *,
    half_widths_ohm: Mapping[str, float],
    solve: Callable[[Mapping[str, float]], Mapping[str, float]],
) -> dict[str, float]:
    """Return U in Ω of each winding, as far as the windings are held against one another.

    Parameters
    ----------
    readings_ohm : mapping of lead pair to Ω
    half_widths_ohm : mapping of lead pair to Ω
        How far each reading may be off the others (`Meter.beside_half_ohm`, and the contact).
    solve : callable
        `star_windings` or `delta_windings`.

    Returns
    -------
    dict of winding to Ω
        Empty where one is broken, or would be with a reading that much off.

    Notes
    -----
    U = 2 √(Σ c²/3), c the half of what a winding moves by as one reading goes from one end of its
    half-width to the other. Of a star each c is half a half-width.

    Source: JCGM 100:2008, 5.1.3, note 2 (sensitivities by trying), 4.3.7 (rectangles); from memory.
    """
    solved = solve(readings_ohm)
    squares = dict.fromkeys(solved, 0.0)
    for pair, half_ohm in half_widths_ohm.items():
        ends = [
            solve({**readings_ohm, pair: readings_ohm[pair] + way * half_ohm}) for way in (1, -1)
        ]
        if any(not end or math.inf in end.values() for end in ends):
            return {}
        for name in squares:
            squares[name] += ((ends[0][name] - ends[1][name]) / 2) ** 2
    return {name: 2 * math.sqrt(square / 3) for name, square in squares.items()}
