"""A curve both ways: what it reads at a temperature, and which temperature a reading stands for."""

from __future__ import annotations

import math
from dataclasses import dataclass

from kb.numbers.ohm_digits import ohm_digits
from kb.numbers.out_of_range import OutOfRange

from .sensor_facts import Curve
from .statement import Refusal, Statement
from .typed import TypedTemperature, typed_reading_ohm, typed_temperature


@dataclass(frozen=True, kw_only=True)
class LookedUp:
    """One point of a curve, with what a good part may read there.

    Parameters
    ----------
    unit : str
        "C" or "F": the unit to answer in.
    digits : int
        So many significant digits of ohms tell what a kelvin needs on this curve.
    low_ohm, high_ohm, tol_k : float or None
        None where nobody knows the part's tolerance.
    statements : tuple of Statement
        What a good part reads there, or that nobody knows.
    """

    unit: str
    digits: int
    t_c: float
    r_ohm: float
    low_ohm: float | None
    high_ohm: float | None
    tol_k: float | None
    statements: tuple[Statement, ...]


def ohm_at(text: str, *, curve: Curve, curve_id: str, unit: str = "C") -> LookedUp:
    """Return what the curve reads at the temperature typed.

    Raises
    ------
    Refusal
        If the temperature is missing, unreadable, or not one the curve holds for.
    """
    at = temperature_on(text, curve=curve, curve_id=curve_id, unit=unit)
    return _looked_up(curve, t_c=at.t_c, r_ohm=float(curve.r_ohm(at.t_c)), unit=at.unit)


def temperature_of(text: str, *, curve: Curve, curve_id: str, unit: str = "C") -> LookedUp:
    """Return the temperature that the reading typed stands for.

    Raises
    ------
    Refusal
        If the reading is missing, unreadable, over range, or off the curve.
    """
    r_ohm = typed_reading_ohm(text, field="reading", metered=False)
    if math.isinf(r_ohm):
        raise Refusal(Statement(id="curve.over-range"), field="reading")
    try:
        t_c = float(curve.t_c(r_ohm))
    except OutOfRange:
        low_ohm, high_ohm = curve.range_ohm
        figures = {
            "curve": curve_id,
            "shown_ohm": r_ohm,
            "low_ohm": float(low_ohm),
            "high_ohm": float(high_ohm),
        }
        raise Refusal(Statement(id="curve.off", figures=figures), field="reading") from None
    return _looked_up(curve, t_c=t_c, r_ohm=r_ohm, unit=unit)


def temperature_on(text: str, *, curve: Curve, curve_id: str, unit: str = "C") -> TypedTemperature:
    """Return the temperature typed, one that the curve holds for; Refusal as `ohm_at`."""
    if not text.strip():
        raise Refusal(Statement(id="curve.temperature-missing"), field="at", missing=True)
    at = typed_temperature(text, field="at", unit=unit)
    try:
        curve.r_ohm(at.t_c)
    except OutOfRange:
        figures = {"curve": curve_id, "t_c": at.t_c, "low_c": curve.low_c, "high_c": curve.high_c}
        raise Refusal(Statement(id="curve.beyond", figures=figures), field="at") from None
    return at


def _looked_up(curve: Curve, *, t_c: float, r_ohm: float, unit: str) -> LookedUp:
    low_ohm = high_ohm = tol_k = None
    statement = Statement(id="curve.no-tolerance")
    if curve.tolerance_known:
        low_ohm, high_ohm = float(curve.low_ohm(t_c)), float(curve.high_ohm(t_c))
        tol_k = float(curve.tol_k(t_c))
        figures = {"part_ohm": [low_ohm, high_ohm], "tol_k": tol_k}
        statement = Statement(id="curve.good-part", figures=figures)
    return LookedUp(
        unit=unit,
        digits=ohm_digits(curve),
        t_c=t_c,
        r_ohm=r_ohm,
        low_ohm=low_ohm,
        high_ohm=high_ohm,
        tol_k=tol_k,
        statements=(statement,),
    )
