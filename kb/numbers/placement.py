"""How the temperature was taken: what lies between the thermometer and the sensor."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Placement:
    """A way of taking the temperature, and how far sensor and thermometer may differ by it.

    Parameters
    ----------
    name : str
        Its id; what was done stands under it in the catalogue of words.
    half_width_k : float
        Half-width in K. Common practice, no source.
    fixed_c : float or None
        The temperature that nature sets there: then no thermometer counts, and none is needed.
    """

    name: str
    half_width_k: float
    fixed_c: float | None = None

    def is_fixed(self, t_c: float) -> bool:
        """Whether nature sets that temperature there; any other needs a thermometer."""
        return self.fixed_c == t_c


PLACEMENTS = {
    placement.name: placement
    for placement in (
        # The sensor in stirred ice and water. A bath made with care holds 0 °C within 0.01 K (ASTM
        # E563, from memory); ± 0.1 K is left for tap water and a cup on a roof: common practice.
        Placement(name="ice-water", half_width_k=0.1, fixed_c=0.0),
        # Thermometer strapped beside the sensor and lagged, left to settle.
        Placement(name="strapped", half_width_k=0.5),
        # Thermometer held on beside the sensor.
        Placement(name="held-on", half_width_k=1.5),
        # Air near the sensor, the machine at rest for long.
        Placement(name="air", half_width_k=2.0),
    )
}
"""Name → placement, the closest first. The half-widths are common practice, no source."""
