"""Insulation at its very limit, read by a tester and a thermometer that are off: how often misjudged."""

from __future__ import annotations

import numpy as np

from kb.numbers.insulation import HIGH_C, LOW_C, factor_to_40, judge_insulation
from kb.numbers.winding_value import TEMPERATURE_HALF_K

LIMIT_OHM = 5e6
JUST = 1e-9


def risks(
    *,
    t_c: float,
    percent: float,
    material: str,
    counted: bool = True,
    count: int = 1000,
    seed: int = 5,
) -> tuple[float, float]:
    """Return the share that passes just below its limit, and that fails just above.

    Parameters
    ----------
    t_c : float
        What the thermometer shows in °C; the winding is somewhere within ± TEMPERATURE_HALF_K.
    percent : float
        The tester's ± per cent of reading: what is there lies within that of what it shows.
    counted : bool
        Whether the temperature's error is in the budget, as it was not before.
    """
    rng = np.random.default_rng(seed)
    true_c = np.clip(t_c + TEMPERATURE_HALF_K * rng.uniform(-1, 1, count), LOW_C, HIGH_C)
    there_ohm = LIMIT_OHM / factor_to_40(true_c, material=material)
    shown_ohm = there_ohm / (1 + percent / 100 * rng.uniform(-1, 1, count))
    how = {"t_c": t_c, "percent": percent, "material": material}
    how |= {"t_half_k": TEMPERATURE_HALF_K if counted else 0.0}
    shares = []
    for edge, state in ((-JUST, "within"), (JUST, "outside")):
        judged = [judge_insulation(r_ohm * (1 + edge), **how).state for r_ohm in shown_ohm.tolist()]
        shares.append(judged.count(state) / count)
    return shares[0], shares[1]
