"""A second sensor in the same cup, read with the same meter: a reference without a thermometer."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from .characteristic import Characteristic
from .grid import Grid
from .measured import Measured
from .meter import Meter
from .verdict import rate_k_per_ohm

CUP_HALF_K = 0.1
"""Two sensors tied together in a stirred cup differ by no more. Common practice, no source."""

Curve = Characteristic | Grid


def beside_sister(
    shown: Measured,
    *,
    curve: Curve,
    sister_ohm: float,
    sister_curve: Curve,
    meter: Meter | None,
    allow_k: float = 0.0,
) -> Measured:
    """Return a reading whose thermometer is a sister in the same cup, ± her own tolerance.

    Parameters
    ----------
    shown : Measured
        The reading, yet without a temperature, its leads taken off.
    curve, sister_curve : Characteristic or Grid
        One object for both where they are of one curve: then the curve's own error cancels.
    sister_ohm : float
        What the meter shows on the sister, leads included.
    meter : Meter or None
        The one that read both, within minutes.
    allow_k : float
        How far a sister may be off in K where nobody knows its tolerance.

    Raises
    ------
    OutOfRange
        If the sister's reading is none of its curve, or this curve does not reach there.
    """
    leads_ohm = meter.leads_ohm if meter else 0.0
    own_ohm = max(sister_ohm - leads_ohm, 0.0)
    t_c = float(sister_curve.t_c(own_ohm))
    curve.r_ohm(t_c)
    tol_k = float(sister_curve.tol_k(t_c)) if sister_curve.tolerance_known else allow_k
    same = sister_curve is curve
    placed = replace(
        shown,
        t_c=t_c,
        thermometer_half_k=tol_k,
        placement_half_k=CUP_HALF_K,
        law_half_k=0.0 if same else float(curve.law_k(t_c)) + float(sister_curve.law_k(t_c)),
    )
    if meter is None or not 0 < shown.r_ohm < np.inf:
        return placed
    return _metered(
        placed, curve=curve, sister_ohm=sister_ohm, sister_curve=sister_curve, meter=meter
    )


def _metered(
    placed: Measured, *, curve: Curve, sister_ohm: float, sister_curve: Curve, meter: Meter
) -> Measured:
    """Return the reading with what its meter leaves open of the difference."""
    inside_c = min(max(float(curve.beyond_c(placed.r_ohm)), curve.low_c), curve.high_c)
    rate = rate_k_per_ohm(curve, r_ohm=placed.r_ohm, inside_c=inside_c)
    rates = (
        float(np.copysign(rate, float(curve.slope_ohm_per_k(inside_c)))),
        1 / float(sister_curve.slope_ohm_per_k(placed.t_c)),
    )
    shown_ohm = (placed.r_ohm + meter.leads_ohm, sister_ohm)
    half_k = _meter_half_k(meter, shown_ohm=shown_ohm, rates=rates)
    return replace(placed, meter_half_ohm=half_k / rate)


def _meter_half_k(
    meter: Meter, *, shown_ohm: tuple[float, float], rates: tuple[float, float]
) -> float:
    """Return how far the meter may move the difference, in K; rates are dT/dR in K/Ω, signed.

    Notes
    -----
    The error is T(R) − T'(R'). Gain and zero of the meter are the same in both on one range, so
    what they move the difference by is g |R/s − R'/s'| and z |1/s − 1/s'| with slopes s = dR/dT;
    one digit of each reading is left. They are added whole, as one rectangle. Over two ranges
    nothing cancels. Source: JCGM 100:2008, 5.2.2 and F.1.2.3, inputs that share an error.
    """
    used = meter.range_for(shown_ohm[0])
    if used is None or used is not meter.range_for(shown_ohm[1]):
        halves = [float(meter.half_width_ohm(r_ohm)) for r_ohm in shown_ohm]
        return halves[0] * abs(rates[0]) + halves[1] * abs(rates[1])
    gain_k = abs(shown_ohm[0] * rates[0] - shown_ohm[1] * rates[1]) * used.percent / 100
    zero_k = used.digits * used.resolution_ohm * abs(rates[0] - rates[1])
    return float(gain_k + zero_k + used.resolution_ohm * (abs(rates[0]) + abs(rates[1])))
