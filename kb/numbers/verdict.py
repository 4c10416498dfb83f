"""Is this reading right for this temperature, given the part's and the instruments' errors?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from .characteristic import Characteristic
from .error_bound import coverage_k
from .grid import Grid
from .measured import Measured

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

VERDICTS = ("within", "outside", "undecided", "open", "short", "off-curve")
TERMS = ("meter", "thermometer", "placement", "curve")
"""What a comparison leaves in doubt; the last is the curve itself."""

SHORT_OHM = 10.0
"""Below this, or a tenth of the curve's lowest resistance, it is a short. Common practice."""

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class Settling:
    """What it would take to decide.

    Parameters
    ----------
    needed_k : float
        The expanded uncertainty in K that would just decide.
    terms : tuple of str
        Those of TERMS that alone, made perfect, would decide; best first.
    meter_k : float
        Expanded uncertainty in K that the meter alone leaves, the temperature known perfectly.
    meter_can : bool
        False where that is still too much: this meter cannot decide this reading.
    """

    needed_k: float
    terms: tuple[str, ...]
    meter_k: float
    meter_can: bool


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """The answer, and the figures it rests on; a figure is None where there is none.

    Parameters
    ----------
    verdict : str
        One of VERDICTS.
    t_implied_c : float or None
        Temperature at which a nominal part reads this, in °C.
    error_k : float or None
        `t_implied_c` less the measured temperature.
    limit_k : float
        The larger of the part's tolerance and the sensor's allowance, in K.
    limit_known : bool
        False where neither is known: then nothing can be decided.
    uncertainty_k : float or None
        Expanded uncertainty U in K: it covers what 2u covers of a normal distribution.
    terms_k : dict of str to float
        Standard uncertainty in K of each of TERMS.
    dominant : str or None
        The largest of them, where nothing was decided.
    low_ohm, high_ohm : float
        Between these a good part reads at the measured temperature, in Ω.
    settling : Settling or None
        Given where the reading was compared and not decided.
    """

    verdict: str
    t_implied_c: float | None
    error_k: float | None
    limit_k: float
    limit_known: bool
    uncertainty_k: float | None
    terms_k: dict[str, float]
    dominant: str | None
    low_ohm: float
    high_ohm: float
    settling: Settling | None = None


def guard_banded_decision(
    error: ArrayLike, *, limit: ArrayLike, uncertainty: ArrayLike
) -> np.ndarray:
    """Return 1 within, −1 outside, 0 not decided; shapes broadcast, all three in one unit.

    Notes
    -----
    Guarded both ways: |e| ≤ L − U is within, |e| > L + U is outside.

    Source: JCGM 106:2012, clause 8.3; ILAC-G8:09/2019, guard band of U.
    """
    size = np.abs(error)
    within = size <= np.asarray(limit) - uncertainty
    outside = size > np.asarray(limit) + uncertainty
    return within.astype(int) - outside.astype(int)


def rectangular(half_width: float) -> float:
    """Return the standard uncertainty of a value equally likely anywhere within ± half_width.

    Source: JCGM 100:2008, 4.3.7: half_width/√3.
    """
    return float(half_width) / 3**0.5


def full_half(standard: float) -> float:
    """Return the half-width whose standard uncertainty this is, as `rectangular` took it."""
    return standard * 3**0.5


def expanded_k(*terms_k: float) -> float:
    """Return U = 2u in K from standard uncertainties in K (JCGM 100, coverage factor 2).

    Where only rectangles add, `error_bound.coverage_k` is closer and never larger.
    """
    return 2 * float(np.sqrt(np.sum(np.square(terms_k))))


def covered_k(terms_k: Mapping[str, float]) -> float:
    """Return U in K from the standard uncertainties in K of what is rectangular each."""
    return coverage_k([full_half(u_k) for u_k in terms_k.values()])


def short_below_ohm(curve: Curve, *, at_most_ohm: float | None = None) -> float:
    """Return the resistance in Ω below which a reading is a short on this curve.

    Whatever the team says (`at_most_ohm`), it never reaches into the curve.
    """
    most_ohm = SHORT_OHM if at_most_ohm is None else at_most_ohm
    return min(most_ohm, curve.range_ohm[0] / 10)


def judge(
    curve: Curve, *, measured: Measured, allow_k: float = 0.0, short_ohm: float | None = None
) -> Verdict:
    """Return the verdict on one reading.

    Parameters
    ----------
    curve : Characteristic or Grid
    measured : Measured
        The reading, its temperature inside the curve's range.
    allow_k : float
        What the sensor's job allows it to be off, in K; 0 for no word on it.
    short_ohm : float, optional
        Below this it is a short, but never above a tenth of the curve's lowest resistance.

    Raises
    ------
    OutOfRange
        If the measured temperature is outside the curve's range.

    Notes
    -----
    In order: over range, short, off the curve, then the guarded comparison in kelvin.

    Half-widths are a_r |dT/dR|, a_t, a_p, a_c of meter, thermometer, placement and curve, each
    rectangular (JCGM 100, 4.3.7); U covers their sum as it is (JCGM 101, `error_bound`).
    """
    uncompared = _uncompared(curve, measured=measured, allow_k=allow_k)
    if np.isinf(measured.r_ohm):
        return _over_range(uncompared, curve=curve, measured=measured)
    if measured.r_ohm == 0 or measured.r_ohm < short_below_ohm(curve, at_most_ohm=short_ohm):
        return replace(uncompared, verdict="short")
    return _compared(uncompared, curve=curve, measured=measured)


