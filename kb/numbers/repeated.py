"""Readings of the same thing, repeated: what the contact does from one to the next."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

T_FACTORS = (13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28)
"""t for 95.45 % and 1, 2, … 10 degrees of freedom; the last stands for more, a little too wide.

Source: JCGM 100:2008, Table G.2 (from memory, held to the distribution by a test).
"""


def contact_u_ohm(readings_ohm: Mapping[str, Sequence[float]]) -> dict[str, float]:
    """Return what the contact leaves in each mean, as a standard uncertainty in Ω.

    Parameters
    ----------
    readings_ohm : mapping of name to Ω, one or more each
        Taken by one hand with one pair of probes: what repeats of one show holds for all.

    Returns
    -------
    dict of name to Ω
        0 for all where nothing was read twice: then nobody knows.

    Notes
    -----
    s² is pooled over all that was repeated, Σ(x − mean)²/ν with ν = Σ(n − 1); of a mean of n,
    u = (t/2) s/√n, so that 2u covers what t does: few readings say little of their spread.

    Source: JCGM 100:2008, 4.2.3 and 4.2.4 (type A, pooled), G.3 (t factor).
    """
    freedom = sum(len(values) - 1 for values in readings_ohm.values())
    if freedom == 0:
        return dict.fromkeys(readings_ohm, 0.0)
    squares = 0.0
    for values in readings_ohm.values():
        mean = mean_ohm(values)
        squares += sum((r_ohm - mean) ** 2 for r_ohm in values)
    spread_ohm = math.sqrt(squares / freedom) * T_FACTORS[min(freedom, len(T_FACTORS)) - 1] / 2
    return {name: spread_ohm / math.sqrt(len(values)) for name, values in readings_ohm.items()}


def mean_ohm(values: Sequence[float]) -> float:
    """Return the mean of readings in Ω; of equal ones exactly what they are."""
    first_ohm = values[0]
    return first_ohm + sum(r_ohm - first_ohm for r_ohm in values) / len(values)
