"""How far a good part may be off: in ohms, in kelvin, or by platinum class."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar, Protocol

import numpy as np

from .kelvin import kelvin
from .out_of_range import OutOfRange, within
from .point_table import PointTable
from .rounding import format_plain


class NominalCurve(Protocol):
    """What a tolerance asks of its curve: arrays in, arrays out, a little past its ends too."""

    def beyond_ohm(self, t_c: np.ndarray) -> np.ndarray:
        """Resistance at `t_c`, past the ends along the end's own slope."""


class Tolerance(Protocol):
    """Lowest and highest resistance of a good part."""

    @property
    def known(self) -> bool:
        """False where nobody knows it."""

    def span_c(self) -> tuple[float, float]:
        """Return the range in °C over which the tolerance is promised."""

    def bounds_ohm(self, t_c: np.ndarray, *, curve: NominalCurve) -> tuple[np.ndarray, np.ndarray]:
        """Return (low, high) in Ω, shape of `t_c`."""

    def kelvin_k(self, t_c: np.ndarray) -> np.ndarray | None:
        """Return ± kelvin where the tolerance is given in kelvin, else None."""


_EVERYWHERE = (-math.inf, math.inf)


@dataclass(frozen=True, kw_only=True)
class SpreadTolerance:
    """Resistance tolerance at one temperature, with the B value's on top of it elsewhere.

    Parameters
    ----------
    r_fraction : float
        ± share of the resistance at `at_c`: 0.01 for 1 %.
    at_c : float
        °C where `r_fraction` holds.
    b_fraction : float
        ± share of the B value; 0 if there is none.
    b_k : float
        The B value in kelvin that `b_fraction` is of.
    r_per_c : float
        Share of the resistance more for each °C away from `at_c`; 0 if it does not grow so.

    Notes
    -----
    True extremes, a product and no sum: R (1 ± a) exp(±B b |1/T − 1/T_at|). Makers' worked
    examples differ: one multiplies, (1 + a)(1 + y) − 1, one adds, a + y; the product is the wider.
    Others print per cent of the resistance that grow with the distance, a = a_at + c |t − t_at|.
    """

    r_fraction: float
    at_c: float = 25.0
    r_per_c: float = 0.0
    b_fraction: float = 0.0
    b_k: float = 0.0

    known: ClassVar[bool] = True

    def __post_init__(self) -> None:
        if not (0 <= self.r_fraction < 1 and 0 <= self.b_fraction < 1 and self.b_k >= 0):
            raise ValueError(
                f"r_fraction {format_plain(self.r_fraction)} and b_fraction "
                f"{format_plain(self.b_fraction)} are shares "
                "from 0 to below 1, such as 0.01 for 1 %"
            )
        if self.r_per_c < 0:
            raise ValueError("a tolerance grows with the distance from its temperature, or stays")

    def share(self, t_c: np.ndarray) -> np.ndarray:
        """Return the ± share of the resistance at `t_c`, without the B value's."""
        return self.r_fraction + self.r_per_c * np.abs(np.asarray(t_c, dtype=float) - self.at_c)

    def span_c(self) -> tuple[float, float]:
        """Return minus and plus infinity: promised wherever the curve is."""
        return _EVERYWHERE

    def bounds_ohm(self, t_c: np.ndarray, *, curve: NominalCurve) -> tuple[np.ndarray, np.ndarray]:
        """Return (low, high) in Ω at `t_c`, each by the worst of both tolerances together.

        Raises
        ------
        ValueError
            Where the share grows to one: such a part would have no least resistance.
        """
        away_per_k = np.abs(1 / kelvin(t_c) - 1 / kelvin(self.at_c))
        spread = np.exp(self.b_k * self.b_fraction * away_per_k)
        r_ohm, share = curve.beyond_ohm(t_c), self.share(t_c)
        if np.any(share >= 1):
            raise ValueError(
                f"at {format_plain(np.asarray(t_c)[share >= 1].flat[0])} °C it has grown to "
                f"± {format_plain(100 * share.max(), digits=3)} % of the resistance"
            )
        return r_ohm * (1 - share) / spread, r_ohm * (1 + share) * spread

    def kelvin_k(self, t_c: np.ndarray) -> None:
        """Return None: given in ohms."""
        return


