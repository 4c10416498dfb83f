"""From a curve entry to something that computes: the one bridge between the notes and the numbers."""

from __future__ import annotations

from kb.model import Curve
from kb.model.curve import (
    BetaCurve,
    NickelCurve,
    PlatinumCurve,
    PolynomialCurve,
    SteinhartHartCurve,
    SwitchingPtc,
    TableCurve,
    WindingCurve,
)
from kb.numbers.characteristic import Characteristic
from kb.numbers.law import Law
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.ntc_polynomial import NtcPolynomial
from kb.numbers.platinum import Platinum
from kb.numbers.point_table import PointTable
from kb.numbers.steinhart_hart import SteinhartHart
from kb.numbers.tolerance import (
    KelvinTolerance,
    NoTolerance,
    PlatinumClass,
    PointTolerance,
    SpreadTolerance,
    Tolerance,
)
from kb.numbers.winding_metal import WindingMetal


def characteristic_of(curve: Curve) -> Characteristic | None:
    """Return a curve ready to compute; None for a switching PTC, which has limits and no curve.

    Raises
    ------
    ValueError
        If the law or the tolerance does not hold over the entry's range (OutOfRange is one).
    """
    if isinstance(curve, SwitchingPtc):
        return None
    low_c, high_c = curve.range_c
    return Characteristic(
        law=law_of(curve), tolerance=tolerance_of(curve), low_c=low_c, high_c=high_c, id=curve.id
    )


def law_of(curve: Curve) -> Law:
    """Return the law that an entry names, with its parameters."""
    match curve:
        case TableCurve():
            return PointTable(points=tuple((row.t_c, row.r_ohm) for row in curve.points))
        case BetaCurve():
            return NtcBeta(r_ref=curve.r_ref, at_c=curve.at_c, b_k=curve.b_k)
        case SteinhartHartCurve():
            return SteinhartHart(a=curve.a, b=curve.b, c=curve.c)
        case PolynomialCurve():
            return NtcPolynomial(r_ref=curve.r_ref, a=curve.a, b=curve.b, c=curve.c, d=curve.d)
        case PlatinumCurve():
            return Platinum(r0=curve.r0)
        case NickelCurve():
            return Nickel(r0=curve.r0, ppm_per_k=int(curve.ppm_per_k))
        case WindingCurve():
            return WindingMetal(r_ref=curve.r_ref, at_c=curve.at_c, constant=float(curve.constant))
    raise TypeError(f"no law is built for '{curve.law}'")


def tolerance_of(curve: Curve) -> Tolerance:
    """Return the part's tolerance that an entry promises."""
    told = curve.tolerance
    if told is None:
        if isinstance(curve, TableCurve) and curve.points[0].low_ohm is not None:
            return PointTolerance(
                points=tuple((row.t_c, row.low_ohm, row.high_ohm) for row in curve.points)
            )
        return NoTolerance()
    if told.platinum_class is not None:
        return PlatinumClass(grade=told.platinum_class, build=told.build)
    if told.kelvin is not None:
        return KelvinTolerance(kelvin=told.kelvin)
    return SpreadTolerance(
        r_fraction=told.r_percent / 100,
        at_c=told.at_c,
        b_fraction=(told.b_percent or 0) / 100,
        b_k=told.b_k or 0,
    )
