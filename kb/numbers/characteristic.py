"""A curve ready for use: its law, how far a good part may be off, and where both hold."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from .law import KnowsItsError, Law, Quantity
from .out_of_range import OutOfRange, as_given, within
from .rounding import format_plain
from .tolerance import NoTolerance, Tolerance, require_span

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True, kw_only=True)
class Characteristic:
    """A law with a tolerance over a range.

    Parameters
    ----------
    law : Law
    tolerance : Tolerance
        NoTolerance() where nobody knows it.
    low_c, high_c : float
        The range in °C; inside the law's domain and the tolerance's span.
    width : KnowsItsError, optional
        How well the curve itself is known, where its law does not say so: the rows that it was
        made from do.
    id : str, optional
        The curve's name in the notes.

    Raises
    ------
    OutOfRange
        If the law or the tolerance does not reach over the whole range: no class A for a film
        element at −40 °C.

    Notes
    -----
    Nothing is ever answered outside the range. Only the band near an end may need the law a little
    past it (28 °C − 0.3 K at a lower end of 28 °C); there the end's own slope goes on, in ln R for
    a falling curve and in R for a rising one.

    `tol_k` is the larger of the two sides, each by turning the bound back into a temperature on
    this curve: the very error that a reading on the bound would have. Where the part's tolerance
    is given in kelvin, as for platinum, it is that figure exactly.
    """

    law: Law
    tolerance: Tolerance = field(default_factory=NoTolerance)
    low_c: float
    high_c: float
    width: KnowsItsError | None = None
    id: str = ""

    def __post_init__(self) -> None:
        if not self.low_c < self.high_c:
            raise ValueError(
                f"a range runs from low to high, not from {format_plain(self.low_c)} to "
                f"{format_plain(self.high_c)} °C"
            )
        first_c, last_c = self.law.domain_c
        for end_c in (self.low_c, self.high_c):
            if not first_c <= end_c <= last_c:
                raise OutOfRange(end_c, low=first_c, high=last_c, unit="°C", what="the law")
        require_span(self.tolerance, low_c=self.low_c, high_c=self.high_c)

    @property
    def falling(self) -> bool:
        """True where resistance falls as temperature rises."""
        return self.law.falling

    @property
    def tolerance_known(self) -> bool:
        """False where nobody knows the part's tolerance; then the band is the nominal itself."""
        return self.tolerance.known

    @cached_property
    def range_ohm(self) -> tuple[float, float]:
        """Smallest and largest nominal resistance over the range."""
        ends = sorted((float(self.law.r_ohm(self.low_c)), float(self.law.r_ohm(self.high_c))))
        return ends[0], ends[1]

    def r_ohm(self, t_c: Quantity) -> Quantity:
        """Nominal resistance in Ω at `t_c`, any shape; OutOfRange outside the range."""
        return as_given(np.asarray(self.law.r_ohm(self._inside(t_c))), given=t_c)

    def t_c(self, r_ohm: Quantity) -> Quantity:
        """Temperature in °C at which the nominal is `r_ohm`; OutOfRange outside `range_ohm`."""
        low_ohm, high_ohm = self.range_ohm
        inside_ohm = within(r_ohm, low=low_ohm, high=high_ohm, unit="Ω", what=self._what)
        found_c = np.clip(np.asarray(self.law.t_c(inside_ohm)), self.low_c, self.high_c)
        return as_given(found_c, given=r_ohm)

    def slope_ohm_per_k(self, t_c: Quantity) -> Quantity:
        """dR/dT in Ω/K at `t_c`; OutOfRange outside the range."""
        return as_given(np.asarray(self.law.slope_ohm_per_k(self._inside(t_c))), given=t_c)

    def low_ohm(self, t_c: Quantity) -> Quantity:
        """Lowest resistance in Ω of a good part at `t_c`; never above the nominal."""
        return as_given(self._bounds(self._inside(t_c))[0], given=t_c)

    def high_ohm(self, t_c: Quantity) -> Quantity:
        """Highest resistance in Ω of a good part at `t_c`; never below the nominal."""
        return as_given(self._bounds(self._inside(t_c))[1], given=t_c)

    def tol_k(self, t_c: Quantity) -> Quantity:
        """Part tolerance in ± kelvin at `t_c`; zero where it is not known."""
        inside_c = self._inside(t_c)
        given_k = self.tolerance.kelvin_k(inside_c)
        if given_k is not None:
            return as_given(given_k, given=t_c)
        low_ohm, high_ohm = self._bounds(inside_c)
        sides_k = [np.abs(self.beyond_c(bound) - inside_c) for bound in (low_ohm, high_ohm)]
        return as_given(np.maximum(*sides_k), given=t_c)

    def law_k(self, t_c: Quantity) -> Quantity:
        """How far the curve itself may be off the part at `t_c`, in ± K; zero if nothing says."""
        inside_c = self._inside(t_c)
        if self._known_by is None:
            return as_given(np.zeros_like(inside_c), given=t_c)
        return as_given(np.asarray(self._known_by.half_k(inside_c)), given=t_c)

    def beyond_ohm(self, t_c: ArrayLike) -> np.ndarray:
        """Resistance in Ω, past an end along the end's slope: for bands only, never an answer."""
        asked_c = np.asarray(t_c, dtype=float)
        inside_c = np.clip(asked_c, self.low_c, self.high_c)
        r_ohm = np.asarray(self.law.r_ohm(inside_c))
        past_k = asked_c - inside_c
        if not np.any(past_k):
            return r_ohm
        slope = np.asarray(self.law.slope_ohm_per_k(inside_c))
        return r_ohm * np.exp(slope / r_ohm * past_k) if self.falling else r_ohm + slope * past_k

    def beyond_c(self, r_ohm: ArrayLike) -> np.ndarray:
        """Temperature in °C, past an end along the end's slope: for bands only, never an answer."""
        asked_ohm = np.asarray(r_ohm, dtype=float)
        low_ohm, high_ohm = self.range_ohm
        inside_ohm = np.clip(asked_ohm, low_ohm, high_ohm)
        t_c = np.clip(np.asarray(self.law.t_c(inside_ohm)), self.low_c, self.high_c)
        if np.all(inside_ohm == asked_ohm):
            return t_c
        slope = np.asarray(self.law.slope_ohm_per_k(t_c))
        past = asked_ohm - inside_ohm
        if self.falling:
            past = np.log(asked_ohm / inside_ohm) * inside_ohm
        return t_c + past / slope

    @cached_property
    def _known_by(self) -> KnowsItsError | None:
        """What says how well the curve itself is known; None where nothing does."""
        known_by = self.width if self.width is not None else self.law
        return known_by if isinstance(known_by, KnowsItsError) else None

    def _bounds(self, t_c: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        nominal = np.asarray(self.law.r_ohm(t_c))
        low, high = self.tolerance.bounds_ohm(t_c, curve=self)
        return np.minimum(low, nominal), np.maximum(high, nominal)

    def _inside(self, t_c: ArrayLike) -> np.ndarray:
        return within(t_c, low=self.low_c, high=self.high_c, unit="°C", what=self._what)

    @property
    def _what(self) -> str:
        return f"curve {self.id}" if self.id else "this curve"
