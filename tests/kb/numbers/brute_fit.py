"""The best that one B value or three coefficients can do in kelvin, found by trying: no theory."""

from __future__ import annotations

import itertools

import numpy as np

ZERO_K = 273.15


def best_possible_k(t_c: np.ndarray, *, r_ohm: np.ndarray, powers: tuple[int, ...]) -> float:
    """Return the least largest |T(R) − T| that 1/T = Σ c (ln R)^power reaches over the rows.

    A curve is named by how far it is off at as many rows as it has coefficients, spread over the
    table; a grid of such figures is tried, then a smaller one about the best, thirty times over.
    A curve whose last coefficient is below zero is no curve of ours (it turns back), and is passed.
    """
    t_k, ln_r = t_c + ZERO_K, np.log(r_ohm)
    terms = ln_r[:, None] ** np.array(powers)
    nodes = np.linspace(0, len(t_c) - 1, len(powers)).round().astype(int)
    through = np.linalg.inv(terms[nodes])
    middle, reach = np.zeros(len(powers)), 8.0
    best = np.inf
    for _ in range(30):
        steps = np.linspace(-reach, reach, 13)
        off_k = middle + np.array(list(itertools.product(steps, repeat=len(powers))))
        coefficients = (1 / (t_k[nodes] + off_k)) @ through.T
        worst_k = np.abs(1 / (coefficients @ terms.T) - t_k).max(axis=1)
        worst_k[coefficients[:, -1] < 0] = np.inf
        at = int(np.argmin(worst_k))
        best = min(best, float(worst_k[at]))
        middle, reach = off_k[at], reach * 0.7
    return best
