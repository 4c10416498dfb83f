"""Fit a straight sum of terms so that the worst point is as good as it can be."""

from __future__ import annotations

import numpy as np

_ROUNDS = 400
_LEVEL = 1e-9


def minimax_fit(
    terms: np.ndarray, *, wanted: np.ndarray, allowed: np.ndarray
) -> tuple[np.ndarray, float]:
    """Return (coefficients, worst |residual| ÷ allowed) of wanted ≈ terms @ coefficients.

    Parameters
    ----------
    terms : ndarray, shape (n, m)
    wanted : ndarray, shape (n,)
    allowed : ndarray, shape (n,)
        What each residual may be, such as its print rounding: an ordinary least-squares fit asks
        the wrong question.

    Notes
    -----
    Exchange: m + 1 points fix the level at which all of them are equally far off; the worst point
    takes the place of that one of them with which the level rises most, until no point is further
    off than the level. With m points or fewer every one is met.

    Source: Stiefel, Numer. Math. 1 (1959) 1, on discrete straight approximation (from memory).
    """
    count, needs = terms.shape
    size = np.linalg.norm(terms, axis=0)
    scaled, aim = terms / size / allowed[:, None], wanted / allowed
    if count <= needs:
        found, *_ = np.linalg.lstsq(scaled, aim, rcond=None)
        return found / size, float(np.max(np.abs(scaled @ found - aim), initial=0.0))
    chosen = np.unique(np.linspace(0, count - 1, needs + 1).astype(int))
    level, best = _levelled(scaled[chosen], aim=aim[chosen])
    for _ in range(_ROUNDS):
        off = np.abs(scaled @ best - aim)
        worst = int(np.argmax(off))
        if off[worst] <= level * (1 + _LEVEL) or worst in chosen:
            break
        tried = [np.append(np.delete(chosen, i), worst) for i in range(needs + 1)]
        found_at = [_levelled(scaled[points], aim=aim[points]) for points in tried]
        at = int(np.argmax([raised for raised, _ in found_at]))
        if found_at[at][0] <= level:
            break
        chosen, (level, best) = tried[at], found_at[at]
    return best / size, float(np.abs(scaled @ best - aim).max())


def _levelled(terms: np.ndarray, *, aim: np.ndarray) -> tuple[float, np.ndarray]:
    """Return (level, coefficients) at which m + 1 points are all equally far off."""
    # What the points say against each other: the one combination of rows that terms cannot make.
    _, _, across = np.linalg.svd(terms.T)
    against = across[-1]
    signs = np.where(against < 0, -1.0, 1.0)
    level = float(against @ aim / np.abs(against).sum())
    found, *_ = np.linalg.lstsq(terms, aim - level * signs, rcond=None)
    return abs(level), found
