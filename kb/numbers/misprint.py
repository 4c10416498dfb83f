"""Points of a printed table that cannot be right beside their neighbours, and what was meant."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .kelvin import kelvin
from .law import Law
from .nickel import Nickel
from .platinum import Platinum
from .printed import PrintedPoint
from .rounding import significant

LEAST_OFF_K = 0.35
"""Departures below this are left alone: makers' own tables are that rough here and there."""

ROUNDED_TWICE = 1.02
"""Tables are often rounded from a table already rounded: 31.335046 became 31.335, then 31.33."""

KNOWN_LAWS: tuple[Law, ...] = tuple(
    law
    for nominal in (100.0, 500.0, 1000.0)
    for law in (
        Platinum(r0=nominal),
        Nickel(r0=nominal, ppm_per_k=6180),
        Nickel(r0=nominal, ppm_per_k=5000),
    )
)
"""Laws with nothing to fit, at the usual nominals."""

_MOST_MEET = 0.8
_NEIGHBOURS = 4
_LEAST_ROUGH_K = 0.02
_MUST_SHRINK = 0.5
_LEAST_POWER = 0.02
"""So near in ln R to a power of ten off the decimal sign was lost: half a kelvin of an NTC."""


@dataclass(frozen=True, kw_only=True)
class Misprint:
    """A point that looks misprinted.

    Parameters
    ----------
    t_c, r_ohm : float
        As printed.
    off_k : float
        How far it is from what its neighbours say, in K; above zero where it reads warm.
    expected_ohm : float
        One digit changed or two neighbouring digits swapped, where that puts it right; otherwise
        what the neighbours say, to the last printed digit.
    by_digit : bool
        True where one such change puts it right.
    by_point : bool
        True where its decimal sign was lost or moved: it is a power of ten off.
    """

    t_c: float
    r_ohm: float
    off_k: float
    expected_ohm: float
    by_digit: bool
    by_point: bool = False


@dataclass(frozen=True, kw_only=True, eq=False)
class _Look:
    """Every point against the cubic through its four nearest others; arrays of shape (n,)."""

    off_k: np.ndarray
    allowed_k: np.ndarray
    meant_ohm: np.ndarray

    @property
    def score(self) -> np.ndarray:
        return np.abs(self.off_k) / np.maximum(self.allowed_k, LEAST_OFF_K)


def misprints(points: Sequence[PrintedPoint]) -> tuple[Misprint, ...]:
    """Return the points that look misprinted, coldest first.

    Parameters
    ----------
    points : sequence of PrintedPoint
        Fewer than six are never judged.

    Notes
    -----
    Each point is held against the cubic through its four nearest others, in ln R against 1/T for a
    falling table and R against t for a rising one. It may be off by the print rounding of all five
    and by the table's own roughness (three times its median, at least 0.02 K each), and by 0.35 K
    in any case. Where four fifths of the points are platinum or nickel to their last digit, the
    others are held against that.
    """
    kept = sorted(points, key=lambda point: point.t_c)
    by_law = _against_known_laws(kept)
    if by_law is not None:
        return by_law
    taken_out = _take_out(kept)
    if not taken_out or len(kept) <= _NEIGHBOURS:
        return ()
    look = _look(taken_out, among=kept)
    found = [
        _misprint(
            point, off_k=look.off_k[i], allowed_k=look.allowed_k[i], meant_ohm=look.meant_ohm[i]
        )
        for i, point in enumerate(taken_out)
        if abs(look.off_k[i]) >= LEAST_OFF_K
    ]
    return tuple(sorted(found, key=lambda misprint: misprint.t_c))


