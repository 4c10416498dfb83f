"""Are field readings centred on their curve? Their mean offset, with the interval around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

STUDENT_95 = (
    12.706,
    4.303,
    3.182,
    2.776,
    2.571,
    2.447,
    2.365,
    2.306,
    2.262,
    2.228,
    2.201,
    2.179,
    2.160,
    2.145,
    2.131,
    2.120,
    2.110,
    2.101,
    2.093,
    2.086,
    2.080,
    2.074,
    2.069,
    2.064,
    2.060,
    2.056,
    2.052,
    2.048,
    2.045,
    2.042,
)
"""Two-sided 95 % quantile of Student's t for 1 to 30 degrees of freedom.

Source: JCGM 100:2008, Table G.2 (from memory to three decimals; held to scipy in the tests).
"""
FEWEST = 3
"""With fewer readings no interval is told: it would be wider than anything it could show."""


@dataclass(frozen=True, kw_only=True)
class MeanOffset:
    """The mean of some errors, and the half-width of its 95 % interval; both in kelvin.

    `half_k` is None with fewer than three readings.
    """

    count: int
    mean_k: float
    half_k: float | None

    @property
    def off_centre(self) -> bool:
        """True where the interval does not hold zero: the readings are not centred."""
        return self.half_k is not None and abs(self.mean_k) > self.half_k


def mean_offset(errors_k: Sequence[float]) -> MeanOffset:
    """Return the mean of the errors with its 95 % interval.

    Parameters
    ----------
    errors_k : sequence of float, length n, K
        Implied less measured temperature, one per reading.

    Raises
    ------
    ValueError
        If there is none.

    Notes
    -----
    mean ± t s/√n with n − 1 degrees of freedom; beyond thirty the value for thirty is used, which
    is a little wide.
    """
    e = np.asarray(errors_k, dtype=float)
    if not e.size:
        raise ValueError("no reading to take a mean of")
    if e.size < FEWEST:
        return MeanOffset(count=int(e.size), mean_k=float(e.mean()), half_k=None)
    t = STUDENT_95[min(e.size - 1, len(STUDENT_95)) - 1]
    half_k = t * float(e.std(ddof=1)) / np.sqrt(e.size)
    return MeanOffset(count=int(e.size), mean_k=float(e.mean()), half_k=float(half_k))
