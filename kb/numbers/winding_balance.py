"""A motor's windings: equal within a few per cent, as far as the meter's digits tell?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .verdict import decided
from .winding_metal import corrected_to


@dataclass(frozen=True, kw_only=True)
class Winding:
    """One pair of leads.

    Parameters
    ----------
    r_ohm, at_20_ohm : float
        Ω as read, and brought to 20 °C.
    off_share : float
        Departure from the mean, as a share of it.
    uncertainty_share : float
        U of that departure from what the meter leaves between readings.
    state : str
        "within", "outside" or "undecided" against the allowed departure; "open"; "" if no limit.
    """

    r_ohm: float
    at_20_ohm: float
    off_share: float
    uncertainty_share: float
    state: str


@dataclass(frozen=True, kw_only=True)
class Balance:
    """All windings together.

    Parameters
    ----------
    state : str
        The worst of the windings': "open", "outside", "undecided", "within", or "" if no limit.
    mean_at_20_ohm : float or None
    worst_share : float or None
        Largest departure from the mean, as a share.
    constant : float
        The winding constant used: state it with the result.
    """

    state: str
    mean_at_20_ohm: float | None
    worst_share: float | None
    constant: float
    windings: dict[str, Winding]


def winding_balance(
    readings_ohm: Mapping[str, float],
    *,
    half_widths_ohm: Mapping[str, float],
    t_c: float,
    allowed_share: float | None,
    constant: float = 234.5,
) -> Balance:
    """Return how equal the windings are.

    Parameters
    ----------
    readings_ohm : mapping of lead pair to Ω
        At least two, windings that should be equal; infinity for over range.
    half_widths_ohm : mapping of lead pair to Ω
        How far each may be off the others: one digit of the range they were read on.
    t_c : float
        Winding temperature in °C: the motor must have cooled through.
    allowed_share : float or None
        Greatest departure from the mean, as a share; None if nobody gave one.
    constant : float
        234.5 or 235 for copper, 225 for aluminium.

    Notes
    -----
    The half-widths are what may differ from reading to reading: errors of gain and zero are the
    same in all of them and cancel, where one meter read them on one range within a minute
    (`Meter.beside_half_ohm`; common practice, no source). Guarded both ways as a verdict.
    """
    if len(readings_ohm) < 2:
        raise ValueError("balance compares at least two windings; read every pair of leads")
    names = list(readings_ohm)
    r_ohm = np.array([readings_ohm[name] for name in names], dtype=float)
    if not np.all(r_ohm > 0):
        raise ValueError(
            "a winding reads above zero; a reading of zero needs a meter for milliohms"
        )
    at_20 = np.asarray(corrected_to(r_ohm, from_c=t_c, to_c=20.0, constant=constant))
    if np.any(np.isinf(r_ohm)):
        windings = {
            name: Winding(
                r_ohm=float(r),
                at_20_ohm=float(r20),
                off_share=np.nan,
                uncertainty_share=np.nan,
                state="open" if np.isinf(r) else "",
            )
            for name, r, r20 in zip(names, r_ohm, at_20, strict=True)
        }
        return Balance(
            state="open",
            mean_at_20_ohm=None,
            worst_share=None,
            constant=constant,
            windings=windings,
        )
    mean = r_ohm.mean()
    off = r_ohm / mean - 1
    u2 = np.array([half_widths_ohm[name] for name in names]) ** 2 / 3
    n = len(names)
    # d(R_i/mean): own reading counts 1 - 1/n, every other 1/n.
    uncertainty = 2 * np.sqrt((1 - 2 / n) * u2 + u2.sum() / n**2) / mean
    states = _states(off, uncertainty, allowed_share)
    windings = {
        name: Winding(
            r_ohm=float(r_ohm[i]),
            at_20_ohm=float(at_20[i]),
            off_share=float(off[i]),
            uncertainty_share=float(uncertainty[i]),
            state=states[i],
        )
        for i, name in enumerate(names)
    }
    worst = next((s for s in ("outside", "undecided", "within") if s in states), "")
    return Balance(
        state=worst,
        mean_at_20_ohm=float(at_20.mean()),
        worst_share=float(np.abs(off).max()),
        constant=constant,
        windings=windings,
    )


def _states(off: np.ndarray, uncertainty: np.ndarray, allowed: float | None) -> list[str]:
    if allowed is None:
        return [""] * len(off)
    ways = decided(off, limit_k=allowed, uncertainty_k=uncertainty)
    return [{1: "within", 0: "undecided", -1: "outside"}[int(way)] for way in ways]