def _take_out(kept: list[PrintedPoint]) -> list[PrintedPoint]:
    """Take out of `kept`, and return, the points without which the others agree.

    The point whose removal calms its surroundings most is the misprint; where no single removal
    calms them, it is no misprint of one point. An end point is known worst, its neighbours all
    being on one side: there a misprint must be larger to show.
    """
    most = max(1, len(kept) // 5)
    taken_out: list[PrintedPoint] = []
    while len(kept) > _NEIGHBOURS + 1 and len(taken_out) < most:
        score = _look(kept, among=kept).score
        worst = int(np.argmax(score))
        if score[worst] <= 1:
            break
        culprit, left = _culprit(kept, worst=worst)
        if left > max(1.0, _MUST_SHRINK * score[worst]):
            break
        taken_out.append(kept.pop(culprit))
    return taken_out


def roughness_k(points: Sequence[PrintedPoint]) -> float:
    """Return the largest departure in K of an inner point from the cubic of its neighbours.

    Two points at each end are left out, and fewer than nine points give zero.
    """
    kept = sorted(points, key=lambda point: point.t_c)
    if len(kept) < 2 * _NEIGHBOURS + 1:
        return 0.0
    return float(np.abs(_look(kept, among=kept).off_k[2:-2]).max())


def _against_known_laws(points: Sequence[PrintedPoint]) -> tuple[Misprint, ...] | None:
    """Return the points that leave a law without free coefficients, or None if none holds."""
    if len(points) <= _NEIGHBOURS + 1:
        return None
    t_c, r_ohm, half_ohm = _columns(points)
    for law in KNOWN_LAWS:
        low_c, high_c = law.domain_c
        if t_c[0] < low_c or t_c[-1] > high_c:
            continue
        meant_ohm = np.asarray(law.r_ohm(t_c))
        off_ohm = r_ohm - meant_ohm
        if np.mean(np.abs(off_ohm) <= half_ohm * ROUNDED_TWICE) < _MOST_MEET:
            continue
        per_k = np.asarray(law.slope_ohm_per_k(t_c))
        off_k, rounding_k = off_ohm / per_k, half_ohm / np.abs(per_k)
        doubted = np.abs(off_k) >= np.maximum(LEAST_OFF_K, 2 * rounding_k)
        return tuple(
            _misprint(points[i], off_k=off_k[i], allowed_k=rounding_k[i], meant_ohm=meant_ohm[i])
            for i in np.flatnonzero(doubted).tolist()
        )
    return None


def _culprit(kept: list[PrintedPoint], *, worst: int) -> tuple[int, float]:
    """Return the point near the worst whose removal leaves the least behind, and what it leaves."""
    # A point tells on others up to four away, at an end.
    first, last = max(0, worst - _NEIGHBOURS), min(len(kept), worst + _NEIGHBOURS + 1)
    near = slice(max(0, first - _NEIGHBOURS), last + _NEIGHBOURS)
    left = {}
    for i in range(first, last):
        rest = kept[:i] + kept[i + 1 :]
        left[i] = float(_look(rest, among=rest).score[near].max())
    return min(left.items(), key=lambda removed: removed[1])


def _look(points: Sequence[PrintedPoint], *, among: Sequence[PrintedPoint]) -> _Look:
    """Hold each point against its nearest others among the given."""
    t_c, r_ohm, half_ohm = _columns(among)
    at_c, read_ohm, read_half = _columns(points)
    falling = r_ohm[-1] < r_ohm[0]
    x, at = (1 / kelvin(t_c), 1 / kelvin(at_c)) if falling else (t_c, at_c)
    y, half = (np.log(r_ohm), half_ohm / r_ohm) if falling else (r_ohm, half_ohm)
    read, own_half = (np.log(read_ohm), read_half / read_ohm) if falling else (read_ohm, read_half)
    near = _nearest(at_c, t_c=t_c)
    away = x[near] - at[:, None]
    scale = np.abs(away).max(axis=1)
    powers = (away / scale[:, None])[:, :, None] ** np.arange(_NEIGHBOURS)
    # Weights of the neighbours in the cubic's value and in its slope at the point.
    weights = np.linalg.inv(powers)
    value = np.einsum("nj,nj->n", weights[:, 0], y[near])
    slope = np.einsum("nj,nj->n", weights[:, 1], y[near]) / scale
    per_k = slope * (-(at**2) if falling else 1.0)
    rounding_k = (np.einsum("nj,nj->n", np.abs(weights[:, 0]), half[near]) + own_half) / abs(per_k)
    many = 1 + np.abs(weights[:, 0]).sum(axis=1)
    off_k = (read - value) / per_k
    each_k = np.maximum(np.abs(off_k) - rounding_k, 0) / many
    # A few taken out say nothing about the table's own roughness.
    rough_k = 3 * float(np.median(each_k)) if points is among else 0.0
    rough_k = max(_LEAST_ROUGH_K, rough_k)
    return _Look(
        off_k=off_k,
        allowed_k=rounding_k + many * rough_k,
        meant_ohm=np.exp(value) if falling else value,
    )


def _columns(points: Sequence[PrintedPoint]) -> np.ndarray:
    return np.array([[point.t_c, point.r_ohm, point.half_ohm] for point in points]).T


def _nearest(at_c: np.ndarray, *, t_c: np.ndarray) -> np.ndarray:
    """Return, for each temperature, two points below it and two above, or the end's four."""
    near = np.empty((len(at_c), _NEIGHBOURS), dtype=int)
    for i, asked_c in enumerate(at_c):
        others = np.flatnonzero(t_c != asked_c)
        below = int(np.searchsorted(t_c[others], asked_c))
        first = min(max(below - _NEIGHBOURS // 2, 0), len(others) - _NEIGHBOURS)
        near[i] = others[first : first + _NEIGHBOURS]
    return near


def _misprint(point: PrintedPoint, *, off_k: float, allowed_k: float, meant_ohm: float) -> Misprint:
    power = round(np.log10(point.r_ohm / meant_ohm))
    if power and abs(np.log(point.r_ohm / meant_ohm / 10.0**power)) <= _LEAST_POWER:
        return Misprint(
            t_c=point.t_c,
            r_ohm=point.r_ohm,
            off_k=float(off_k),
            expected_ohm=significant(point.r_ohm / 10.0**power, digits=12),
            by_digit=False,
            by_point=True,
        )
    last_ohm = 2 * point.half_ohm
    meant = max(1, round(meant_ohm / last_ohm))
    edits = _one_slip(round(point.r_ohm / last_ohm))
    best = min(edits, key=lambda digits: abs(digits - meant), default=meant)
    # What one digit of the print is worth here, from the departure itself.
    k_per_digit = abs(off_k) / max(abs(meant_ohm - point.r_ohm) / last_ohm, 1e-9)
    by_digit = abs(best - meant_ohm / last_ohm) * k_per_digit <= max(allowed_k, 0.05)
    chosen = best if by_digit else meant
    expected_ohm = significant(chosen * last_ohm, digits=12)
    return Misprint(
        t_c=point.t_c,
        r_ohm=point.r_ohm,
        off_k=float(off_k),
        expected_ohm=expected_ohm,
        by_digit=by_digit,
    )


def _one_slip(number: int) -> set[int]:
    """Return every number one digit away, or two neighbouring digits swapped."""
    text = str(number)
    found = {
        int(text[:i] + digit + text[i + 1 :]) for i in range(len(text)) for digit in "0123456789"
    }
    found |= {int(text[:i] + text[i + 1] + text[i] + text[i + 2 :]) for i in range(len(text) - 1)}
    return {digits for digits in found if digits > 0} - {number}
