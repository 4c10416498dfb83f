"""Outside limits: what else would read so? Only what fits, each with its own number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np

from .characteristic import Characteristic
from .divider import sensor_from_parallel_ohm
from .grid import Grid
from .measured import Measured
from .out_of_range import OutOfRange
from .rounding import format_k, format_ohm, format_t
from .verdict import Verdict, judge

SERIES_SHARE_MAX = 0.5
"""A contact worse than half the sensor's own resistance is not believable. Common practice."""

Curve = Characteristic | Grid


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """One other explanation.

    Parameters
    ----------
    kind : str
        "unit-slip", "factor-ten", "other-curve", "plugged-in" or "series-resistance".
    text : str
        One sentence for the reader.
    t_implied_c, error_k : float
        What the reading would mean then, in °C and K.
    figures : dict
        The numbers special to this kind: `times`, `curve`, `sensor_ohm`, `pull_up_ohm`,
        `series_ohm`.
    """

    kind: str
    text: str
    t_implied_c: float
    error_k: float
    figures: dict[str, float | str] = field(default_factory=dict)

    def as_dict(self) -> dict[str, object]:
        """Return it flat, for JSON."""
        told = {"t_implied_c": self.t_implied_c, "error_k": self.error_k}
        return {"kind": self.kind, "text": self.text, **told, **self.figures}


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
        As for the verdict.
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
    if not 0 < measured.r_ohm < np.inf or _fit(curve, measured, allow_k):
        return ()
    found = [
        *_slips(curve, measured, allow_k),
        *_plugged_in(curve, measured, allow_k, pull_up_ohm),
        *_other_curves(curve, measured, allow_k, others or {}),
        *_series(curve, measured, allow_k),
    ]
    return tuple(found)


def _fit(curve: Curve, measured: Measured, allow_k: float) -> Verdict | None:
    """Return the verdict where the reading would not be outside this curve, else None."""
    try:
        verdict = judge(curve, measured=measured, allow_k=allow_k)
    except OutOfRange:
        return None
    if verdict.error_k is None or verdict.uncertainty_k is None:
        return None
    fits = abs(verdict.error_k) <= verdict.limit_k + verdict.uncertainty_k
    return verdict if fits else None


def _slips(curve: Curve, measured: Measured, allow_k: float) -> Iterable[Explanation]:
    told = {
        1000.0: ("unit-slip", "ohms were read where the meter showed kilohms"),
        0.001: ("unit-slip", "kilohms were read where the meter showed ohms"),
        10.0: ("factor-ten", "the reading is ten times too low: a decimal point misread"),
        0.1: ("factor-ten", "the reading is ten times too high: a decimal point misread"),
    }
    for times, (kind, why) in told.items():
        # The factor belongs to what was shown, leads and all; they come off once, afterwards.
        shown_ohm = (measured.r_ohm + measured.leads_ohm) * times
        as_read = measured.read_as(
            max(shown_ohm - measured.leads_ohm, 0.0), meter_half_ohm=measured.meter_half_ohm * times
        )
        verdict = _fit(curve, as_read, allow_k)
        if verdict:
            text = (
                f"{why}; {format_ohm(as_read.r_ohm)} would be "
                f"{format_t(verdict.t_implied_c)}, {format_k(abs(verdict.error_k))} off"
            )
            yield _explanation(kind, text, verdict, times=times)


def _plugged_in(
    curve: Curve, measured: Measured, allow_k: float, pull_up_ohm: float | None
) -> Iterable[Explanation]:
    if pull_up_ohm is None:
        return
    sensor_ohm = sensor_from_parallel_ohm(measured.r_ohm, pull_up_ohm=pull_up_ohm)
    if sensor_ohm is None:
        return
    # The meter's error is stretched by the same curve that turns the reading into the sensor.
    stretch = (sensor_ohm / measured.r_ohm) ** 2
    alone = measured.read_as(sensor_ohm, meter_half_ohm=measured.meter_half_ohm * stretch)
    verdict = _fit(curve, alone, allow_k)
    if verdict:
        text = (
            f"still plugged in: {format_ohm(sensor_ohm)} in parallel with the board's "
            f"{format_ohm(pull_up_ohm)} pull-up reads so, and would be "
            f"{format_t(verdict.t_implied_c)}, {format_k(abs(verdict.error_k))} off"
        )
        yield _explanation(
            "plugged-in", text, verdict, sensor_ohm=sensor_ohm, pull_up_ohm=pull_up_ohm
        )


def _other_curves(
    curve: Curve, measured: Measured, allow_k: float, others: Mapping[str, Curve]
) -> Iterable[Explanation]:
    fitting = []
    for name, other in others.items():
        if other is curve or (curve.id and name == curve.id):
            continue
        verdict = _fit(other, measured, allow_k)
        if verdict:
            fitting.append((abs(verdict.error_k), name, verdict))
    for _, name, verdict in sorted(fitting, key=lambda one: one[:2]):
        text = (
            f"it fits curve {name}: wrong sensor or swapped plugs? There it would be "
            f"{format_t(verdict.t_implied_c)}, {format_k(abs(verdict.error_k))} off"
        )
        yield _explanation("other-curve", text, verdict, curve=name)


def _series(curve: Curve, measured: Measured, allow_k: float) -> Iterable[Explanation]:
    nominal_ohm = float(curve.r_ohm(measured.t_c))
    series_ohm = measured.r_ohm - nominal_ohm
    if not 0 < series_ohm <= SERIES_SHARE_MAX * nominal_ohm:
        return
    verdict = _fit(
        curve, measured.read_as(nominal_ohm, meter_half_ohm=measured.meter_half_ohm), allow_k
    )
    if verdict:
        text = (
            f"{format_ohm(series_ohm, digits=2)} in series, as of a bad contact or a joint, would "
            "read so; it would add the same ohms at every other temperature"
        )
        yield _explanation("series-resistance", text, verdict, series_ohm=series_ohm)


def _explanation(kind: str, text: str, verdict: Verdict, **figures: float | str) -> Explanation:
    return Explanation(
        kind=kind,
        text=text,
        t_implied_c=verdict.t_implied_c,
        error_k=verdict.error_k,
        figures=figures,
    )
