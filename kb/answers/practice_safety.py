"""Safe before hands go in: what has to be done first, and what a voltage tester says of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .practice_machine import PracticeMachine

STEPS = ("isolate", "lock", "prove")
"""In this order; between locking and proving the charge takes its minutes."""
STEP_MINUTES = {"isolate": 2.0, "lock": 1.0, "prove": 3.0, "power": 3.0}
"""What each takes. Common practice, no source."""
LEFT_SHARE = 0.8
"""What stands after the notes' minutes, of what counts as drained."""


@dataclass(frozen=True, kw_only=True)
class Proof:
    """What the voltage tester says.

    Parameters
    ----------
    state : str
        "live", "charged" or "dead".
    volts : float
        Direct, of the stored charge; 0 where the supply still stands.
    """

    state: str
    volts: float


def next_step(done: Sequence[str]) -> str:
    """Return the first of STEPS that is still to do; "" where hands may go in."""
    return next((step for step in STEPS if step not in done), "")


def charge_left_v(machine: PracticeMachine, *, minutes: float) -> float:
    """Return the volts of the stored charge so long after isolating.

    Notes
    -----
    It falls exponentially, so that the notes' minutes bring it just below what counts as drained.
    """
    if machine.charge_v <= 0 or machine.wait_min <= 0:
        return 0.0
    end_v = LEFT_SHARE * machine.drained_v
    falls = math.log(machine.charge_v / end_v) / machine.wait_min
    return machine.charge_v * math.exp(-falls * minutes)


def prove(machine: PracticeMachine, *, done: Sequence[str], minutes: float) -> Proof:
    """Return what a voltage tester says, so many minutes after isolating."""
    if "isolate" not in done:
        return Proof(state="live", volts=0.0)
    volts = charge_left_v(machine, minutes=minutes)
    return Proof(state="dead" if volts < machine.drained_v else "charged", volts=volts)
