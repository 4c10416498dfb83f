"""Motor protection PTC: limits around its response temperature, not a curve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .rounding import format_plain

TEST_VOLTS_MAX = 2.5
"""Direct volts per element while measuring: more warms the element and falsifies the reading.

Source: DIN 44081 (limits below the response temperature); at TNF+15 K 7.5 V are allowed.
"""

LOW_C = -20.0
"""Lowest temperature in °C at which the standard promises anything."""

COLD_K = 20.0
"""So far below its response temperature a loop still reads as a cold one does, in K."""

SHORTED_OHM = 20.0
"""Below this a loop is shorted, however many elements it has, in Ω.

Source: the usual limit of protection relays that watch for a short; from memory.
"""

USUAL_LEAST_OHM = 20.0
"""Less than this one element hardly ever reads, cold or warm, in Ω: common practice, no source."""

ELEMENT_LIMITS = (
    (-COLD_K, True, 250.0),
    (-5.0, True, 550.0),
    (5.0, False, 1330.0),
    (15.0, False, 4000.0),
)
"""(K over the response temperature, at most?, Ω) of one element. The first holds from −20 °C on."""


@dataclass(frozen=True, kw_only=True)
class SwitchingPtc:
    """One PTC element, or several in series in the loop (DIN 44081 single, DIN 44082 triple).

    Parameters
    ----------
    trip_c : float
        Rated response temperature TNF in °C.
    in_series : int
        Elements in the loop, all of the same TNF.

    Notes
    -----
    For each element, at the same temperature: at most 250 Ω from −20 °C to TNF−20 K, at most 550 Ω
    at TNF−5 K, at least 1330 Ω at TNF+5 K, at least 4000 Ω at TNF+15 K. Between these points only
    what the nearest promise implies is used: an element rises, so a most holds below its
    temperature and a least above its own. A loop of n at one temperature holds n times as much.

    Source: DIN 44081/44082, DIN VDE V 0898-1-401, through three independent spec sheets;
    IEC 60034-11 not seen.
    """

    trip_c: float
    in_series: int = 3

    def __post_init__(self) -> None:
        if self.in_series < 1:
            raise ValueError(f"{self.in_series} elements in series; a loop has at least one")

    @property
    def usual_least_ohm(self) -> float:
        """Less than this in Ω the whole loop hardly ever reads: an element may be bridged."""
        return self.in_series * USUAL_LEAST_OHM

    def limits_ohm(self, t_c: float) -> tuple[float, float]:
        """Return (least, most) Ω of the whole loop, all elements at `t_c`; 0 and inf for no limit.

        Raises
        ------
        ValueError
            Below −20 °C, where the standard promises nothing.
        """
        # A limit holds at its very temperature, whatever the last binary digit says.
        over_k = round(t_c - self.trip_c, 9)
        if not t_c >= LOW_C:
            raise ValueError(
                f"{format_plain(t_c)} °C is below −20 °C, where DIN 44081 sets no limit; warm the "
                "motor first"
            )
        leasts_ohm = [r for at_k, at_most, r in ELEMENT_LIMITS if not at_most and over_k >= at_k]
        mosts_ohm = [r for at_k, at_most, r in ELEMENT_LIMITS if at_most and over_k <= at_k]
        least_ohm, most_ohm = max(leasts_ohm, default=0.0), min(mosts_ohm, default=np.inf)
        return self.in_series * least_ohm, self.in_series * most_ohm