@dataclass(frozen=True, kw_only=True)
class KelvinTolerance:
    """± kelvin: the same everywhere, or growing with the distance from a temperature.

    Parameters
    ----------
    kelvin : float
        ± K at `at_c`.
    at_c : float
        °C from which it grows.
    per_c, below_per_c : float
        K more for each °C above `at_c`, and for each below.

    Notes
    -----
    a + b |t|, as the classes of platinum are; nickel of DIN 43760 has 0.4 K, 0.007 above and 0.028
    below 0 °C (from memory).
    """

    kelvin: float
    at_c: float = 0.0
    per_c: float = 0.0
    below_per_c: float = 0.0

    known: ClassVar[bool] = True

    def __post_init__(self) -> None:
        if not self.kelvin > 0:
            raise ValueError(f"± {format_plain(self.kelvin)} K must be above zero")
        if self.per_c < 0 or self.below_per_c < 0:
            raise ValueError("a tolerance grows with the distance from its temperature, or stays")

    def span_c(self) -> tuple[float, float]:
        """Return minus and plus infinity: promised wherever the curve is."""
        return _EVERYWHERE

    def bounds_ohm(self, t_c: np.ndarray, *, curve: NominalCurve) -> tuple[np.ndarray, np.ndarray]:
        """Return (low, high) in Ω: the curve at `t_c` ± the kelvin."""
        return _shifted(t_c, by_k=self.kelvin_k(t_c), curve=curve)

    def kelvin_k(self, t_c: np.ndarray) -> np.ndarray:
        """Return ± kelvin, shape of `t_c`."""
        away_k = np.asarray(t_c, dtype=float) - self.at_c
        per_c = np.where(away_k < 0, self.below_per_c, self.per_c)
        return self.kelvin + per_c * np.abs(away_k)


PLATINUM_CLASSES = {
    "AA": (0.1, 0.0017, {"wire": (-50.0, 250.0), "film": (0.0, 150.0)}),
    "A": (0.15, 0.002, {"wire": (-100.0, 450.0), "film": (-30.0, 300.0)}),
    "B": (0.3, 0.005, {"wire": (-196.0, 600.0), "film": (-50.0, 500.0)}),
    "C": (0.6, 0.01, {"wire": (-196.0, 600.0), "film": (-50.0, 600.0)}),
}
"""Class → (K at 0 °C, K per |°C|, build → range in °C). Source: IEC 60751:2022, Table 2."""


@dataclass(frozen=True, kw_only=True)
class PlatinumClass:
    """A thermometer's tolerance class.

    Parameters
    ----------
    grade : str
        AA, A, B or C.
    build : str
        "film" or "wire": the same class reaches less far with a film element. There is no class A
        for a film element at −40 °C.

    Source: IEC 60751:2022, Table 2 (read through a third party that cites it).
    """

    grade: str
    build: str = "film"

    known: ClassVar[bool] = True

    def __post_init__(self) -> None:
        if self.grade not in PLATINUM_CLASSES:
            raise ValueError(f"class '{self.grade}' is not one of AA, A, B, C")
        if self.build not in ("film", "wire"):
            raise ValueError(f"build '{self.build}' is neither film nor wire")

    def span_c(self) -> tuple[float, float]:
        """Return the range in °C in which this class exists for this build."""
        return PLATINUM_CLASSES[self.grade][2][self.build]

    def bounds_ohm(self, t_c: np.ndarray, *, curve: NominalCurve) -> tuple[np.ndarray, np.ndarray]:
        """Return (low, high) in Ω: the curve at `t_c` ± the class's kelvin."""
        return _shifted(t_c, by_k=self.kelvin_k(t_c), curve=curve)

    def kelvin_k(self, t_c: np.ndarray) -> np.ndarray:
        """Return ± kelvin; OutOfRange where the class does not exist for this build."""
        low_c, high_c = self.span_c()
        what = f"class {self.grade} for a {self.build} element (IEC 60751)"
        inside_c = within(t_c, low=low_c, high=high_c, unit="°C", what=what)
        at_zero_k, per_c, _ = PLATINUM_CLASSES[self.grade]
        return at_zero_k + per_c * np.abs(inside_c)


