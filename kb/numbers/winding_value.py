"""One winding against the value its maker gives: brought to 20 °C, with the meter's error."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .verdict import decided, rectangular
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
    """Return how a winding stands to the maker's value.

    Parameters
    ----------
    r_ohm, half_ohm : float
        The reading and the meter's half-width in Ω; infinity for over range.
    t_c : float
        Winding temperature in °C: the motor must have cooled through.
    part_ohm, part_c : float
        The maker's value in Ω, and the temperature in °C it holds at.
    allowed_share : float or None
        The maker's tolerance as a share; None if none is given.
    constant : float
        234.5 or 235 for copper, 225 for aluminium.
    t_half_k : float
        Half-width of that temperature in K.

    Notes
    -----
    U = 2 √(a_r² + a_t²)/√3 of two half-widths (JCGM 100, 4.3.7): the meter's, and the
    temperature's times 1/(constant + t), by which a winding changes per kelvin. Guarded both ways
    as a verdict.
    """
    at_20 = corrected_to(r_ohm, from_c=t_c, to_c=20.0, constant=constant)
    part_at_20 = corrected_to(part_ohm, from_c=part_c, to_c=20.0, constant=constant)
    if np.isinf(r_ohm):
        return WindingValue(
            at_20_ohm=np.inf,
            part_at_20_ohm=part_at_20,
            off_share=np.inf,
            uncertainty_share=0.0,
            state="open",
        )
    off = at_20 / part_at_20 - 1
    half_at_20 = corrected_to(half_ohm, from_c=t_c, to_c=20.0, constant=constant)
    per_k = at_20 / part_at_20 / (constant + t_c)
    uncertainty = 2 * rectangular(float(np.hypot(half_at_20 / part_at_20, t_half_k * per_k)))
    state = ""
    if allowed_share is not None:
        way = int(decided(off, limit_k=allowed_share, uncertainty_k=uncertainty))
        state = {1: "within", 0: "undecided", -1: "outside"}[way]
    return WindingValue(
        at_20_ohm=at_20,
        part_at_20_ohm=part_at_20,
        off_share=off,
        uncertainty_share=uncertainty,
        state=state,
    )
