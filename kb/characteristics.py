"""From a curve entry to something that computes: the bridge between the notes and the numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from kb.laws import LAWS
from kb.model import Curve
from kb.model.curve import TableCurve
from kb.model.tolerance import Promise
from kb.model.tolerance import TolerancePiece as TolerancePieceEntry
from kb.numbers.characteristic import Characteristic
from kb.numbers.curve_width import FittedWidth, TableWidth
from kb.numbers.law import KnowsItsError, Law
from kb.numbers.printed import printed_points
from kb.numbers.same import once_each
from kb.numbers.tolerance import (
    KelvinTolerance,
    NoTolerance,
    PlatinumClass,
    PointTolerance,
    SpreadTolerance,
    Tolerance,
)
from kb.numbers.tolerance_pieces import TolerancePiece, TolerancePieces


def characteristic_of(curve: Curve) -> Characteristic | None:
    """Return a curve ready to compute; None for a switching PTC, which has limits and no curve.

    Raises
    ------
    ValueError
        If the law or the tolerance does not hold over the entry's range (OutOfRange is one).
    """
    return _ready(curve)


def _made(curve: Curve) -> Characteristic | None:
    if LAWS[curve.law].curve is None:
        return None
    low_c, high_c = curve.range_c
    return Characteristic(
        law=law_of(curve),
        tolerance=tolerance_of(curve),
        low_c=low_c,
        high_c=high_c,
        width=width_of(curve),
        id=curve.id,
    )


_ready = once_each(_made, most=512)


def law_of(curve: Curve) -> Law:
    """Return the law that an entry names, with its parameters."""
    made_by = LAWS[curve.law].curve
    if made_by is None:
        raise TypeError(f"the law '{curve.law}' has limits and no curve")
    return made_by(curve)


def width_of(curve: Curve) -> KnowsItsError | None:
    """Return how well a curve is known by the rows that it was made from; None where it has none.

    A law without rows says it itself, as one B value does, or is taken as it was published.
    """
    if isinstance(curve, TableCurve):
        return TableWidth(rows=printed_points((row.t_c, row.printed) for row in curve.points))
    if curve.fitted_to:
        rows = printed_points((row.t_c, row.printed) for row in curve.fitted_to)
        return FittedWidth(law=law_of(curve), name=curve.law, rows=rows)
    return None


def tolerance_of(curve: Curve) -> Tolerance:
    """Return the part's tolerance that an entry promises."""
    tolerance = curve.tolerance
    if tolerance is None:
        columns = _columns(curve) if isinstance(curve, TableCurve) else ()
        return PointTolerance(points=columns) if columns else NoTolerance()
    if tolerance.platinum_class is not None:
        return PlatinumClass(grade=tolerance.platinum_class, build=tolerance.build)
    if tolerance.pieces:
        low_c, high_c = curve.range_c
        return _pieces(tolerance.pieces).over(low_c=low_c, high_c=high_c)
    plain = _plain(tolerance)
    if isinstance(plain, SpreadTolerance):
        return replace(plain, b_fraction=(tolerance.b_percent or 0) / 100, b_k=tolerance.b_k or 0)
    if tolerance.kelvin_per_c_below_0 is not None:
        return replace(plain, below_per_c=tolerance.kelvin_per_c_below_0)
    return plain


def _pieces(pieces: Sequence[TolerancePieceEntry]) -> TolerancePieces:
    return TolerancePieces(
        pieces=tuple(
            TolerancePiece(from_c=piece.from_c, to_c=piece.to_c, tolerance=_plain(piece))
            for piece in pieces
        )
    )


def _plain(promise: Promise) -> KelvinTolerance | SpreadTolerance:
    """Return what is promised in kelvin or in per cent, wherever it is promised."""
    if promise.kelvin is not None:
        per_c = promise.kelvin_per_c or 0.0
        return KelvinTolerance(
            kelvin=promise.kelvin, at_c=promise.grows_from_c, per_c=per_c, below_per_c=per_c
        )
    return SpreadTolerance(
        r_fraction=(promise.r_percent or 0) / 100,
        at_c=promise.grows_from_c,
        r_per_c=(promise.r_percent_per_c or 0) / 100,
    )


def _columns(curve: TableCurve) -> tuple[tuple[float, float, float], ...]:
    """Return the low and high columns of a printed table; nothing where it has none."""
    return tuple(
        (row.t_c, row.low_ohm, row.high_ohm)
        for row in curve.points
        if row.low_ohm is not None and row.high_ohm is not None
    )
