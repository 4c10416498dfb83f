"""One reading as it was taken: ohms, the temperature beside it, and how far both may be off."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from .meter import Meter
from .placement import PLACEMENTS, Placement
from .rounding import format_plain
from .thermometer import Thermometer


@dataclass(frozen=True, kw_only=True)
class Measured:
    """A reading with its half-widths.

    Parameters
    ----------
    r_ohm : float
        What the meter showed in Ω; infinity for over range.
    t_c : float
        What the thermometer showed in °C.
    meter_half_ohm, thermometer_half_k, placement_half_k : float
        Half-widths: the true value lies that far either side at most.
    meter_span_ohm : float
        The highest resistance that the meter can show in Ω, its leads taken off.
    leads_ohm : float
        What was taken off the reading for the leads, in Ω.
    law_half_k : float or None
        How far the curve itself may be off in K where that is not what the curve says of itself.
    """

    r_ohm: float
    t_c: float
    meter_half_ohm: float = 0.0
    thermometer_half_k: float = 0.0
    placement_half_k: float = 0.0
    meter_span_ohm: float = math.inf
    leads_ohm: float = 0.0
    law_half_k: float | None = None

    def __post_init__(self) -> None:
        if not self.r_ohm >= 0:
            raise ValueError(
                f"a reading of {format_plain(self.r_ohm)} Ω is not zero or more; write OL for "
                "over range"
            )
        halves = (self.meter_half_ohm, self.thermometer_half_k, self.placement_half_k)
        if not all(0 <= half < math.inf for half in halves):
            raise ValueError(f"half-widths are zero or more, here {halves}")

    def read_as(self, r_ohm: float, *, meter_half_ohm: float) -> Measured:
        """Return the same reading had the sensor been `r_ohm`."""
        return replace(self, r_ohm=r_ohm, meter_half_ohm=meter_half_ohm)


def taken(
    r_ohm: float,
    *,
    t_c: float,
    meter: Meter | None = None,
    thermometer: Thermometer | None = None,
    placement: Placement | str = "held-on",
) -> Measured:
    """Return the reading with the half-widths of the instruments that took it.

    Parameters
    ----------
    r_ohm : float
        As shown in Ω, leads included; infinity for over range. The meter's leads are taken off.
    meter, thermometer : optional
        Without one its half-width is zero, as if it were perfect: say so to the reader.
    placement : Placement or its name
        How the temperature was taken; where nature sets it, no thermometer counts.
    """
    if isinstance(placement, str):
        if placement not in PLACEMENTS:
            raise ValueError(f"placement '{placement}' is not one of {', '.join(PLACEMENTS)}")
        placement = PLACEMENTS[placement]
    over = np.isinf(r_ohm) or (meter is not None and r_ohm > meter.span_ohm)
    shown = math.inf if over else (r_ohm if meter is None else meter.without_leads_ohm(r_ohm))
    return Measured(
        r_ohm=shown,
        t_c=t_c,
        meter_half_ohm=0.0 if over or meter is None else float(meter.half_width_ohm(r_ohm)),
        thermometer_half_k=_thermometer_half_k(thermometer, placement=placement, t_c=t_c),
        placement_half_k=placement.half_width_k,
        meter_span_ohm=math.inf if meter is None else meter.span_ohm - meter.leads_ohm,
        leads_ohm=0.0 if meter is None else meter.leads_ohm,
    )


def _thermometer_half_k(
    thermometer: Thermometer | None, *, placement: Placement, t_c: float
) -> float:
    if thermometer is None or placement.is_fixed(t_c):
        return 0.0
    return float(thermometer.half_width_k(t_c))
