"""A meter's resistance ranges: how far a reading may be off, and what it cannot read at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .law import Quantity
from .out_of_range import as_given
from .rounding import format_plain


@dataclass(frozen=True, kw_only=True)
class OhmRange:
    """One range: ± (percent of reading + digits of the last place).

    Parameters
    ----------
    span_ohm : float
        The highest reading on this range in Ω.
    resolution_ohm : float
        One digit in Ω.
    percent : float
        ± per cent of reading.
    digits : float
        ± digits.
    """

    span_ohm: float
    resolution_ohm: float
    percent: float
    digits: float

    def __post_init__(self) -> None:
        if not (self.span_ohm > 0 and self.resolution_ohm > 0):
            raise ValueError(
                f"span {format_plain(self.span_ohm)} Ω and resolution "
                f"{format_plain(self.resolution_ohm)} Ω must be above 0"
            )
        if not (self.percent >= 0 and self.digits >= 0):
            raise ValueError(
                f"± {format_plain(self.percent)} % + {format_plain(self.digits)} digits: none is "
                "below zero"
            )

    def half_width_ohm(self, r_ohm: Quantity) -> Quantity:
        """Half-width in Ω of a reading on this range: percent of reading plus digits."""
        reading_ohm = np.abs(np.asarray(r_ohm, dtype=float))
        half_ohm = reading_ohm * self.percent / 100 + self.digits * self.resolution_ohm
        return as_given(half_ohm, given=r_ohm)


@dataclass(frozen=True, kw_only=True)
class Meter:
    """A meter that picks its own range, or is set to the smallest that shows the reading.

    Parameters
    ----------
    ranges : tuple of OhmRange
        Smallest span first.
    leads_ohm : float
        What the leads add to every reading in Ω, if they are not zeroed.
    """

    ranges: tuple[OhmRange, ...]
    leads_ohm: float = 0.0
    id: str = ""

    def __post_init__(self) -> None:
        spans = [scale.span_ohm for scale in self.ranges]
        if not spans or spans != sorted(set(spans)):
            raise ValueError(f"a meter's ranges rise from smallest to largest span; here {spans}")

    @property
    def span_ohm(self) -> float:
        """The highest resistance it can show in Ω."""
        return self.ranges[-1].span_ohm

    def range_for(self, r_ohm: float) -> OhmRange | None:
        """Return the smallest range that shows `r_ohm`, or None: over range."""
        return next((scale for scale in self.ranges if r_ohm <= scale.span_ohm), None)

    def half_width_ohm(self, r_ohm: Quantity) -> Quantity:
        """Half-width in Ω of a reading; infinity where it is over range. Any shape."""
        shown = np.asarray(r_ohm, dtype=float)
        spans = np.array([scale.span_ohm for scale in self.ranges])
        i = np.searchsorted(spans, shown)
        used = [self.ranges[min(at, len(spans) - 1)] for at in i.ravel().tolist()]
        percent = np.array([scale.percent for scale in used]).reshape(i.shape)
        least = np.array([scale.digits * scale.resolution_ohm for scale in used]).reshape(i.shape)
        half = np.where(i < len(spans), shown * percent / 100 + least, np.inf)
        return as_given(half, given=r_ohm)

    def digit_ohm(self, r_ohm: float) -> float:
        """One digit in Ω of the range that shows a reading; infinity where it is over range."""
        used = self.range_for(r_ohm)
        return np.inf if used is None else used.resolution_ohm

    def beside_half_ohm(self, readings_ohm: Sequence[float]) -> list[float]:
        """Half-width in Ω of each of several readings that are held only against each other.

        Parameters
        ----------
        readings_ohm : sequence of float
            Taken with this meter within a minute; none of them over range.

        Notes
        -----
        On one range gain and zero are wrong by the same for all of them and cancel: what is left
        is one digit. Over two ranges nothing cancels, and the whole accuracy counts.

        Source: common practice, no source.
        """
        if len({id(self.range_for(r_ohm)) for r_ohm in readings_ohm}) == 1:
            return [self.digit_ohm(r_ohm) for r_ohm in readings_ohm]
        return [float(self.half_width_ohm(r_ohm)) for r_ohm in readings_ohm]

    def without_leads_ohm(self, r_ohm: Quantity) -> Quantity:
        """Return the reading less the leads, not below zero."""
        return as_given(np.maximum(np.asarray(r_ohm, float) - self.leads_ohm, 0.0), given=r_ohm)
