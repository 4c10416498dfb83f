"""Is a motor's PTC loop sound at this temperature? Against its limits: it has no curve."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .measured import Measured
from .switching_ptc import LOW_C, SHORTED_OHM, SwitchingPtc
from .verdict import expanded_k, rectangular

DECIDED = ("within", "outside")


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
        Why nothing was decided: "meter", "thermometer" or "placement"; "short" for a reading too
        close to a shorted loop's, "usual" for less than such loops usually read.
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
        Below this the team calls any reading a short circuit.

    Raises
    ------
    ValueError
        Below −20 °C, where the standard promises nothing.

    Notes
    -----
    Guarded both ways in ohms by U of the meter. The limits are those of every temperature within U
    of the thermometer's: only what all of them say is said. Over range is open where the loop has
    a highest resistance; a tripped loop has none, so there it is undecided.

    The standard sets no least resistance of a cold loop. Below `SHORTED_OHM` it is shorted all the
    same; from there up to `usual_least_ohm` it is never called sound.
    """
    undecided = _undecided(loop.limits_ohm(measured.t_c))
    limits_ohm = _limits_ohm(loop, measured=measured)
    if np.isinf(measured.r_ohm):
        never = all(np.isfinite(highest_ohm) for _, highest_ohm in limits_ohm)
        return replace(undecided, verdict="open") if never else undecided
    uncertainty_ohm = 2 * rectangular(measured.meter_half_ohm)
    read = replace(undecided, uncertainty_ohm=uncertainty_ohm)
    if measured.r_ohm < short_ohm or measured.r_ohm + uncertainty_ohm < SHORTED_OHM:
        return replace(read, verdict="short")
    if measured.r_ohm - uncertainty_ohm < SHORTED_OHM:
        return replace(read, dominant="short")
    states = [
        _state(measured.r_ohm, uncertainty_ohm=uncertainty_ohm, limits_ohm=pair)
        for pair in limits_ohm
    ]
    if "outside" not in states and measured.r_ohm < loop.usual_least_ohm:
        return replace(read, dominant="usual")
    if len({*states}) == 1 and states[0] in DECIDED:
        return replace(read, verdict=states[0])
    return replace(read, dominant=_dominant(states[0], measured=measured))


def _undecided(limits_ohm: tuple[float, float]) -> LoopVerdict:
    least_ohm, most_ohm = limits_ohm
    return LoopVerdict(
        verdict="undecided",
        low_ohm=least_ohm or None,
        high_ohm=None if np.isinf(most_ohm) else float(most_ohm),
        uncertainty_ohm=None,
    )


def _temperature_k(measured: Measured) -> dict[str, float]:
    """Return the standard uncertainty in K of thermometer and placement."""
    return {
        "thermometer": rectangular(measured.thermometer_half_k),
        "placement": rectangular(measured.placement_half_k),
    }


def _limits_ohm(loop: SwitchingPtc, *, measured: Measured) -> list[tuple[float, float]]:
    """Return the limits at the temperature measured, and U colder and hotter."""
    reach_k = expanded_k(*_temperature_k(measured).values())
    coldest_c = max(measured.t_c - reach_k, LOW_C)
    return [loop.limits_ohm(t_c) for t_c in (measured.t_c, coldest_c, measured.t_c + reach_k)]


def _dominant(state: str, *, measured: Measured) -> str | None:
    """Return why nothing was decided, from the state at the temperature measured."""
    if state in DECIDED:
        temperature_k = _temperature_k(measured)
        return max(temperature_k, key=lambda term: temperature_k[term])
    return "meter" if state == "close" else None


def _state(r_ohm: float, *, uncertainty_ohm: float, limits_ohm: tuple[float, float]) -> str:
    """Return "within", "outside", "close" to a limit, or "free" where there is none."""
    least_ohm, most_ohm = limits_ohm
    if least_ohm == 0 and np.isinf(most_ohm):
        return "free"
    if r_ohm + uncertainty_ohm < least_ohm or r_ohm - uncertainty_ohm > most_ohm:
        return "outside"
    above = least_ohm == 0 or r_ohm - uncertainty_ohm >= least_ohm
    return "within" if above and r_ohm + uncertainty_ohm <= most_ohm else "close"
