"""Curves compute over their whole range, and reach as far as their sensors do."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kb.characteristics import characteristic_of, law_of
from kb.laws import LAWS
from kb.model import Curve, Sensor
from kb.model.curve import BetaCurve, TableCurve
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers.grid import compile_grid
from kb.numbers.law import Law
from kb.numbers.rounding import format_ohm, format_plain

from .tolerances import span_words, tolerance_faults

# From a shunt of a few milliohms to the insulation of a glass bead: no sensor is outside.
LEAST_OHM, MOST_OHM = 1e-3, 1e12
FAR_K = 2.0
"""One B value that may be so far off is no curve any more. Common practice, no source."""


def curves_compute(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Yield what keeps a curve from giving one resistance for every temperature of its range."""
    if LAWS[curve.law].curve is not None:
        yield from _faults(notes, curve)


def _faults(notes: Notes, curve: Curve) -> Iterator[Problem]:
    try:
        law = law_of(curve)
        low_c, high_c = law.domain_c
    except ValueError as error:
        yield notes.problem(
            curve,
            ("law",),
            "law",
            f"this law cannot hold: {error}",
            hint="look for a slip of a sign or a power of ten in the law's numbers",
        )
        return
    if not low_c <= curve.range_c[0] < curve.range_c[1] <= high_c:
        yield _too_far(notes, curve, low_c=low_c, high_c=high_c)
        return
    odd = _odd_value(curve, law)
    if odd:
        yield notes.problem(
            curve,
            ("law",),
            "odd-resistance",
            odd,
            hint="look for a slip of a unit or a power of ten in the law's numbers",
        )
        return
    unheld = list(tolerance_faults(notes, curve=curve))
    yield from unheld or _kinks(notes, curve)


def _too_far(notes: Notes, curve: Curve, *, low_c: float, high_c: float) -> Problem:
    what = "its rows" if isinstance(curve, TableCurve) else f"the law '{curve.law}'"
    verb = "reach" if isinstance(curve, TableCurve) else "falls or rises"
    return notes.problem(
        curve,
        ("range_c",),
        "range",
        f"range_c runs from {span_words(curve.range_c)}, but {what} {verb} "
        f"from {span_words((low_c, high_c))} only",
        hint="nothing is extrapolated: shorten range_c, or take a law that reaches further",
    )


def _odd_value(curve: Curve, law: Law) -> str:
    for t_c in curve.range_c:
        with np.errstate(all="ignore"):
            r_ohm = float(law.r_ohm(t_c))
        if not LEAST_OHM <= r_ohm <= MOST_OHM:
            return (
                f"at {format_plain(t_c)} °C this law gives {format_plain(r_ohm, digits=3)} Ω, "
                "which no sensor has"
            )
    return ""


def _kinks(notes: Notes, curve: Curve) -> Iterator[Problem]:
    try:
        with np.errstate(all="ignore"):
            characteristic = characteristic_of(curve)
            if characteristic is not None:
                compile_grid(characteristic)
    except ValueError as error:
        if isinstance(curve, TableCurve):
            yield _flattest_rows(notes, curve)
        else:
            yield notes.problem(
                curve,
                ("law",),
                "kink",
                str(error),
                hint="look for a slip of a power of ten in the law's numbers, or in range_c",
            )


def _flattest_rows(notes: Notes, curve: TableCurve) -> Problem:
    """Point at the two rows between which a column tells least: there the misprint is."""
    rows = curve.points
    columns = {"it": [row.r_ohm for row in rows]}
    if rows[0].low_ohm is not None:
        columns["its low column"] = [row.low_ohm or row.r_ohm for row in rows]
        columns["its high column"] = [row.high_ohm or row.r_ohm for row in rows]
    steps_k = np.diff([row.t_c for row in rows])
    flattest: dict[str, tuple[float, int]] = {}
    for name, column in columns.items():
        per_k = np.abs(np.diff(np.log(column))) / steps_k
        at = int(np.argmin(per_k))
        flattest[name] = (float(per_k[at] / np.median(per_k)), at)
    name = min(flattest, key=lambda column: flattest[column])
    at = flattest[name][1]
    written = notes.texts[("curves", curve.id)].at(("points",))
    key = list(written)[at + 1] if isinstance(written, dict) else at + 1
    return notes.problem(
        curve,
        ("points", key),
        "kink",
        f"the table bends more sharply than any sensor: from {format_plain(rows[at].t_c)} to "
        f"{format_plain(rows[at + 1].t_c)} °C {name} goes from {format_ohm(columns[name][at])} to "
        f"{format_ohm(columns[name][at + 1])}, nearly flat beside its other rows",
        hint="look for a misprinted digit in these two rows",
    )


def curves_cover_their_sensors(sensor: Sensor, *, notes: Notes) -> Iterator[Problem]:
    """Yield each sensor that meets temperatures which its curve has no answer for."""
    curve = notes.of(Curve).get(sensor.curve or "")
    if curve is None or sensor.meets_c is None:
        return
    if not (curve.range_c[0] <= sensor.meets_c[0] and sensor.meets_c[1] <= curve.range_c[1]):
        yield notes.problem(
            sensor,
            ("meets_c",),
            "curve-too-short",
            f"this sensor meets {span_words(sensor.meets_c)}, but its curve '{curve.id}' holds "
            f"from {span_words(curve.range_c)}",
            hint="shorten meets_c to what it really meets, or find a curve that reaches further",
        )


def one_b_value_suits_its_sensors(sensor: Sensor, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a B value that is far off where its sensor works: further than that may be itself."""
    curve = notes.of(Curve).get(sensor.curve or "")
    if not isinstance(curve, BetaCurve) or any(_faults(notes, curve)):
        return
    characteristic = characteristic_of(curve)
    if characteristic is None:
        return
    low_c, high_c = sensor.meets_c or curve.range_c
    met_c = np.linspace(max(low_c, curve.range_c[0]), min(high_c, curve.range_c[1]), 101)
    if not met_c[0] < met_c[-1]:
        return  # told where the curve is too short
    limits_k = np.maximum(characteristic.tol_k(met_c), sensor.allow_k or FAR_K)
    over = np.asarray(characteristic.law_k(met_c)) - limits_k
    at = int(np.argmax(over))
    if over[at] > 0:
        yield notes.problem(
            sensor,
            ("curve",),
            "one-b-value",
            f"at {format_plain(met_c[at], digits=3)} °C one B value{_taken(curve)} may be "
            f"{format_plain(characteristic.law_k(met_c[at]), digits=2)} K off",
            hint="nothing can be decided there: put the maker's table into the notes",
            warning=True,
        )


def _taken(curve: BetaCurve) -> str:
    """Return between which temperatures a B value was taken, to follow its name."""
    if curve.fitted_to:
        return " fitted to its rows"
    if curve.b_pair_c is None:
        return ", its pair of temperatures not noted,"
    return f" taken between {span_words(curve.b_pair_c).replace(' to ', ' and ')}"
