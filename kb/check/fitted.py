"""A law is as near to the rows that it was fitted to as it can be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from kb.characteristics import law_of
from kb.model import Curve
from kb.model.rows import FittedRow
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.numbers import fit
from kb.numbers.law import Law
from kb.numbers.misprint import misprints
from kb.numbers.printed import PrintedPoint, printed_points
from kb.numbers.rounding import format_k, format_t

SPARE_K = 0.1
MAY_EXCEED = 1.25
"""A fit may be worse than the best by so much: it was weighed otherwise. Common practice."""


def laws_meet_their_rows(curve: Curve, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a law that is further off its own rows than a fit of that law would be."""
    if curve.fitted_to and curve.law in fit.LAWS:
        yield from _off(notes, curve)


def _off(notes: Notes, curve: Curve) -> Iterator[Problem]:
    try:
        law = law_of(curve)
        points = printed_of(curve.fitted_to)
        with np.errstate(all="ignore"):
            best = fit.fit_points(points, law=curve.law)
            off_k = _off_k(law, points=points)
    except ValueError:
        return  # told where the law cannot hold, or the rows cannot be read by it
    odd_c = {misprint.t_c for misprint in misprints(points)}
    off_k = np.where([point.t_c in odd_c for point in points], 0.0, off_k)
    worst = int(np.argmax(off_k))
    if off_k[worst] <= MAY_EXCEED * best.worst_k + SPARE_K:
        return
    row = curve.fitted_to[worst]
    written = notes.texts[("curves", curve.id)].at(("fitted_to",))
    key = list(written)[worst] if isinstance(written, dict) else worst
    yield notes.problem(
        curve,
        ("fitted_to", key),
        "fit",
        f"at {format_t(row.t_c)} the law is {format_k(float(off_k[worst]))} off its own row "
        f"{row.printed}, and a fit is at most {format_k(best.worst_k)} off",
        hint="hold this row and the law's numbers against their source, or fit the rows again",
        warning=True,
    )


def _off_k(law: Law, *, points: Sequence[PrintedPoint]) -> np.ndarray:
    t_c, r_ohm = np.array([[point.t_c, point.r_ohm] for point in points]).T
    return np.abs((law.r_ohm(t_c) - r_ohm) / law.slope_ohm_per_k(t_c))


def printed_of(rows: Sequence[FittedRow]) -> tuple[PrintedPoint, ...]:
    """Return the rows of an entry, each with half of its last digit."""
    return printed_points((row.t_c, row.printed) for row in rows)
