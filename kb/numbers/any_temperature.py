"""A reading without a temperature: what is the same at every temperature that a sensor meets?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from .characteristic import Characteristic
from .divider import sensor_from_parallel_ohm
from .explanations import TIMES, Explanation, Figures, board_alone, is_pull_up
from .grid import Grid
from .measured import Measured
from .verdict import TERMS, Verdict, expanded_k, rate_k_per_ohm, rectangular, short_below_ohm

MARGIN_K = 3.0
"""So much further off than limit and meter together a reading must be: more than the worst way of
taking a temperature would leave open. Common practice, no source."""
STEP_K = 1.0
"""The band is looked at in steps of this; between them nothing moves by as much as the margin."""

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class Meets:
    """The temperatures that a sensor meets, inside its curve: lowest and highest in °C."""

    low_c: float
    high_c: float

    def holds(self, t_c: float) -> bool:
        """Whether a temperature is one of them."""
        return self.low_c <= t_c <= self.high_c


def meets_on(curve: Curve, *, meets_c: tuple[float, float] | None) -> Meets | None:
    """Return what of the temperatures met lies on the curve; all of it where nobody knows."""
    low_c, high_c = meets_c or (curve.low_c, curve.high_c)
    low_c, high_c = max(low_c, curve.low_c), min(high_c, curve.high_c)
    return Meets(low_c=float(low_c), high_c=float(high_c)) if low_c < high_c else None


def judge_anywhere(
    curve: Curve,
    *,
    measured: Measured,
    meets: Meets,
    allow_k: float = 0.0,
    short_ohm: float | None = None,
) -> Verdict | None:
    """Return the verdict that holds at every temperature met; None where it needs a temperature.

    Parameters
    ----------
    curve : Characteristic or Grid
    measured : Measured
        Only the resistance and the meter's errors are looked at, not the temperature in it.
    meets : Meets
    allow_k, short_ohm : float
        As for `judge`.

    Notes
    -----
    A short is one whatever the temperature. Over range is open where the highest resistance that a
    good part has anywhere there, and MARGIN_K beyond, is within the meter's span. A reading is
    outside, or off the curve, where the temperature that it stands for is further from all that the
    sensor meets, or from the curve's ends, than the largest limit, U of meter and law, and MARGIN_K
    together. It is never within limits: that needs a thermometer.
    """
    band = _band(curve, meets=meets, allow_k=allow_k)
    if np.isinf(measured.r_ohm):
        reach_k = band.limit_k + expanded_k(band.law_k) + MARGIN_K
        ends_c = np.array([meets.low_c - reach_k, meets.high_c + reach_k])
        highest_ohm = max(float(np.max(curve.beyond_ohm(ends_c))), band.high_ohm)
        return None if highest_ohm >= measured.meter_span_ohm else band.verdict("open")
    if measured.r_ohm == 0 or measured.r_ohm < short_below_ohm(curve, at_most_ohm=short_ohm):
        return band.verdict("short")
    t_implied_c = float(curve.beyond_c(measured.r_ohm))
    inside_c = min(max(t_implied_c, curve.low_c), curve.high_c)
    rate = rate_k_per_ohm(curve, r_ohm=measured.r_ohm, inside_c=inside_c)
    meter_k = rectangular(measured.meter_half_ohm * rate)
    reach_k = band.limit_k + expanded_k(meter_k, band.law_k) + MARGIN_K
    if abs(t_implied_c - inside_c) > reach_k:
        return band.verdict("off-curve")
    error_k = t_implied_c - min(max(t_implied_c, meets.low_c), meets.high_c)
    if not band.limit_known or abs(error_k) <= reach_k:
        return None
    return band.verdict("outside", t_implied_c=t_implied_c, error_k=error_k)


@dataclass(frozen=True, kw_only=True)
class _Band:
    """What a good part reads anywhere there, and the largest limit.

    `law_k` is the largest standard uncertainty in K of the curve itself.
    """

    limit_k: float
    law_k: float
    limit_known: bool
    low_ohm: float
    high_ohm: float

    def verdict(
        self, name: str, *, t_implied_c: float | None = None, error_k: float | None = None
    ) -> Verdict:
        return Verdict(
            verdict=name,
            t_implied_c=t_implied_c,
            error_k=error_k,
            limit_k=self.limit_k,
            limit_known=self.limit_known,
            uncertainty_k=None,
            terms_k=dict.fromkeys(TERMS, 0.0),
            dominant=None,
            low_ohm=self.low_ohm,
            high_ohm=self.high_ohm,
        )


def _band(curve: Curve, *, meets: Meets, allow_k: float) -> _Band:
    steps = int(np.ceil((meets.high_c - meets.low_c) / STEP_K))
    t_c = meets.low_c + (meets.high_c - meets.low_c) * np.arange(steps + 1) / steps
    t_c[-1] = meets.high_c
    ends_ohm = curve.beyond_ohm(np.array([meets.low_c - allow_k, meets.high_c + allow_k]))
    return _Band(
        limit_k=max(float(np.max(curve.tol_k(t_c))), allow_k),
        law_k=rectangular(float(np.max(curve.law_k(t_c)))),
        limit_known=curve.tolerance_known or allow_k > 0,
        low_ohm=min(float(np.min(curve.low_ohm(t_c))), float(np.min(ends_ohm))),
        high_ohm=max(float(np.max(curve.high_ohm(t_c))), float(np.max(ends_ohm))),
    )


def explain_anywhere(
    curve: Curve,
    *,
    measured: Measured,
    meets: Meets,
    pull_up_ohm: float | None = None,
    others: Mapping[str, Curve] | None = None,
) -> tuple[Explanation, ...]:
    """Return what else would make such a reading, at some temperature that the sensor meets.

    Notes
    -----
    As `explain`, but without an error in kelvin: there is no temperature to be off from. A bad
    contact in series fits at some temperature whatever was read, and is not among them.
    """
    if not 0 < measured.r_ohm < np.inf:
        return ()
    return (
        *_slips(curve, measured=measured, meets=meets),
        *board_alone(measured, pull_up_ohm=pull_up_ohm),
        *_plugged_in(curve, measured=measured, meets=meets, pull_up_ohm=pull_up_ohm),
        *(
            explanation
            for name, other in sorted((others or {}).items())
            if other is not curve and not (curve.id and name == curve.id)
            for explanation in _as(
                "other-curve",
                curve=other,
                r_ohm=measured.r_ohm,
                meets=meets,
                figures={"curve": name},
            )
        ),
    )


def _slips(curve: Curve, *, measured: Measured, meets: Meets) -> Iterator[Explanation]:
    for times, kind in TIMES.items():
        shown_ohm = (measured.r_ohm + measured.leads_ohm) * times
        as_read_ohm = max(shown_ohm - measured.leads_ohm, 0.0)
        yield from _as(kind, curve=curve, r_ohm=as_read_ohm, meets=meets, figures={"times": times})


def _plugged_in(
    curve: Curve, *, measured: Measured, meets: Meets, pull_up_ohm: float | None
) -> Iterator[Explanation]:
    if pull_up_ohm is None or is_pull_up(measured, pull_up_ohm=pull_up_ohm):
        return
    alone_ohm = sensor_from_parallel_ohm(measured.r_ohm, pull_up_ohm=pull_up_ohm)
    if alone_ohm is not None:
        figures: Figures = {"sensor_ohm": alone_ohm, "pull_up_ohm": pull_up_ohm}
        yield from _as("plugged-in", curve=curve, r_ohm=alone_ohm, meets=meets, figures=figures)


def _as(
    kind: str, *, curve: Curve, r_ohm: float, meets: Meets, figures: Figures
) -> Iterator[Explanation]:
    """Yield the explanation where a resistance stands for a temperature that the sensor meets."""
    low_ohm, high_ohm = curve.range_ohm
    if not low_ohm <= r_ohm <= high_ohm:
        return
    t_implied_c = float(curve.beyond_c(r_ohm))
    if meets.holds(t_implied_c):
        yield Explanation(kind=kind, t_implied_c=t_implied_c, error_k=None, figures=figures)
