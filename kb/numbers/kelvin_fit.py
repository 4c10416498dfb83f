"""Fit an NTC's formula so that the worst row is as few kelvin off as can be."""

from __future__ import annotations

import numpy as np

from .kelvin import kelvin
from .minimax import minimax_fit
from .ntc_beta import NtcBeta
from .ntc_polynomial import NtcPolynomial
from .steinhart_hart import SteinhartHart

_STEPS = 12
_HALVINGS = 6
_SETTLED = 1e-9


def beta_in_kelvin(t_c: np.ndarray, *, r_ohm: np.ndarray) -> NtcBeta:
    """Return the B value law whose worst row is as few kelvin off as can be.

    Raises
    ------
    ValueError
        If the rows do not fall.
    """
    start, per_k = _inverse_temperature(t_c, r_ohm=r_ohm, powers=(0, 1))
    if per_k <= 0:
        raise ValueError("resistance does not fall with temperature")
    at_c = 25.0
    ln_ref = (1 / kelvin(at_c) - start) / per_k
    return NtcBeta(r_ref=float(np.exp(ln_ref)), b_k=float(1 / per_k), at_c=at_c)


def steinhart_hart_in_kelvin(t_c: np.ndarray, *, r_ohm: np.ndarray) -> SteinhartHart:
    """Return the three coefficients whose worst row is as few kelvin off as can be.

    Raises
    ------
    ValueError
        If no such curve falls everywhere.

    Notes
    -----
    Where the best would have c below zero the best without it is taken: c = 0, one B value.
    """
    a, b, c = _inverse_temperature(t_c, r_ohm=r_ohm, powers=(0, 1, 3))
    if c < 0:
        (a, b), c = _inverse_temperature(t_c, r_ohm=r_ohm, powers=(0, 1)), 0.0
    return SteinhartHart(a=float(a), b=float(b), c=float(c))


def _inverse_temperature(
    t_c: np.ndarray, *, r_ohm: np.ndarray, powers: tuple[int, ...]
) -> np.ndarray:
    """Return coefficients of 1/T = Σ c (ln R)^power, the largest |T(R) − T| least.

    Notes
    -----
    The rows' 1/T weighed by T² is a start within a few per cent. From there each step is the best
    one for the kelvins made straight about the last, halved while it makes the worst row worse.
    """
    t_k, terms = kelvin(t_c), np.log(r_ohm)[:, None] ** np.array(powers)
    best, _ = minimax_fit(terms, wanted=1 / t_k, allowed=1 / t_k**2)
    worst_k = _worst_k(best, terms=terms, t_k=t_k)
    for _ in range(_STEPS):
        law_k = 1 / (terms @ best)
        slope = -(law_k[:, None] ** 2) * terms
        step, _ = minimax_fit(slope, wanted=t_k - law_k, allowed=np.ones_like(t_k))
        tried = [best + step / 2**half for half in range(_HALVINGS)]
        off_k = [_worst_k(coefficients, terms=terms, t_k=t_k) for coefficients in tried]
        at = int(np.argmin(off_k))
        if not off_k[at] < worst_k * (1 - _SETTLED):
            break
        best, worst_k = tried[at], off_k[at]
    return best


def _worst_k(coefficients: np.ndarray, *, terms: np.ndarray, t_k: np.ndarray) -> float:
    per_k = terms @ coefficients
    if np.any(per_k <= 0):
        return float("inf")
    return float(np.max(np.abs(1 / per_k - t_k)))


def polynomial_in_kelvin(t_c: np.ndarray, *, r_ohm: np.ndarray) -> NtcPolynomial:
    """Return the maker's four coefficients in 1/T, the worst row as few kelvin off as can be.

    Raises
    ------
    ValueError
        If the best of them turns back.

    Notes
    -----
    Four coefficients lie so close to their rows that kelvins are ln R over its slope there, B/T²:
    the slope of the last fit weighs the next.
    """
    t_k = kelvin(t_c)
    x = 1 / t_k
    middle, span = (x.max() + x.min()) / 2, (x.max() - x.min()) / 2
    terms = np.vander((x - middle) / span, 4, increasing=True)
    b_k = np.full_like(t_k, -np.polyfit(1 / t_k, np.log(r_ohm), 1)[0])
    for _ in range(3):
        allowed = np.abs(b_k) / t_k**2
        scaled, _ = minimax_fit(terms, wanted=np.log(r_ohm), allowed=allowed)
        shape = np.polynomial.Polynomial(scaled, domain=[x.min(), x.max()])
        b_k = shape.deriv()(x)
    return polynomial_law(shape)


def polynomial_law(shape: np.polynomial.Polynomial) -> NtcPolynomial:
    """Return the maker's form of ln R as a polynomial in 1/T: A for the resistance at 25 °C."""
    ln_a, b, c, d = shape.convert().coef
    r_ref = float(np.exp(shape(1 / kelvin(25.0))))
    return NtcPolynomial(
        r_ref=r_ref, a=float(ln_a - np.log(r_ref)), b=float(b), c=float(c), d=float(d)
    )
