"""Is a motor's PTC loop sound at this temperature? Against its limits: it has no curve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .measured import Measured
from .switching_ptc import SwitchingPtc
from .verdict import expanded_k, rectangular


@dataclass(frozen=True, kw_only=True)
class LoopVerdict:
    """The answer on a loop, and the limits it rests on.

    Parameters
    ----------
    verdict : str
        "within", "outside", "undecided", "open" or "short".
    low_ohm, high_ohm : float or None
        What the loop must read at the measured temperature at least and at most, in Ω.
    uncertainty_ohm : float or None
        Expanded uncertainty U of the reading in Ω; None where it was over range.
    dominant : str or None
        "meter", "thermometer" or "placement" where that is why nothing was decided.
    """

    verdict: str
    low_ohm: float | None
    high_ohm: float | None
    uncertainty_ohm: float | None
    dominant: str | None = None


def judge_loop(loop: SwitchingPtc, *, measured: Measured, short_ohm: float) -> LoopVerdict:
    """Return the verdict on one reading of the whole loop.

    Parameters
    ----------
    loop : SwitchingPtc
    measured : Measured
        All elements at its temperature: a motor cooled through.
    short_ohm : float
        Below this it is a short circuit.

    Raises
    ------
    ValueError
        Below −20 °C, where the standard promises nothing.

    Notes
    -----
    Guarded both ways in ohms by U of the meter. The limits are those of every temperature within U
    of the thermometer's: only what all of them say is said. Over range is open where the loop has
    a highest resistance; a tripped loop has none, so there it is undecided.
    """
    least, most = loop.limits_ohm(measured.t_c)
    told = {"low_ohm": least or None, "high_ohm": None if np.isinf(most) else float(most)}
    temperature_k = {
        "thermometer": rectangular(measured.thermometer_half_k),
        "placement": rectangular(measured.placement_half_k),
    }
    reach_k = expanded_k(*temperature_k.values())
    near_c = (max(measured.t_c - reach_k, -20.0), measured.t_c, measured.t_c + reach_k)
    limits = [loop.limits_ohm(t_c) for t_c in near_c]
    if np.isinf(measured.r_ohm):
        never = all(np.isfinite(highest) for _, highest in limits)
        return LoopVerdict(verdict="open" if never else "undecided", uncertainty_ohm=None, **told)
    uncertainty_ohm = 2 * rectangular(measured.meter_half_ohm)
    if measured.r_ohm < short_ohm:
        return LoopVerdict(verdict="short", uncertainty_ohm=uncertainty_ohm, **told)
    states = [_state(measured.r_ohm, uncertainty_ohm, limit) for limit in limits]
    if len({*states}) == 1 and states[0] in ("within", "outside"):
        return LoopVerdict(verdict=states[0], uncertainty_ohm=uncertainty_ohm, **told)
    dominant = None
    if states[1] in ("within", "outside"):
        dominant = max(temperature_k, key=lambda term: temperature_k[term])
    elif states[1] == "close":
        dominant = "meter"
    return LoopVerdict(
        verdict="undecided", uncertainty_ohm=uncertainty_ohm, dominant=dominant, **told
    )


def _state(r_ohm: float, uncertainty_ohm: float, limits_ohm: tuple[float, float]) -> str:
    """Return "within", "outside", "close" to a limit, or "free" where there is none."""
    least, most = limits_ohm
    if least == 0 and np.isinf(most):
        return "free"
    if r_ohm + uncertainty_ohm < least or r_ohm - uncertainty_ohm > most:
        return "outside"
    above = least == 0 or r_ohm - uncertainty_ohm >= least
    return "within" if above and r_ohm + uncertainty_ohm <= most else "close"
