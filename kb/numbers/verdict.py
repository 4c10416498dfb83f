"""Is this reading right for this temperature, given the part's and the instruments' errors?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from .characteristic import Characteristic
from .grid import Grid
from .measured import Measured

VERDICTS = ("within", "outside", "undecided", "open", "short", "off-curve")
TERMS = ("meter", "thermometer", "placement")

SHORT_OHM = 10.0
"""Below this, or a tenth of the curve's lowest resistance, it is a short. Common practice."""


@dataclass(frozen=True, kw_only=True)
class Settling:
    """What it would take to decide.

    Parameters
    ----------
    needed_k : float
        The expanded uncertainty in K that would just decide.
    terms : tuple of str
        Those of meter, thermometer, placement that alone, made perfect, would decide; best first.
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
        Expanded uncertainty U = 2u in K.
    terms_k : dict of str to float
        Standard uncertainty in K of meter, thermometer, placement.
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


def decided(error_k: ArrayLike, *, limit_k: ArrayLike, uncertainty_k: ArrayLike) -> np.ndarray:
    """Return 1 within, −1 outside, 0 not decided; shapes broadcast.

    Notes
    -----
    Guarded both ways: |e| ≤ L − U is within, |e| > L + U is outside.

    Source: JCGM 106:2012, clause 8.3; ILAC-G8:09/2019, guard band of U.
    """
    off_k = np.abs(error_k)
    within = off_k <= np.asarray(limit_k) - uncertainty_k
    outside = off_k > np.asarray(limit_k) + uncertainty_k
    return within.astype(int) - outside.astype(int)


def rectangular(half_width: float) -> float:
    """Return the standard uncertainty of a value equally likely anywhere within ± half_width.

    Source: JCGM 100:2008, 4.3.7: half_width/√3.
    """
    return float(half_width) / 3**0.5


def expanded_k(*terms_k: float) -> float:
    """Return U = 2u in K from standard uncertainties in K (JCGM 100, coverage factor 2)."""
    return 2 * float(np.sqrt(np.sum(np.square(terms_k))))


def short_below_ohm(curve: Characteristic | Grid, *, at_most_ohm: float | None = None) -> float:
    """Return the resistance in Ω below which a reading is a short on this curve.

    Whatever the team says (`at_most_ohm`), it never reaches into the curve.
    """
    most = SHORT_OHM if at_most_ohm is None else at_most_ohm
    return min(most, curve.range_ohm[0] / 10)


def judge(
    curve: Characteristic | Grid,
    *,
    measured: Measured,
    allow_k: float = 0.0,
    short_ohm: float | None = None,
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
    In order: over range is open, unless a good part could be beyond this meter's span today, when
    nothing is decided; under the short threshold is a short; further past the curve's ends than
    limit and uncertainty together is off the curve; then the guarded comparison in kelvin. Within
    limit and uncertainty of an end the end's slope goes on, as for the part's band there.

    u² = (a_r |dT/dR|)²/3 + a_t²/3 + a_p²/3 with half-widths a, rectangular (JCGM 100, 4.3.7).
    """
    t_c = measured.t_c
    limit_k = max(float(curve.tol_k(t_c)), allow_k)
    limit_known = curve.tolerance_known or allow_k > 0
    temperature_k = {
        "thermometer": rectangular(measured.thermometer_half_k),
        "placement": rectangular(measured.placement_half_k),
    }
    low_ohm, high_ohm = _expected_ohm(curve, t_c=t_c, allow_k=allow_k)

    def answer(verdict: str, *, compared: dict[str, object] | None = None) -> Verdict:
        figures: dict[str, object] = {
            "t_implied_c": None,
            "error_k": None,
            "uncertainty_k": None,
            "terms_k": {"meter": 0.0, **temperature_k},
            "dominant": None,
        }
        return Verdict(
            verdict=verdict,
            limit_k=limit_k,
            limit_known=limit_known,
            low_ohm=low_ohm,
            high_ohm=high_ohm,
            **(figures | (compared or {})),
        )

    if np.isinf(measured.r_ohm):
        reach_k = limit_k + expanded_k(*temperature_k.values())
        highest_ohm = float(np.max(curve.beyond_ohm(np.array([t_c - reach_k, t_c + reach_k]))))
        if max(highest_ohm, high_ohm) >= measured.meter_span_ohm:
            return answer("undecided", compared={"dominant": "meter"})
        return answer("open")
    if measured.r_ohm == 0 or measured.r_ohm < short_below_ohm(curve, at_most_ohm=short_ohm):
        return answer("short")

    t_implied_c = float(curve.beyond_c(measured.r_ohm))
    inside_c = min(max(t_implied_c, curve.low_c), curve.high_c)
    rate_k_per_ohm = _rate_k_per_ohm(curve, r_ohm=measured.r_ohm, inside_c=inside_c)
    terms_k = {"meter": rectangular(measured.meter_half_ohm * rate_k_per_ohm), **temperature_k}
    uncertainty_k = expanded_k(*terms_k.values())
    if abs(t_implied_c - inside_c) > limit_k + uncertainty_k:
        return answer("off-curve", compared={"uncertainty_k": uncertainty_k, "terms_k": terms_k})

    error_k = t_implied_c - t_c
    way = int(decided(error_k, limit_k=limit_k, uncertainty_k=uncertainty_k))
    compared: dict[str, object] = {
        "t_implied_c": t_implied_c,
        "error_k": error_k,
        "uncertainty_k": uncertainty_k,
        "terms_k": terms_k,
    }
    if not limit_known:
        return answer("undecided", compared=compared)
    if way:
        return answer("within" if way > 0 else "outside", compared=compared)
    compared["dominant"] = max(TERMS, key=lambda term: terms_k[term])
    compared["settling"] = _settling(error_k, limit_k=limit_k, terms_k=terms_k)
    return answer("undecided", compared=compared)


def _expected_ohm(
    curve: Characteristic | Grid, *, t_c: float, allow_k: float
) -> tuple[float, float]:
    """Return the part's band, widened to the sensor's allowance."""
    ends = curve.beyond_ohm(np.array([t_c - allow_k, t_c + allow_k]))
    low_ohm = min(float(curve.low_ohm(t_c)), float(ends.min()))
    return low_ohm, max(float(curve.high_ohm(t_c)), float(ends.max()))


def _rate_k_per_ohm(curve: Characteristic | Grid, *, r_ohm: float, inside_c: float) -> float:
    """|dT/dR| at the reading; past an end a falling curve goes on straight in ln R."""
    rate = 1 / abs(float(curve.slope_ohm_per_k(inside_c)))
    return rate * float(curve.r_ohm(inside_c)) / r_ohm if curve.falling else rate


def _settling(error_k: float, *, limit_k: float, terms_k: dict[str, float]) -> Settling:
    needed_k = abs(abs(error_k) - limit_k)

    def left_without(term: str) -> float:
        return expanded_k(*(value for name, value in terms_k.items() if name != term))

    would = sorted((t for t in TERMS if left_without(t) < needed_k), key=left_without)
    meter_k = expanded_k(terms_k["meter"])
    return Settling(
        needed_k=needed_k, terms=tuple(would), meter_k=meter_k, meter_can=meter_k < needed_k
    )
