"""Fit a straight sum of terms so that the worst point is as good as it can be."""

from __future__ import annotations

import numpy as np

_ROUNDS = 400


def minimax_fit(
    terms: np.ndarray, *, wanted: np.ndarray, allowed: np.ndarray
) -> tuple[np.ndarray, float]:
    """Return (coefficients, worst |residual| ÷ allowed) of wanted ≈ terms @ coefficients.

    Parameters
    ----------
    terms : ndarray, shape (n, m)
    wanted : ndarray, shape (n,)
    allowed : ndarray, shape (n,)
        What each residual may be; print rounding, so an ordinary least-squares fit asks the wrong
        question.

    Notes
    -----
    Lawson's iteration: weighted least squares, the weights drawn towards the worst points, the
    best fit seen kept; stopped as soon as every point is within what is allowed.

    Source: Rice and Usow, Math. Comp. 22 (1968) 118 (from memory).
    """
    size = np.linalg.norm(terms, axis=0)
    scaled, aim = terms / size / allowed[:, None], wanted / allowed
    weights = np.full(len(wanted), 1 / len(wanted))
    best, best_worst = np.zeros(terms.shape[1]), np.inf
    for _ in range(_ROUNDS):
        root = np.sqrt(weights)
        coefficients, *_ = np.linalg.lstsq(scaled * root[:, None], aim * root, rcond=None)
        off = np.abs(scaled @ coefficients - aim)
        if off.max() < best_worst:
            best, best_worst = coefficients, float(off.max())
        total = float(weights @ off)
        if best_worst <= 1 or total == 0:
            break
        weights = weights * off / total
    return best / size, best_worst