def _uncompared(curve: Curve, *, measured: Measured, allow_k: float) -> Verdict:
    """Return what is known before the reading itself is looked at: limit, band, temperature."""
    low_ohm, high_ohm = _expected_ohm(curve, t_c=measured.t_c, allow_k=allow_k)
    return Verdict(
        verdict="undecided",
        t_implied_c=None,
        error_k=None,
        limit_k=max(float(curve.tol_k(measured.t_c)), allow_k),
        limit_known=curve.tolerance_known or allow_k > 0,
        uncertainty_k=None,
        terms_k={
            "meter": 0.0,
            "thermometer": rectangular(measured.thermometer_half_k),
            "placement": rectangular(measured.placement_half_k),
            "curve": rectangular(law_half_k(curve, measured=measured)),
        },
        dominant=None,
        low_ohm=low_ohm,
        high_ohm=high_ohm,
    )


def law_half_k(curve: Curve, *, measured: Measured) -> float:
    """Return how far the curve may be off, in ± K: as the reading says, else the curve's own."""
    return float(curve.law_k(measured.t_c)) if measured.law_half_k is None else measured.law_half_k


def _over_range(uncompared: Verdict, *, curve: Curve, measured: Measured) -> Verdict:
    """Open, unless a good part could be beyond this meter's span today: then not decided."""
    reach_k = uncompared.limit_k + expanded_k(*uncompared.terms_k.values())
    ends_c = np.array([measured.t_c - reach_k, measured.t_c + reach_k])
    highest_ohm = float(np.max(curve.beyond_ohm(ends_c)))
    if max(highest_ohm, uncompared.high_ohm) >= measured.meter_span_ohm:
        return replace(uncompared, dominant="meter")
    return replace(uncompared, verdict="open")


def _compared(uncompared: Verdict, *, curve: Curve, measured: Measured) -> Verdict:
    """Hold the reading against the curve, in kelvin.

    Further past the curve's ends than limit and uncertainty together is off the curve; within them
    the end's slope goes on, as for the part's band there.
    """
    limit_k = uncompared.limit_k
    t_implied_c = float(curve.beyond_c(measured.r_ohm))
    inside_c = min(max(t_implied_c, curve.low_c), curve.high_c)
    rate = rate_k_per_ohm(curve, r_ohm=measured.r_ohm, inside_c=inside_c)
    meter_k = rectangular(measured.meter_half_ohm * rate)
    terms_k = {**uncompared.terms_k, "meter": meter_k}
    uncertainty_k = covered_k(terms_k)
    known = replace(uncompared, uncertainty_k=uncertainty_k, terms_k=terms_k)
    if abs(t_implied_c - inside_c) > limit_k + uncertainty_k:
        return replace(known, verdict="off-curve")

    error_k = t_implied_c - measured.t_c
    compared = replace(known, t_implied_c=t_implied_c, error_k=error_k)
    if not compared.limit_known:
        return compared
    decision = int(guard_banded_decision(error_k, limit=limit_k, uncertainty=uncertainty_k))
    if decision:
        return replace(compared, verdict="within" if decision > 0 else "outside")
    return replace(
        compared,
        dominant=max(TERMS, key=lambda term: terms_k[term]),
        settling=_settling(error_k, limit_k=limit_k, terms_k=terms_k),
    )


def _expected_ohm(curve: Curve, *, t_c: float, allow_k: float) -> tuple[float, float]:
    """Return the part's band, widened to the sensor's allowance."""
    ends_ohm = curve.beyond_ohm(np.array([t_c - allow_k, t_c + allow_k]))
    low_ohm = min(float(curve.low_ohm(t_c)), float(ends_ohm.min()))
    return low_ohm, max(float(curve.high_ohm(t_c)), float(ends_ohm.max()))


def rate_k_per_ohm(curve: Curve, *, r_ohm: float, inside_c: float) -> float:
    """Return |dT/dR| in K/Ω at a reading; past an end a falling curve goes on straight in ln R."""
    rate = 1 / abs(float(curve.slope_ohm_per_k(inside_c)))
    return rate * float(curve.r_ohm(inside_c)) / r_ohm if curve.falling else rate


def _settling(error_k: float, *, limit_k: float, terms_k: dict[str, float]) -> Settling:
    needed_k = abs(abs(error_k) - limit_k)

    left_k = {
        without: covered_k({term: u_k for term, u_k in terms_k.items() if term != without})
        for without in TERMS
    }
    deciding = sorted((term for term in TERMS if left_k[term] < needed_k), key=left_k.__getitem__)
    meter_k = covered_k({"meter": terms_k["meter"]})
    return Settling(
        needed_k=needed_k, terms=tuple(deciding), meter_k=meter_k, meter_can=meter_k < needed_k
    )
