"""How the temperature was taken: what lies between the thermometer and the sensor."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Placement:
    """A way of taking the temperature, and how far sensor and thermometer may differ by it.

    Parameters
    ----------
    half_width_k : float
        Half-width in K. Common practice, no source.
    words : str
        What was done.
    """

    name: str
    half_width_k: float
    words: str


PLACEMENTS = {
    one.name: one
    for one in (
        Placement(
            name="ice-water",
            half_width_k=0.1,
            words="sensor and thermometer together in stirred ice and water",
        ),
        Placement(
            name="strapped",
            half_width_k=0.5,
            words="thermometer strapped beside the sensor and lagged, left to settle",
        ),
        Placement(name="held-on", half_width_k=1.5, words="thermometer held on beside the sensor"),
        Placement(
            name="air",
            half_width_k=2.0,
            words="air temperature near the sensor, machine at rest for long",
        ),
    )
}
"""Name → placement, the closest first. The half-widths are common practice, no source."""
