"""Two windings on three leads: which lead is the common one, and do the three readings add up?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from .winding_triangle import shared_lead

SUM_SHARE = 0.02
"""Three readings taken one after another may be so far off their sum, beside the meter's error: a
kelvin in between is 0.4 % of copper. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class ThreeLeads:
    """What three readings between three leads say of a run and a start winding.

    Parameters
    ----------
    common, run, start : str
        The leads. The two windings meet in the common one; of the two others the one that reads
        less to it is called run: a start winding usually has more ohms. Common practice, and some
        motors have two equal windings.
    common_known, run_known : bool
        Whether the readings are far enough apart to say so.
    sum_off_ohm, sum_uncertainty_ohm : float
        The two smaller together less the greatest, and U of that.
    adds_up : bool
        Whether that is nothing, as far as the meter and SUM_SHARE tell.
    """

    common: str
    run: str
    start: str
    common_known: bool
    run_known: bool
    sum_off_ohm: float
    sum_uncertainty_ohm: float
    adds_up: bool


def three_leads(
    readings_ohm: Mapping[str, float],
    *,
    half_widths_ohm: Mapping[str, float],
    beside_halves_ohm: Mapping[str, float],
) -> ThreeLeads:
    """Return which lead is which, from the three pairs of three leads.

    Parameters
    ----------
    readings_ohm : mapping of lead pair to Ω
        Each above zero and none over range.
    half_widths_ohm, beside_halves_ohm : mapping of lead pair to Ω
        How far each may be off by itself, for their sum, and off the others, for their order.

    Notes
    -----
    R(C-R) + R(C-S) = R(R-S): the greatest is read across both windings, and the common lead is the
    one that it leaves out. U = 2 √(Σ a²/3) (JCGM 100, 4.3.7).
    """
    small, middle, great = sorted(readings_ohm, key=lambda pair: readings_ohm[pair])
    run_ohm, start_ohm, both_ohm = (readings_ohm[pair] for pair in (small, middle, great))
    off_ohm = run_ohm + start_ohm - both_ohm
    uncertainty_ohm = _expanded(*(half_widths_ohm[pair] for pair in readings_ohm))
    adds_up = abs(off_ohm) <= uncertainty_ohm + SUM_SHARE * both_ohm
    least_ohm = _expanded(beside_halves_ohm[middle], beside_halves_ohm[great])
    apart_ohm = _expanded(beside_halves_ohm[small], beside_halves_ohm[middle])
    common = shared_lead(small, other=middle)
    return ThreeLeads(
        common=common,
        run=_other_end(small, lead=common),
        start=_other_end(middle, lead=common),
        common_known=adds_up and both_ohm - start_ohm > least_ohm,
        run_known=start_ohm - run_ohm > apart_ohm,
        sum_off_ohm=off_ohm,
        sum_uncertainty_ohm=uncertainty_ohm,
        adds_up=adds_up,
    )


def _other_end(pair: str, *, lead: str) -> str:
    return next(end for end in pair.split("-") if end != lead)


def _expanded(*halves_ohm: float) -> float:
    return 2 * math.sqrt(sum(half_ohm**2 for half_ohm in halves_ohm) / 3)
