"""Standard resistor values: what there is in the drawer."""

from __future__ import annotations

import numpy as np

SERIES = ("E12", "E24", "E96")

_E24 = (
    10,
    11,
    12,
    13,
    15,
    16,
    18,
    20,
    22,
    24,
    27,
    30,
    33,
    36,
    39,
    43,
    47,
    51,
    56,
    62,
    68,
    75,
    82,
    91,
)
# Below 48 values a decade the series departs from 10^(i/n); from E48 on it follows it.
DECADES = {
    "E12": tuple(value / 10 for value in _E24[::2]),
    "E24": tuple(value / 10 for value in _E24),
    "E96": tuple(round(10 ** (i / 96), 2) for i in range(96)),
}
"""Series → its values from 1 up to 10. Source: IEC 60063:2015 (through third parties)."""

TOLERANCE = {"E12": 0.10, "E24": 0.05, "E96": 0.01}
"""Share by which a resistor of the series may be off, unless marked better (IEC 60063)."""
PRINTED_DIGITS = {"E12": 2, "E24": 2, "E96": 3}
"""Digits of a value in the series, as they stand on the part."""


def standard_values_ohm(series: str, *, low_ohm: float, high_ohm: float) -> np.ndarray:
    """Return the standard values in Ω from low to high, both included, rising.

    Raises
    ------
    ValueError
        If the series is not one of SERIES.
    """
    if series not in DECADES:
        raise ValueError(f"series '{series}' is not one of {', '.join(SERIES)}")
    first, last = int(np.floor(np.log10(low_ohm))), int(np.floor(np.log10(high_ohm)))
    # Through text, so that 4.7 k is 4700 and not 4700.000000000001.
    values = np.array(
        [float(f"{value}e{power}") for power in range(first, last + 1) for value in DECADES[series]]
    )
    return values[(values >= low_ohm) & (values <= high_ohm)]
