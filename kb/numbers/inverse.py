"""Find the temperature at which a law reads a resistance, where no formula turns it round."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

_NODES = 257
_DONE_K = 1e-11
_MOST_STEPS = 40

Shape = Callable[["np.ndarray"], "np.ndarray"]


def first_guess(r_ohm: Shape, *, low_c: float, high_c: float) -> tuple[np.ndarray, np.ndarray]:
    """Return (ln R rising, t_c beside it): a coarse table to start from, once per law."""
    t_c = np.linspace(low_c, high_c, _NODES)
    ln_r = np.log(r_ohm(t_c))
    return (ln_r[::-1], t_c[::-1]) if ln_r[0] > ln_r[-1] else (ln_r, t_c)


def invert(
    wanted_ohm: np.ndarray,
    *,
    r_ohm: Shape,
    slope_ohm_per_k: Shape,
    guess: tuple[np.ndarray, np.ndarray],
) -> np.ndarray:
    """Return t_c, shape of `wanted_ohm`, with r_ohm(t_c) equal to it.

    Newton on ln R, which is nearly straight for every law here, from a guess good to a fraction of
    a kelvin; kept inside the two coarse nodes around it, so it cannot run away.

    Raises
    ------
    ArithmeticError
        If it has not settled to 1e-11 K after 40 steps: the law is not monotone.
    """
    ln_nodes, t_nodes = guess
    ln_wanted = np.log(wanted_ohm)
    right = np.clip(np.searchsorted(ln_nodes, ln_wanted), 1, len(ln_nodes) - 1)
    low_c = np.minimum(t_nodes[right - 1], t_nodes[right])
    high_c = np.maximum(t_nodes[right - 1], t_nodes[right])
    t_c = np.clip(np.interp(ln_wanted, ln_nodes, t_nodes), low_c, high_c)
    for _ in range(_MOST_STEPS):
        now_ohm = r_ohm(t_c)
        step_k = (np.log(now_ohm) - ln_wanted) * now_ohm / slope_ohm_per_k(t_c)
        moved_c = np.clip(t_c - step_k, low_c, high_c)
        if np.all(np.abs(moved_c - t_c) <= _DONE_K * np.maximum(1.0, np.abs(t_c))):
            return moved_c
        t_c = moved_c
    raise ArithmeticError("the temperature does not settle: resistance is not monotone here")
