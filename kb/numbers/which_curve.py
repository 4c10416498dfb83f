"""An unmarked sensor: which curves do these readings belong to?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .characteristic import Characteristic
from .grid import Grid
from .measured import Measured
from .out_of_range import OutOfRange
from .verdict import expanded_k, judge

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class Candidate:
    """One curve against all readings.

    Parameters
    ----------
    curve : str
        Its name.
    fits : bool
        True where no reading is outside limits on it: every |e| ≤ L + U.
    worst_k : float
        Largest |e| in K; infinity where a reading is off the curve or its temperature outside it.
    chi2 : float
        Sum of (e/u)², u of instruments and part tolerance together (rectangular).
    """

    curve: str
    fits: bool
    worst_k: float
    chi2: float


@dataclass(frozen=True, kw_only=True)
class Parting:
    """Where two curves that both fit would part.

    Parameters
    ----------
    at_c : float
        The temperature, of those both curves reach, nearest the readings where they part for
        certain; or where they differ most, if they never do.
    by_k : float
        Their difference there in K.
    needed_k : float
        What it must exceed there: both limits and twice U.
    """

    curves: tuple[str, str]
    at_c: float
    by_k: float
    needed_k: float

    @property
    def certain(self) -> bool:
        """True where a reading at `at_c` would tell the two apart."""
        return self.by_k > self.needed_k


@dataclass(frozen=True, kw_only=True)
class Which:
    """The ranking, the best first; separable where exactly one curve fits."""

    ranking: tuple[Candidate, ...]
    separable: bool
    parting: Parting | None


def which_curve(curves: Mapping[str, Curve], *, readings: Sequence[Measured]) -> Which:
    """Return which curves the readings belong to.

    Parameters
    ----------
    curves : mapping of name to curve
    readings : sequence of Measured
        One or more, at any temperatures.

    Raises
    ------
    ValueError
        If there is no reading.

    Notes
    -----
    Ranked by whether it fits, then chi2, then worst_k. Two curves that both fit are not told
    apart, however their ranks differ.
    """
    if not readings:
        raise ValueError("no reading to compare; give at least one temperature and resistance")
    ranking = sorted(
        (_candidate(name, curve, readings) for name, curve in curves.items()),
        key=lambda one: (not one.fits, one.chi2, one.worst_k, one.curve),
    )
    fitting = [one.curve for one in ranking if one.fits]
    parting = None
    if len(fitting) > 1:
        parting = _parting((fitting[0], fitting[1]), curves, readings)
    return Which(ranking=tuple(ranking), separable=len(fitting) == 1, parting=parting)


def _candidate(name: str, curve: Curve, readings: Sequence[Measured]) -> Candidate:
    fits, worst_k, chi2 = True, 0.0, 0.0
    for measured in readings:
        try:
            verdict = judge(curve, measured=measured)
        except OutOfRange:
            verdict = None
        if verdict is None or verdict.error_k is None or verdict.uncertainty_k is None:
            return Candidate(curve=name, fits=False, worst_k=np.inf, chi2=np.inf)
        off_k, reach_k = abs(verdict.error_k), verdict.limit_k + verdict.uncertainty_k
        fits &= off_k <= reach_k
        worst_k = max(worst_k, off_k)
        u2 = (verdict.uncertainty_k / 2) ** 2 + verdict.limit_k**2 / 3
        chi2 += off_k**2 / u2 if u2 > 0 else (0.0 if off_k == 0 else np.inf)
    return Candidate(curve=name, fits=fits, worst_k=worst_k, chi2=chi2)


def _parting(
    pair: tuple[str, str], curves: Mapping[str, Curve], readings: Sequence[Measured]
) -> Parting | None:
    one, other = curves[pair[0]], curves[pair[1]]
    low_c, high_c = max(one.low_c, other.low_c), min(one.high_c, other.high_c)
    if not low_c < high_c:
        return None
    t_c = np.linspace(low_c, high_c, 201)
    by_k = np.abs(other.beyond_c(one.r_ohm(t_c)) - t_c)
    temperature_k = max(
        expanded_k(m.thermometer_half_k / np.sqrt(3), m.placement_half_k / np.sqrt(3))
        for m in readings
    )
    # The meter's share of reading stays much the same, so its kelvin hardly change over the range.
    meter_k = max(
        2 * m.meter_half_ohm / np.sqrt(3) / abs(float(one.slope_ohm_per_k(m.t_c))) for m in readings
    )
    uncertainty_k = float(np.hypot(temperature_k, meter_k))
    needed_k = np.asarray(one.tol_k(t_c)) + np.asarray(other.tol_k(t_c)) + 2 * uncertainty_k
    part = np.flatnonzero(by_k > needed_k)
    centre_c = float(np.mean([m.t_c for m in readings]))
    at = int(part[np.argmin(np.abs(t_c[part] - centre_c))]) if part.size else int(np.argmax(by_k))
    return Parting(
        curves=pair, at_c=float(t_c[at]), by_k=float(by_k[at]), needed_k=float(needed_k[at])
    )