@dataclass(frozen=True, kw_only=True)
class PointTolerance:
    """The low and high columns of a printed table, joined as the nominal column is.

    Parameters
    ----------
    points : tuple of (t_c, low_ohm, high_ohm)
    """

    points: tuple[tuple[float, float, float], ...]

    known: ClassVar[bool] = True

    def __post_init__(self) -> None:
        for t_c, low_ohm, high_ohm in self.points:
            if not low_ohm <= high_ohm:
                raise ValueError(
                    f"at {format_plain(t_c)} °C low {format_plain(low_ohm)} is above high "
                    f"{format_plain(high_ohm)} Ω"
                )
        # A column that turns back is refused at once, not when it is first asked.
        _ = self._low, self._high

    @cached_property
    def _low(self) -> PointTable:
        return PointTable(points=tuple((t_c, low_ohm) for t_c, low_ohm, _ in self.points))

    @cached_property
    def _high(self) -> PointTable:
        return PointTable(points=tuple((t_c, high_ohm) for t_c, _, high_ohm in self.points))

    def span_c(self) -> tuple[float, float]:
        """Return the range of the table."""
        return self._low.domain_c

    def bounds_ohm(self, t_c: np.ndarray, *, curve: NominalCurve) -> tuple[np.ndarray, np.ndarray]:
        """Return (low, high) in Ω from the columns; the curve itself is not asked."""
        return np.asarray(self._low.r_ohm(t_c)), np.asarray(self._high.r_ohm(t_c))

    def kelvin_k(self, t_c: np.ndarray) -> None:
        """Return None: given in ohms."""
        return


@dataclass(frozen=True)
class NoTolerance:
    """Nobody knows the part's tolerance: the band is the nominal itself, and known is False."""

    known: ClassVar[bool] = False

    def span_c(self) -> tuple[float, float]:
        """Return minus and plus infinity."""
        return _EVERYWHERE

    def bounds_ohm(self, t_c: np.ndarray, *, curve: NominalCurve) -> tuple[np.ndarray, np.ndarray]:
        """Return the nominal twice."""
        r_ohm = curve.beyond_ohm(t_c)
        return r_ohm, r_ohm

    def kelvin_k(self, t_c: np.ndarray) -> np.ndarray:
        """Return zeros: a limit that is not known adds nothing to a sensor's own allowance."""
        return np.zeros(np.shape(t_c))


def require_span(tolerance: Tolerance, *, low_c: float, high_c: float) -> None:
    """Raise OutOfRange unless the tolerance is promised over the whole of low_c to high_c."""
    first_c, last_c = tolerance.span_c()
    for end_c in (low_c, high_c):
        if not first_c <= end_c <= last_c:
            what = "the tolerance"
            if isinstance(tolerance, PlatinumClass):
                what = f"class {tolerance.grade} for a {tolerance.build} element (IEC 60751)"
            raise OutOfRange(end_c, low=first_c, high=last_c, unit="°C", what=what)


def _shifted(
    t_c: np.ndarray, *, by_k: np.ndarray, curve: NominalCurve
) -> tuple[np.ndarray, np.ndarray]:
    colder_ohm, hotter_ohm = curve.beyond_ohm(t_c - by_k), curve.beyond_ohm(t_c + by_k)
    return np.minimum(colder_ohm, hotter_ohm), np.maximum(colder_ohm, hotter_ohm)
