"""Draw readings of a sensor that is off by so much, with an instrument and a way, and judge them all.

Every error is drawn anew within its half-width, each value as likely as the next. Gain and zero of a
meter are drawn once for a reading and its sister's: that is why they cancel there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from kb.answers.typed import ICE, SISTER
from kb.numbers.characteristic import Characteristic
from kb.numbers.error_bound import coverage_k
from kb.numbers.meter import Meter
from kb.numbers.placement import PLACEMENTS
from kb.numbers.sister import CUP_HALF_K
from kb.numbers.thermometer import Thermometer
from kb.numbers.verdict import expanded_k, guard_banded_decision, rectangular

_SAME = 9
"""So many half-widths of the meter are worked out; between them U is straight."""


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """What was read, by draw: error, limit, U as it is judged now, and twice the root of squares."""

    error_k: np.ndarray
    limit_k: np.ndarray
    covers_k: np.ndarray
    twice_u_k: np.ndarray

    def shares(self, *, before: bool = False) -> tuple[float, float, float]:
        """Return the shares that pass, stay undecided, are rejected."""
        uncertainty_k = self.twice_u_k if before else self.covers_k
        decided = guard_banded_decision(self.error_k, limit=self.limit_k, uncertainty=uncertainty_k)
        return tuple(float(np.mean(decided == way)) for way in (1, 0, -1))

    def ruled_out(self, off_k: float) -> float:
        """Return the share where an error of `off_k` and more, either way, is ruled out."""
        return float(np.mean(np.abs(self.error_k) + self.covers_k < off_k))


def draw(
    curve: Characteristic,
    *,
    meter: Meter,
    thermometer: Thermometer,
    placement: str,
    t_c: float,
    off_k: float | None,
    allow_k: float = 0.0,
    count: int = 20_000,
    seed: int = 1,
) -> Drawn:
    """Return readings of a sensor that is off by `off_k`; None: of sound ones, off within tolerance."""
    rng = np.random.default_rng(seed)

    def rect(half: np.ndarray | float) -> np.ndarray:
        return half * rng.uniform(-1, 1, count)

    t_c = 0.0 if placement == ICE else t_c
    true_c = np.full(count, t_c)
    tol_k = float(curve.tol_k(t_c))
    own_k = rect(tol_k) if off_k is None else off_k * rng.choice((-1, 1), count)
    # Drawn apart, so that a curve that is known better changes no other draw.
    law_k = float(curve.law_k(t_c))
    off_curve_k = law_k * np.random.default_rng([seed, 1]).uniform(-1, 1, count)
    ohm = curve.beyond_ohm(true_c + own_k + off_curve_k)
    scale = meter.range_for(float(np.median(ohm)) + meter.leads_ohm)
    assert scale is not None
    gain = rect(scale.percent / 100)
    digit_ohm = scale.resolution_ohm
    if placement != SISTER:
        shown = (ohm + meter.leads_ohm) * (1 + gain) + rect(scale.digits * digit_ohm)
        seen_c, halves = _seen(true_c, thermometer=thermometer, placement=placement, rect=rect)
        halves.append(law_k)
        implied_c = curve.beyond_c(np.maximum(shown - meter.leads_ohm, 1e-9))
        inside_c = np.clip(implied_c, curve.low_c, curve.high_c)
        rate = np.abs(1 / curve.slope_ohm_per_k(inside_c))
        meter_k = np.asarray(meter.half_width_ohm(shown)) * rate
    else:
        zero = rect((scale.digits - 1) * digit_ohm)
        # Her curve is the same, and as far off.
        sister = curve.beyond_ohm(true_c + off_curve_k + rect(tol_k) + rect(CUP_HALF_K))
        shown = (ohm + meter.leads_ohm) * (1 + gain) + zero + rect(digit_ohm) - meter.leads_ohm
        other = (sister + meter.leads_ohm) * (1 + gain) + zero + rect(digit_ohm) - meter.leads_ohm
        implied_c, seen_c = curve.beyond_c(shown), curve.beyond_c(other)
        rates = [1 / curve.slope_ohm_per_k(c) for c in (implied_c, seen_c)]
        meter_k = np.abs(
            (shown + meter.leads_ohm) * rates[0] - (other + meter.leads_ohm) * rates[1]
        )
        meter_k = meter_k * scale.percent / 100
        meter_k += scale.digits * digit_ohm * np.abs(rates[0] - rates[1])
        meter_k += digit_ohm * (np.abs(rates[0]) + np.abs(rates[1]))
        halves = [float(curve.tol_k(t_c)), CUP_HALF_K]
    limit_k = np.maximum(curve.tol_k(np.clip(seen_c, curve.low_c, curve.high_c)), allow_k)
    return Drawn(
        error_k=implied_c - seen_c,
        limit_k=limit_k,
        covers_k=_by_meter(meter_k, halves=halves, covers=coverage_k),
        twice_u_k=_by_meter(
            meter_k, halves=halves, covers=lambda all_k: expanded_k(*map(rectangular, all_k))
        ),
    )


def _seen(true_c, *, thermometer, placement, rect):
    """Return what is taken for the temperature, and the half-widths that it leaves."""
    place_k = PLACEMENTS[placement].half_width_k
    if placement == ICE:
        # The cup is off; it is taken for 0 °C all the same.
        return true_c + rect(place_k), [place_k]
    half_k = float(thermometer.half_width_k(float(true_c[0])))
    return true_c + rect(half_k) + rect(place_k), [half_k, place_k]


def _by_meter(meter_k: np.ndarray, *, halves: Sequence[float], covers) -> np.ndarray:
    at_k = np.linspace(meter_k.min(), meter_k.max(), _SAME)
    return np.interp(meter_k, at_k, [covers([half_k, *halves]) for half_k in at_k.tolist()])
