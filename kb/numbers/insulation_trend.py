"""What insulation does while the voltage stands: it rises, stands or falls; ten minutes to one."""

from __future__ import annotations

import math

STEADY_SHARE = 0.1
"""A change over the minute that is smaller is none: a tester's error cancels in a ratio, its digits
do not. Common practice, no source."""
RATIO_BELOW_OHM = 5e9
"""At 40 °C after one minute; above it the ratio tells nothing.

Source: IEEE 43-2013, 12.2.2 (from memory).
"""
LEAST_RATIO = 2.0
"""Ten minutes to one of a form-wound winding of class B and above.

Source: IEEE 43-2013, Table 2 (from memory): 1.5 for class A.
"""
TRENDS = ("rising", "flat", "falling")


def trend_of(early_ohm: float, *, minute_ohm: float) -> str:
    """Return one of TRENDS; "" where both are over range.

    Parameters
    ----------
    early_ohm, minute_ohm : float
        Ω after 15 or 30 seconds and after one minute; infinity for over range.
    """
    if math.isinf(early_ohm) and math.isinf(minute_ohm):
        return ""
    if minute_ohm > (1 + STEADY_SHARE) * early_ohm:
        return "rising"
    return "falling" if minute_ohm < (1 - STEADY_SHARE) * early_ohm else "flat"


def ratio_state(minute_ohm: float, *, late_ohm: float, minute_at_40_ohm: float) -> str:
    """Return what the ratio of ten minutes to one says of a form-wound winding.

    Parameters
    ----------
    minute_ohm, late_ohm : float
        Ω after one minute and after ten, neither over range.
    minute_at_40_ohm : float
        The first, brought to 40 °C.

    Returns
    -------
    str
        "above" where it tells nothing; "falling" below one, "low" below LEAST_RATIO, else "good".
    """
    if minute_at_40_ohm > RATIO_BELOW_OHM:
        return "above"
    if late_ohm < minute_ohm:
        return "falling"
    return "low" if late_ohm < LEAST_RATIO * minute_ohm else "good"
