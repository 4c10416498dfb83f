"""How far a reading is off a curve, and how likely a sound part is so far off."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .characteristic import Characteristic
from .error_bound import coverage_k
from .grid import Grid
from .measured import Measured
from .verdict import expanded_k, law_half_k, rate_k_per_ohm, rectangular

LEAST_K = 0.25
"""Nothing is known better than so, as a standard uncertainty: common practice, no source."""

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class Held:
    """A reading held against a curve.

    Parameters
    ----------
    t_implied_c, error_k : float
        As in a verdict.
    spread_k : float
        How far a sound part's error spreads, as a standard deviation in K.
    fits : bool
        Whether it would not be outside limits: |e| ≤ L + U.
    """

    t_implied_c: float
    error_k: float
    spread_k: float
    fits: bool

    @property
    def density(self) -> float:
        """How likely that error is of a sound part, per K: a normal density."""
        size = self.error_k / self.spread_k
        return math.exp(-size * size / 2) / (self.spread_k * math.sqrt(2 * math.pi))


def held(
    curve: Curve, *, measured: Measured, allow_k: float, besides_k: float = 0.0
) -> Held | None:
    """Hold a reading against a curve; None where no part on it stands for that at all.

    Parameters
    ----------
    curve : Characteristic or Grid
    measured : Measured
    allow_k : float
        As for the verdict, in K.
    besides_k : float
        What else leaves it open, as a standard uncertainty in K.

    Notes
    -----
    The spread is the budget of the judgement, u, and half the limit L beside it: a sound part is
    taken to be within L with two standard deviations. s² = u² + (L/2)² + what is besides.

    A meter that is coarse there fits anything: past the curve's ends by more than L is off it.

    Source: JCGM 100:2008 for u; that half of L is common practice, no source.
    """
    t_c, r_ohm = measured.t_c, measured.r_ohm
    if not curve.low_c <= t_c <= curve.high_c or r_ohm <= 0:
        return None
    limit_k = max(float(curve.tol_k(t_c)), allow_k)
    t_implied_c = float(curve.beyond_c(r_ohm))
    inside_c = min(max(t_implied_c, curve.low_c), curve.high_c)
    if abs(t_implied_c - inside_c) > limit_k:
        return None
    halves_k = (
        measured.meter_half_ohm * rate_k_per_ohm(curve, r_ohm=r_ohm, inside_c=inside_c),
        measured.thermometer_half_k,
        measured.placement_half_k,
        law_half_k(curve, measured=measured),
    )
    expanded = expanded_k(*(rectangular(half_k) for half_k in halves_k))
    error_k = t_implied_c - t_c
    over_k = abs(error_k) - limit_k
    return Held(
        t_implied_c=t_implied_c,
        error_k=error_k,
        spread_k=max(math.sqrt((expanded**2 + limit_k**2) / 4 + besides_k**2), LEAST_K),
        # 2u is never below what a verdict counts, and sooner worked out.
        fits=over_k <= 0 or (over_k <= expanded and over_k <= coverage_k(halves_k)),
    )
