"""One winding against the value its maker gives: brought to 20 °C, with the meter's error."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .verdict import guard_banded_decision, rectangular
from .winding_balance import STATES
from .winding_metal import corrected_to

TEMPERATURE_HALF_K = 2.0
"""How well the temperature of a winding that has cooled through is known, in K. Common practice,
no source: nobody's thermometer touches the copper."""


@dataclass(frozen=True, kw_only=True)
class WindingValue:
    """A winding beside its maker's value.

    Parameters
    ----------
    at_20_ohm, part_at_20_ohm : float
        The reading and the maker's value in Ω, both brought to 20 °C.
    off_share : float
        Departure from the maker's value, as a share of it.
    uncertainty_share : float
        U of that departure, from the meter and from the temperature.
    state : str
        "within", "outside" or "undecided"; "open"; "" where the maker gives no tolerance.
    """

    at_20_ohm: float
    part_at_20_ohm: float
    off_share: float
    uncertainty_share: float
    state: str


def winding_value(
    r_ohm: float,
    *,
    half_ohm: float,
    t_c: float,
    part_ohm: float,
    part_c: float,
    allowed_share: float | None,
    constant: float = 234.5,
    t_half_k: float = TEMPERATURE_HALF_K,
) -> WindingValue:
    """Return how a winding stands to the maker's value, guarded both ways as a verdict.

    Parameters
    ----------
    r_ohm, half_ohm : float
        The reading and the meter's half-width in Ω; infinity for over range.
    t_c, t_half_k : float
        Winding temperature in °C, the motor cooled through, and its half-width in K.
    part_ohm, part_c : float
        The maker's value in Ω, and the temperature in °C it holds at.
    allowed_share : float or None
        The maker's tolerance as a share; None if none is given.
    constant : float
        234.5 or 235 for copper, 225 for aluminium.
    """
    at_20_ohm = corrected_to(r_ohm, from_c=t_c, to_c=20.0, constant=constant)
    part_at_20_ohm = corrected_to(part_ohm, from_c=part_c, to_c=20.0, constant=constant)
    off_share, uncertainty_share, state = np.inf, 0.0, "open"
    if not np.isinf(r_ohm):
        off_share = at_20_ohm / part_at_20_ohm - 1
        half_at_20_ohm = corrected_to(half_ohm, from_c=t_c, to_c=20.0, constant=constant)
        uncertainty_share = _uncertainty_share(
            half_at_20_ohm / part_at_20_ohm,
            temperature_share=t_half_k * (at_20_ohm / part_at_20_ohm / (constant + t_c)),
        )
        state = _state(off_share, uncertainty_share=uncertainty_share, allowed_share=allowed_share)
    return WindingValue(
        at_20_ohm=at_20_ohm,
        part_at_20_ohm=part_at_20_ohm,
        off_share=off_share,
        uncertainty_share=uncertainty_share,
        state=state,
    )


def _uncertainty_share(meter_share: float, *, temperature_share: float) -> float:
    """U = 2 √(a_r² + a_t²)/√3 of two half-widths (JCGM 100, 4.3.7), the meter's and the other's.

    The temperature's is its half-width times 1/(constant + t), by which a winding changes per
    kelvin.
    """
    return 2 * rectangular(float(np.hypot(meter_share, temperature_share)))


def _state(off_share: float, *, uncertainty_share: float, allowed_share: float | None) -> str:
    if allowed_share is None:
        return ""
    decision = guard_banded_decision(off_share, limit=allowed_share, uncertainty=uncertainty_share)
    return STATES[int(decision)]
