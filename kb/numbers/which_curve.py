"""An unmarked sensor: which curves do these readings belong to?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .characteristic import Characteristic
from .curve_pair import shared_places_c
from .grid import Grid
from .measured import Measured
from .out_of_range import OutOfRange
from .verdict import expanded_k, judge

Curve = Characteristic | Grid

_PLACES = 201


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
        What it must exceed there: both limits, and U on each of the two.
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
        (_candidate(name, curve=curve, readings=readings) for name, curve in curves.items()),
        key=lambda rank: (not rank.fits, rank.chi2, rank.worst_k, rank.curve),
    )
    fitting = [candidate.curve for candidate in ranking if candidate.fits]
    parting = None
    if len(fitting) > 1:
        parting = _parting((fitting[0], fitting[1]), curves=curves, readings=readings)
    return Which(ranking=tuple(ranking), separable=len(fitting) == 1, parting=parting)


def _candidate(name: str, *, curve: Curve, readings: Sequence[Measured]) -> Candidate:
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
        u2 = sum(u_k**2 for u_k in verdict.terms_k.values()) + verdict.limit_k**2 / 3
        chi2 += off_k**2 / u2 if u2 > 0 else (0.0 if off_k == 0 else np.inf)
    return Candidate(curve=name, fits=fits, worst_k=worst_k, chi2=chi2)


def _parting(
    pair: tuple[str, str], *, curves: Mapping[str, Curve], readings: Sequence[Measured]
) -> Parting | None:
    first, second = curves[pair[0]], curves[pair[1]]
    t_c = shared_places_c(first, other=second, count=_PLACES)
    if t_c is None:
        return None
    by_k = np.abs(second.beyond_c(first.r_ohm(t_c)) - t_c)
    taken_k = _uncertainty_k(readings, curve=first)
    needed_k = sum(
        np.asarray(curve.tol_k(t_c)) + np.hypot(taken_k, 2 * curve.law_k(t_c) / np.sqrt(3))
        for curve in (first, second)
    )
    apart = np.flatnonzero(by_k > needed_k)
    centre_c = float(np.mean([measured.t_c for measured in readings]))
    nearest = np.argmin(np.abs(t_c[apart] - centre_c)) if apart.size else 0
    at = int(apart[nearest]) if apart.size else int(np.argmax(by_k))
    return Parting(
        curves=pair, at_c=float(t_c[at]), by_k=float(by_k[at]), needed_k=float(needed_k[at])
    )


def _uncertainty_k(readings: Sequence[Measured], *, curve: Curve) -> float:
    """Return U in K that another reading with these instruments would have, the curve apart.

    The meter's share of reading stays much the same, so its kelvin hardly change over the range.
    """
    temperature_k = max(
        expanded_k(measured.thermometer_half_k / np.sqrt(3), measured.placement_half_k / np.sqrt(3))
        for measured in readings
    )
    meter_k = max(
        2 * measured.meter_half_ohm / np.sqrt(3) / abs(float(curve.slope_ohm_per_k(measured.t_c)))
        for measured in readings
    )
    return float(np.hypot(temperature_k, meter_k))
