"""How far a good part may be off, in a page's words: one promise, or a row for each piece."""

from __future__ import annotations

from collections.abc import Sequence

from kb.model import Curve
from kb.model.tolerance import Promise, Tolerance, TolerancePiece
from kb.numbers.characteristic import Characteristic
from kb.numbers.rounding import NARROW, format_plain
from kb.words.phrase import in_words

from .components import degrees, kelvin
from .html import Child, Html, bullets, join
from .in_words import value_of, words_around


def tolerance_words(curve: Curve, characteristic: Characteristic) -> Html:
    """Return what a curve's entry promises of a part."""
    tolerance = curve.tolerance
    if not characteristic.tolerance_known:
        return join(in_words("promise.not-known"))
    if tolerance is None:
        return join(in_words("promise.columns"))
    if tolerance.platinum_class:
        build = value_of("build", tolerance.build)
        return join(in_words("promise.platinum", letter=tolerance.platinum_class, build=build))
    if tolerance.pieces:
        return _pieces(tolerance.pieces)
    return _with_only_whole(_promise(tolerance), tolerance=tolerance)


def _pieces(pieces: Sequence[TolerancePiece]) -> Html:
    rows = [
        words_around(
            "promise.piece",
            low=degrees(piece.from_c),
            high=degrees(piece.to_c),
            promise=_promise(piece),
        )
        for piece in pieces
    ]
    return join([bullets(rows), in_words("promise.wider") if len(rows) > 1 else None])


def _promise(promise: Promise) -> Html:
    """Return ± kelvin or per cent, and how it grows away from a temperature."""
    if promise.kelvin is not None:
        return _grows(promise, base=kelvin(promise.kelvin), per_c=promise.kelvin_per_c, unit="K")
    percent = f"{format_plain(promise.r_percent or 0)}{NARROW}%"
    if promise.r_percent_per_c is None and isinstance(promise, Tolerance):
        return words_around("promise.at", percent=percent, t=degrees(promise.grows_from_c))
    return _grows(promise, base=percent, per_c=promise.r_percent_per_c, unit="%")


def _grows(promise: Promise, *, base: Child, per_c: float | None, unit: str) -> Html:
    of = "-of-r" if unit == "%" else ""
    if not per_c:
        where = "everywhere" if isinstance(promise, Tolerance) else "in-piece"
        return words_around(f"promise.{where}{of}", base=base)
    step = f"{format_plain(per_c)}{NARROW}{unit}"
    from_c = degrees(promise.grows_from_c)
    return words_around(f"promise.grows{of}", base=base, step=step, t=from_c)


def _with_only_whole(promise: Html, *, tolerance: Tolerance) -> Html:
    """Return a promise with what only the one promise of a whole curve may have."""
    if tolerance.kelvin_per_c_below_0:
        step = format_plain(tolerance.kelvin_per_c_below_0)
        return words_around("promise.below-0", promise=promise, step=step)
    if tolerance.b_percent and tolerance.b_k:
        percent, b_k = format_plain(tolerance.b_percent), format_plain(tolerance.b_k)
        return words_around("promise.b-too", promise=promise, percent=percent, b=b_k)
    return promise
