"""A tolerance holds over its curve's range, and means something for its law."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kb.characteristics import tolerance_of
from kb.model import Curve
from kb.model.curve import PlatinumCurve, SwitchingPtc
from kb.model.tolerance import Promise, TolerancePiece
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.rounding import format_plain
from kb.numbers.tolerance import PLATINUM_CLASSES


def tolerance_faults(notes: Notes, *, curve: Curve) -> Iterator[Problem]:
    """Yield what keeps a tolerance from being one figure at every temperature of the range."""
    tolerance = curve.tolerance
    if tolerance is not None and tolerance.pieces:
        yield from _short_pieces(notes, curve, tolerance.pieces)
        for i, piece in enumerate(tolerance.pieces):
            span_c = (piece.from_c, piece.to_c)
            yield from _past_whole(notes, curve, piece, way=("pieces", i), span_c=span_c)
    elif tolerance is not None and tolerance.r_percent is not None:
        yield from _past_whole(notes, curve, tolerance, way=(), span_c=curve.range_c)
    elif tolerance is not None and tolerance.platinum_class is not None:
        yield from _class_too_short(notes, curve)
    elif tolerance is None:
        yield from _columns_that_turn(notes, curve)


def _short_pieces(
    notes: Notes, curve: Curve, pieces: Sequence[TolerancePiece]
) -> Iterator[Problem]:
    low_c, high_c = curve.range_c
    held_c = (pieces[0].from_c, pieces[-1].to_c)
    if held_c[0] <= low_c and high_c <= held_c[1]:
        return
    field: tuple[int, str] = (0, "from_c") if low_c < held_c[0] else (len(pieces) - 1, "to_c")
    yield notes.problem(
        curve,
        ("tolerance", "pieces", *field),
        "tolerance-range",
        f"its pieces hold from {span_words(held_c)}, but range_c runs from "
        f"{span_words(curve.range_c)}",
        hint="add the piece that is missing, or shorten range_c",
    )


def _past_whole(
    notes: Notes,
    curve: Curve,
    promise: Promise,
    *,
    way: tuple[str | int, ...],
    span_c: tuple[float, float],
) -> Iterator[Problem]:
    """Yield per cent that leave a part no least resistance; they are most at an end."""
    if promise.r_percent is None:
        return
    ends_c = [min(max(end_c, curve.range_c[0]), curve.range_c[1]) for end_c in span_c]
    at_c = max(ends_c, key=lambda end_c: abs(end_c - promise.grows_from_c))
    percent = promise.r_percent + (promise.r_percent_per_c or 0) * abs(at_c - promise.grows_from_c)
    if percent < 100:
        return
    yield notes.problem(
        curve,
        ("tolerance", *way, "r_percent"),
        "tolerance",
        f"at {format_plain(at_c)} °C this is ± {format_plain(percent, digits=3)} % of the "
        "resistance: such a part may read nothing at all",
        hint="look for a slip of the point in r_percent or r_percent_per_c",
    )


def _columns_that_turn(notes: Notes, curve: Curve) -> Iterator[Problem]:
    try:
        tolerance_of(curve)
    except ValueError as error:
        yield notes.problem(
            curve,
            ("points",),
            "tolerance",
            f"the tolerance cannot hold: {error}",
            hint="the low and high columns rise or fall strictly too, as the nominal does",
        )


def _class_too_short(notes: Notes, curve: Curve) -> Iterator[Problem]:
    tolerance = curve.tolerance
    if tolerance is None or tolerance.platinum_class is None:
        return
    (low_c, high_c), build = curve.range_c, tolerance.build
    first_c, last_c = PLATINUM_CLASSES[tolerance.platinum_class][2][build]
    if first_c <= low_c and high_c <= last_c:
        return
    yield notes.problem(
        curve,
        ("tolerance", "platinum_class"),
        "tolerance-range",
        f"class {tolerance.platinum_class} for a {build} element holds "
        f"from {span_words((first_c, last_c))} (IEC 60751), but range_c runs from "
        f"{span_words(curve.range_c)}",
        hint=_other_class(curve, build=build),
    )


def _other_class(curve: Curve, *, build: str) -> str:
    low_c, high_c = curve.range_c
    enough = [
        grade
        for grade, (_, _, builds) in PLATINUM_CLASSES.items()
        if builds[build][0] <= low_c and high_c <= builds[build][1]
    ]
    other = f", or give the class it has there: {' or '.join(enough)}" if enough else ""
    return f"shorten range_c{other}"


def tolerance_suits_its_law(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Yield a tolerance that means nothing for its curve's law."""
    tolerance = curve.tolerance
    if tolerance is None:
        return
    if tolerance.platinum_class is not None and not isinstance(curve, PlatinumCurve):
        yield notes.problem(
            curve,
            ("tolerance", "platinum_class"),
            "tolerance",
            f"a platinum class on a curve with the law '{curve.law}'",
            hint="write r_percent or kelvin",
        )
    if isinstance(curve, SwitchingPtc):
        yield notes.problem(
            curve,
            ("tolerance",),
            "tolerance",
            "a switching PTC has limits around its trip temperature and no tolerance of ohms",
            hint="delete these lines: the limits follow from trip_c and in_series",
        )


def span_words(range_c: tuple[float, float]) -> str:
    """Return a range as a message says it: -40 to 110 °C."""
    return f"{format_plain(range_c[0])} to {format_plain(range_c[1])} °C"
