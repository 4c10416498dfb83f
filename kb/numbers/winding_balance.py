"""A motor's windings: equal within a few per cent, as far as the meter's digits tell?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .verdict import guard_banded_decision
from .winding_metal import corrected_to

STATES = {1: "within", 0: "undecided", -1: "outside"}
"""Guarded decision → state."""

WORST_FIRST = ("outside", "undecided", "within")


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
    """Return how equal the windings are, guarded both ways as a verdict.

    Parameters
    ----------
    readings_ohm : mapping of lead pair to Ω
        At least two, windings that should be equal; infinity for over range.
    half_widths_ohm : mapping of lead pair to Ω
        How far each may be off the others (`Meter.beside_half_ohm`).
    t_c : float
        Winding temperature in °C: the motor must have cooled through.
    allowed_share : float or None
        Greatest departure from the mean, as a share; None if nobody gave one.
    constant : float
        234.5 or 235 for copper, 225 for aluminium.
    """
    if len(readings_ohm) < 2:
        raise ValueError("balance compares at least two windings; read every pair of leads")
    r_ohm = np.array(list(readings_ohm.values()), dtype=float)
    if not np.all(r_ohm > 0):
        raise ValueError(
            "a winding reads above zero; a reading of zero needs a meter for milliohms"
        )
    at_20_ohm = corrected_to(r_ohm, from_c=t_c, to_c=20.0, constant=constant)
    if np.any(np.isinf(r_ohm)):
        return _broken(list(readings_ohm), r_ohm=r_ohm, at_20_ohm=at_20_ohm, constant=constant)
    half_ohm = np.array([half_widths_ohm[pair] for pair in readings_ohm])
    off_share, uncertainty_share = _departures(r_ohm, half_ohm=half_ohm)
    states = _states(off_share, uncertainty_share=uncertainty_share, allowed_share=allowed_share)
    columns = (r_ohm, at_20_ohm, off_share, uncertainty_share)
    rows = zip(*(column.tolist() for column in columns), states, strict=True)
    return Balance(
        state=next((state for state in WORST_FIRST if state in states), ""),
        mean_at_20_ohm=float(at_20_ohm.mean()),
        worst_share=float(np.abs(off_share).max()),
        constant=constant,
        windings=dict(zip(readings_ohm, map(_winding, rows), strict=True)),
    )


def _winding(row: tuple[float, float, float, float, str]) -> Winding:
    r_ohm, at_20_ohm, off_share, uncertainty_share, state = row
    return Winding(
        r_ohm=r_ohm,
        at_20_ohm=at_20_ohm,
        off_share=off_share,
        uncertainty_share=uncertainty_share,
        state=state,
    )


def _broken(
    pairs: list[str], *, r_ohm: np.ndarray, at_20_ohm: np.ndarray, constant: float
) -> Balance:
    """Return the balance where a winding is open: nothing is compared."""
    windings = {
        pair: Winding(
            r_ohm=float(r_ohm[i]),
            at_20_ohm=float(at_20_ohm[i]),
            off_share=np.nan,
            uncertainty_share=np.nan,
            state="open" if np.isinf(r_ohm[i]) else "",
        )
        for i, pair in enumerate(pairs)
    }
    return Balance(
        state="open", mean_at_20_ohm=None, worst_share=None, constant=constant, windings=windings
    )


def _departures(r_ohm: np.ndarray, *, half_ohm: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return each reading's departure from the mean and its U, as shares of the mean."""
    mean_ohm, count = r_ohm.mean(), len(r_ohm)
    u2 = half_ohm**2 / 3
    # d(R_i/mean): own reading counts 1 - 1/n, every other 1/n.
    uncertainty_share = 2 * np.sqrt((1 - 2 / count) * u2 + u2.sum() / count**2) / mean_ohm
    return r_ohm / mean_ohm - 1, uncertainty_share


def _states(
    off_share: np.ndarray, *, uncertainty_share: np.ndarray, allowed_share: float | None
) -> list[str]:
    if allowed_share is None:
        return [""] * len(off_share)
    decisions = guard_banded_decision(off_share, limit=allowed_share, uncertainty=uncertainty_share)
    return [STATES[int(decision)] for decision in decisions]
