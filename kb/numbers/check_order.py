"""Which suspect to check first: least expected minutes until the fault is found."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

AUTHORED_WORTH_CASES = 10.0
"""The notes' own shares count as much as ten past cases. Common practice, no source."""


def shares_with_cases(weights: Sequence[float], *, counts: Sequence[int]) -> np.ndarray:
    """Return each suspect's share, shape (n,), summing to one.

    Parameters
    ----------
    weights : sequence of float, length n
        Authored weights, above zero; they need not sum to one.
    counts : sequence of int, length n
        Past cases in which it was the cause.

    Notes
    -----
    (10 w + c)/(10 + Σc), w the weights made to sum to one: a few cases shift the shares gently, a
    hundred of them outweigh what was written.
    """
    w = np.asarray(weights, dtype=float)
    c = np.asarray(counts, dtype=float)
    if w.shape != c.shape or w.ndim != 1 or not w.size:
        raise ValueError(f"{w.size} weights and {c.size} counts; each suspect needs one of each")
    if not (np.all(w > 0) and np.all(c >= 0)):
        raise ValueError("weights are above zero and counts not below it")
    return (AUTHORED_WORTH_CASES * w / w.sum() + c) / (AUTHORED_WORTH_CASES + c.sum())


def order_checks(shares: Sequence[float] | np.ndarray, *, minutes: Sequence[float]) -> list[int]:
    """Return the suspects' indices in the order to check them: share ÷ minutes, largest first.

    That is the order of least expected time where one fault is present and the checks are
    independent; equals keep the order they were written in.
    """
    rate = np.asarray(shares, dtype=float) / _above_zero(minutes)
    return [int(i) for i in np.argsort(-rate, kind="stable")]


def expected_minutes(
    shares: Sequence[float] | np.ndarray, *, minutes: Sequence[float], order: Sequence[int]
) -> float:
    """Return the expected minutes until the fault is found, checking in `order`.

    Notes
    -----
    Σ share × all minutes up to and with its check; the shares are made to sum to one.
    """
    s = np.asarray(shares, dtype=float)[list(order)]
    return float(s @ np.cumsum(_above_zero(minutes)[list(order)]) / s.sum())


def _above_zero(minutes: Sequence[float]) -> np.ndarray:
    m = np.asarray(minutes, dtype=float)
    if not np.all(m > 0):
        raise ValueError("every check takes some minutes; write a time above zero")
    return m
