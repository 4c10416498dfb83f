"""Outside limits: what else would read so? Only what fits, each with its own number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from .characteristic import Characteristic
from .divider import sensor_from_parallel_ohm
from .grid import Grid
from .measured import Measured
from .out_of_range import OutOfRange
from .plug_volts import PULL_UP_SHARE
from .verdict import judge

SERIES_SHARE_MAX = 0.5
"""A contact worse than half the sensor's own resistance is not believable. Common practice."""

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """One other explanation.

    Parameters
    ----------
    kind : str
        "unit-slip", "factor-ten", "board-alone", "plugged-in", "other-curve" or
        "series-resistance".
    t_implied_c : float or None
        What the reading would mean then, in °C; None where it says nothing of the sensor.
    error_k : float or None
        How far that is from the temperature measured, in K; None where none was, or none is meant.
    figures : dict
        The numbers special to this kind: `times`, `curve`, `sensor_ohm`, `pull_up_ohm`,
        `series_ohm`.
    """

    kind: str
    t_implied_c: float | None
    error_k: float | None
    figures: dict[str, float | str] = field(default_factory=dict)


TIMES: Mapping[float, str] = {
    1000.0: "unit-slip",
    0.001: "unit-slip",
    10.0: "factor-ten",
    0.1: "factor-ten",
}
"""What the reading must be multiplied by → the kind of slip: kΩ or Ω, a decimal point."""


def explain(
    curve: Curve,
    *,
    measured: Measured,
    allow_k: float = 0.0,
    pull_up_ohm: float | None = None,
    others: Mapping[str, Curve] | None = None,
) -> tuple[Explanation, ...]:
    """Return the other explanations that fit a reading, the likeliest kinds first.

    Parameters
    ----------
    curve : Characteristic or Grid
        The curve the reading was judged on, and found outside, off it, open or short.
    measured : Measured
    allow_k : float
        As for the verdict, in K.
    pull_up_ohm : float, optional
        The board's pull-up in Ω, if known.
    others : mapping of name to curve, optional
        Curves of this family or of the notes.

    Returns
    -------
    tuple of Explanation
        Empty where the reading stands as it is, or nothing fits. A thing fits where the reading,
        taken that way, would not be outside limits: |e| ≤ L + U of its own.
    """
    if not 0 < measured.r_ohm < np.inf:
        return ()
    if _fit(curve, measured=measured, allow_k=allow_k):
        return ()
    return (
        *_slips(curve, measured=measured, allow_k=allow_k),
        *board_alone(measured, pull_up_ohm=pull_up_ohm),
        *_plugged_in(curve, measured=measured, allow_k=allow_k, pull_up_ohm=pull_up_ohm),
        *_other_curves(curve, measured=measured, allow_k=allow_k, others=others or {}),
        *_series(curve, measured=measured, allow_k=allow_k),
    )


@dataclass(frozen=True, kw_only=True)
class _Fit:
    """What a reading would mean that is not outside limits."""

    t_implied_c: float
    error_k: float

    def explains(self, kind: str, **figures: float | str) -> Explanation:
        return Explanation(
            kind=kind, t_implied_c=self.t_implied_c, error_k=self.error_k, figures=figures
        )


def _fit(curve: Curve, *, measured: Measured, allow_k: float) -> _Fit | None:
    """Return what the reading means where it would not be outside this curve, else None."""
    try:
        verdict = judge(curve, measured=measured, allow_k=allow_k)
    except OutOfRange:
        return None
    t_implied_c, error_k = verdict.t_implied_c, verdict.error_k
    if t_implied_c is None or error_k is None or verdict.uncertainty_k is None:
        return None
    if abs(error_k) > verdict.limit_k + verdict.uncertainty_k:
        return None
    # A meter that is coarse there fits anything: no part stands for a temperature off its curve.
    if not curve.low_c - verdict.limit_k <= t_implied_c <= curve.high_c + verdict.limit_k:
        return None
    return _Fit(t_implied_c=t_implied_c, error_k=error_k)


def _slips(curve: Curve, *, measured: Measured, allow_k: float) -> Iterator[Explanation]:
    for times, kind in TIMES.items():
        # The factor belongs to what was shown, leads and all; they come off once, afterwards.
        shown_ohm = (measured.r_ohm + measured.leads_ohm) * times
        as_read = measured.read_as(
            max(shown_ohm - measured.leads_ohm, 0.0), meter_half_ohm=measured.meter_half_ohm * times
        )
        fit = _fit(curve, measured=as_read, allow_k=allow_k)
        if fit:
            yield fit.explains(kind, times=times)


def is_pull_up(measured: Measured, *, pull_up_ohm: float | None) -> bool:
    """Whether a reading may be the board's pull-up and nothing beside it.

    Notes
    -----
    So near to it a sensor in parallel is told from none by the meter's last digits alone: whatever
    it would stand for is no finding. A pull-up is known within `PULL_UP_SHARE`.
    """
    if pull_up_ohm is None:
        return False
    reach_ohm = measured.meter_half_ohm + PULL_UP_SHARE * pull_up_ohm
    return abs(measured.r_ohm - pull_up_ohm) <= reach_ohm


def board_alone(measured: Measured, *, pull_up_ohm: float | None) -> Iterator[Explanation]:
    """Yield that the sensor is open and still plugged in, where the reading is the pull-up."""
    if pull_up_ohm is not None and is_pull_up(measured, pull_up_ohm=pull_up_ohm):
        figures: dict[str, float | str] = {"pull_up_ohm": pull_up_ohm}
        yield Explanation(kind="board-alone", t_implied_c=None, error_k=None, figures=figures)


def _plugged_in(
    curve: Curve, *, measured: Measured, allow_k: float, pull_up_ohm: float | None
) -> Iterator[Explanation]:
    if pull_up_ohm is None or is_pull_up(measured, pull_up_ohm=pull_up_ohm):
        return
    sensor_ohm = sensor_from_parallel_ohm(measured.r_ohm, pull_up_ohm=pull_up_ohm)
    if sensor_ohm is None:
        return
    # The meter's error is stretched by the same curve that turns the reading into the sensor.
    stretch = (sensor_ohm / measured.r_ohm) ** 2
    alone = measured.read_as(sensor_ohm, meter_half_ohm=measured.meter_half_ohm * stretch)
    fit = _fit(curve, measured=alone, allow_k=allow_k)
    if fit:
        yield fit.explains("plugged-in", sensor_ohm=sensor_ohm, pull_up_ohm=pull_up_ohm)


def _other_curves(
    curve: Curve, *, measured: Measured, allow_k: float, others: Mapping[str, Curve]
) -> Iterator[Explanation]:
    fits: list[tuple[str, _Fit]] = []
    for name, other in others.items():
        if other is curve or (curve.id and name == curve.id):
            continue
        fit = _fit(other, measured=measured, allow_k=allow_k)
        if fit:
            fits.append((name, fit))
    for name, fit in sorted(fits, key=lambda named: (abs(named[1].error_k), named[0])):
        yield fit.explains("other-curve", curve=name)


def _series(curve: Curve, *, measured: Measured, allow_k: float) -> Iterator[Explanation]:
    nominal_ohm = float(curve.r_ohm(measured.t_c))
    series_ohm = measured.r_ohm - nominal_ohm
    if not 0 < series_ohm <= SERIES_SHARE_MAX * nominal_ohm:
        return
    without = measured.read_as(nominal_ohm, meter_half_ohm=measured.meter_half_ohm)
    fit = _fit(curve, measured=without, allow_k=allow_k)
    if fit:
        yield fit.explains("series-resistance", series_ohm=series_ohm)
