"""A printed table of temperatures and resistances, read between its lines without overshoot."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from .kelvin import ZERO_C_K, kelvin
from .law import Quantity
from .out_of_range import as_given, within
from .rounding import format_plain

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

_STENCIL = 5


@dataclass(frozen=True, kw_only=True)
class PointTable:
    """A table of points joined by a monotone cubic.

    Parameters
    ----------
    points : tuple of (t_c, r_ohm)
        At least two, rising in temperature, resistance strictly falling or strictly rising.

    Notes
    -----
    A falling table is joined in ln R against 1/T, where an NTC is nearly straight; a rising one in
    R against t. The slope at each point is that of the quartic through its five nearest points,
    cut back where it would let the curve turn round between two points (at most three times the
    gentler neighbouring chord). Every printed point is met exactly. The range is that of the table.

    Source: Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238, for the cut (from memory).
    """

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        t_c, r_ohm = self._columns
        if len(t_c) < 2:
            raise ValueError(f"a table needs at least two points; here {len(t_c)}")
        if not (np.all(np.isfinite(t_c)) and np.all(np.isfinite(r_ohm)) and np.all(r_ohm > 0)):
            raise ValueError("every point needs a temperature and a resistance above zero")
        if not np.all(np.diff(t_c) > 0):
            at = int(np.argmin(np.diff(t_c) > 0))
            raise ValueError(
                f"{format_plain(t_c[at + 1])} °C stands after {format_plain(t_c[at])} °C; "
                "points rise in temperature, each temperature once"
            )
        steps = np.diff(r_ohm)
        way = steps < 0 if self.falling else steps > 0
        if not np.all(way):
            at = int(np.argmin(way))
            raise ValueError(
                f"the table {'falls' if self.falling else 'rises'}, but from "
                f"{format_plain(t_c[at])} to "
                f"{format_plain(t_c[at + 1])} °C it goes from {format_plain(r_ohm[at])} to "
                f"{format_plain(r_ohm[at + 1])} Ω; "
                "look for a misprint in these two points"
            )

    @property
    def domain_c(self) -> tuple[float, float]:
        """First and last temperature of the table."""
        t_c, _ = self._columns
        return float(t_c[0]), float(t_c[-1])

    @cached_property
    def falling(self) -> bool:
        """True where the last resistance is below the first."""
        _, r_ohm = self._columns
        return bool(r_ohm[-1] < r_ohm[0])

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Resistance in Ω at `t_c`; OutOfRange outside the table."""
        r_ohm, _ = self._read(self._inside(t_c))
        return as_given(r_ohm, given=t_c)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K at `t_c`; continuous over the points."""
        inside_c = self._inside(t_c)
        r_ohm, dy_dx = self._read(inside_c)
        slope = -r_ohm * dy_dx / kelvin(inside_c) ** 2 if self.falling else dy_dx
        return as_given(slope, given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which the table reads `r_ohm`; OutOfRange outside its ohms."""
        x, y, rise = self._nodes
        _, nodes_ohm = self._columns
        inside_ohm = within(
            r_ohm, low=nodes_ohm.min(), high=nodes_ohm.max(), unit="Ω", what="the table"
        )
        wanted = np.clip(np.log(inside_ohm) if self.falling else inside_ohm, y[0], y[-1])
        i = np.clip(np.searchsorted(y, wanted, side="right") - 1, 0, len(x) - 2)
        width, height = (x[i + 1] - x[i]), (y[i + 1] - y[i])
        # In units of the piece: height 0 to 1 over u 0 to 1, with end slopes p and q.
        p, q = rise[i] * width / height, rise[i + 1] * width / height
        at = x[i] + width * _crossing((wanted - y[i]) / height, start=p, end=q)
        return as_given(1 / at - ZERO_C_K if self.falling else at, given=r_ohm)

    @cached_property
    def _columns(self) -> tuple[np.ndarray, np.ndarray]:
        columns = np.array(self.points, dtype=float).reshape(-1, 2)
        return columns[:, 0], columns[:, 1]

    @cached_property
    def _nodes(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """x, y and dy/dx at the points, x and y rising whichever way the table runs."""
        t_c, r_ohm = self._columns
        x, y = (1 / kelvin(t_c)[::-1], np.log(r_ohm)[::-1]) if self.falling else (t_c, r_ohm)
        return x, y, _cut_back(_local_slopes(x, y=y), x=x, y=y)

    def _read(self, t_c: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Return R and dy/dx at temperatures inside the table."""
        x, y, rise = self._nodes
        at = np.clip(1 / kelvin(t_c), x[0], x[-1]) if self.falling else t_c
        i = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2)
        width, height = x[i + 1] - x[i], y[i + 1] - y[i]
        u = (at - x[i]) / width
        p, q = rise[i] * width, rise[i + 1] * width
        c2, c3 = 3 * height - 2 * p - q, p + q - 2 * height
        past = u * (p + u * (c2 + u * c3))
        # From the printed resistance on, so that a printed point is met to the last binary digit.
        start_ohm = self._nodes_ohm[i]
        r_ohm = start_ohm * np.exp(past) if self.falling else start_ohm + past
        return r_ohm, (p + u * (2 * c2 + u * 3 * c3)) / width

    @cached_property
    def _nodes_ohm(self) -> np.ndarray:
        _, r_ohm = self._columns
        return r_ohm[::-1] if self.falling else r_ohm

    def _inside(self, t_c: ArrayLike) -> np.ndarray:
        low_c, high_c = self.domain_c
        return within(t_c, low=low_c, high=high_c, unit="°C", what="the table")


def _local_slopes(x: np.ndarray, *, y: np.ndarray) -> np.ndarray:
    """Return dy/dx at each point from the polynomial through its nearest five (or all)."""
    count = min(_STENCIL, len(x))
    first = np.clip(np.arange(len(x)) - count // 2, 0, len(x) - count)
    nearest = first[:, np.newaxis] + np.arange(count)
    away = x[nearest] - x[:, np.newaxis]
    scale = np.abs(away).max(axis=1, keepdims=True)
    powers = np.ones((len(x), count, count))
    powers[..., 1:] = (away / scale)[..., np.newaxis]
    np.multiply.accumulate(powers[..., 1:], axis=-1, out=powers[..., 1:])
    coefficients = np.linalg.solve(powers, y[nearest][..., np.newaxis])
    return coefficients[:, 1, 0] / scale[:, 0]


def _cut_back(slopes: np.ndarray, *, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Return the slopes limited so that no piece turns round."""
    chords = np.diff(y) / np.diff(x)
    gentler = np.minimum(np.append(chords, chords[-1]), np.insert(chords, 0, chords[0]))
    return np.clip(slopes, 0.0, 3 * gentler)


def _crossing(wanted: np.ndarray, *, start: np.ndarray, end: np.ndarray) -> np.ndarray:
    """Return u in 0 to 1 where the monotone unit cubic reaches `wanted`.

    Newton inside a shrinking bracket: a step that leaves it is halved instead, so flat ends
    cannot stall it.
    """
    c2, c3 = 3 - 2 * start - end, start + end - 2
    low, high = np.zeros_like(wanted), np.ones_like(wanted)
    u = wanted.copy()
    for _ in range(80):
        off = u * (start + u * (c2 + u * c3)) - wanted
        high = np.where(off > 0, u, high)
        low = np.where(off > 0, low, u)
        rate = start + u * (2 * c2 + u * 3 * c3)
        moved = u - off / np.where(rate > 1e-12, rate, 1e-12)
        moved = np.where((moved < low) | (moved > high), 0.5 * (low + high), moved)
        if np.all(np.abs(moved - u) <= 1e-15):
            return moved
        settled = np.abs(off) <= 4e-16
        u = np.where(settled, u, moved)
        if np.all(settled):
            return u
    return u
