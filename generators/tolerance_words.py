"""How far a good part may be off, in a page's words: one promise, or a row for each piece."""

from __future__ import annotations

from collections.abc import Sequence

from kb.model import Curve
from kb.model.tolerance import Promise, Tolerance, TolerancePiece
from kb.numbers.characteristic import Characteristic
from kb.numbers.rounding import NARROW, format_plain

from .components import degrees, kelvin
from .html import Child, Html, bullets, join
from .said import value_of


def tolerance_words(curve: Curve, characteristic: Characteristic) -> Html:
    """Return what a curve's entry promises of a part."""
    tolerance = curve.tolerance
    if not characteristic.tolerance_known:
        return join("not known: the band is not drawn")
    if tolerance is None:
        return join("the low and high columns of its table")
    if tolerance.platinum_class:
        return join(
            f"IEC 60751 class {tolerance.platinum_class}, {value_of('build', tolerance.build)}"
        )
    if tolerance.pieces:
        return _pieces(tolerance.pieces)
    return join([_promise(tolerance), *_only_whole(tolerance)])


def _pieces(pieces: Sequence[TolerancePiece]) -> Html:
    rows = [
        join([degrees(piece.from_c), " to ", degrees(piece.to_c), ": ", _promise(piece)])
        for piece in pieces
    ]
    return join([bullets(rows), "Where two meet, the wider holds." if len(rows) > 1 else None])


def _promise(promise: Promise) -> Html:
    """Return ± kelvin or per cent, and how it grows away from a temperature."""
    if promise.kelvin is not None:
        return _grows(promise, base=kelvin(promise.kelvin), per_c=promise.kelvin_per_c, unit="K")
    percent = f"{format_plain(promise.r_percent or 0)}{NARROW}%"
    if promise.r_percent_per_c is None and isinstance(promise, Tolerance):
        return join(["± ", percent, " at ", degrees(promise.grows_from_c)])
    return _grows(promise, base=percent, per_c=promise.r_percent_per_c, unit="%")


def _grows(promise: Promise, *, base: Child, per_c: float | None, unit: str) -> Html:
    of = " of the resistance" if unit == "%" else ""
    if not per_c:
        return join(["± ", base, of, " everywhere" if isinstance(promise, Tolerance) else None])
    grown = f" + {format_plain(per_c)}{NARROW}{unit} for each °C away from "
    return join(["± (", base, grown, degrees(promise.grows_from_c), ")", of])


def _only_whole(tolerance: Tolerance) -> list[Child]:
    """Return what only the one promise of a whole curve may have."""
    if tolerance.kelvin_per_c_below_0:
        return [f", below 0 °C {format_plain(tolerance.kelvin_per_c_below_0)} K for each"]
    if tolerance.b_percent and tolerance.b_k:
        b_k = format_plain(tolerance.b_k)
        return [f" and ± {format_plain(tolerance.b_percent)} % of B = {b_k} K"]
    return []
