"""A few printed points: the simplest law that agrees with them, and points that look misprinted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from .between_rows import PARAMETERS, formula_between_k, table_between_k
from .kelvin import kelvin
from .kelvin_fit import (
    beta_in_kelvin,
    polynomial_in_kelvin,
    polynomial_law,
    steinhart_hart_in_kelvin,
)
from .law import Law
from .minimax import minimax_fit
from .misprint import KNOWN_LAWS, ROUNDED_TWICE, Misprint, misprints, roughness_k
from .nickel import Nickel
from .ntc_beta import NtcBeta
from .ntc_polynomial import NtcPolynomial
from .platinum import Platinum
from .point_table import PointTable
from .printed import PrintedPoint
from .steinhart_hart import SteinhartHart
from .winding_metal import CONSTANTS, WindingMetal

LAWS = ("platinum", "nickel", "winding", "beta", "steinhart-hart", "polynomial", "table")
"""Laws that can be fitted, the simplest first."""

_LEAST_POINTS = {
    "platinum": 1,
    "nickel": 1,
    "winding": 1,
    "beta": 2,
    "steinhart-hart": 3,
    "polynomial": 4,
    "table": 2,
}

NOTABLY, NOTABLE_K = 1.1, 0.02
"""Less between the points than at them is not worth a sentence."""

Columns = tuple["np.ndarray", "np.ndarray", "np.ndarray"]
Fitted = tuple[Law, dict[str, object]]


@dataclass(frozen=True, kw_only=True)
class Fit:
    """A law fitted to printed points.

    Parameters
    ----------
    name : str
        One of LAWS.
    law : Law
    parameters : dict
        By the names that a curve entry uses; for a table its `points`.
    within_print : bool
        True where every point kept is met within its print rounding.
    met_exactly : bool
        True where there are only as many points as the law has parameters: it meets any such
        points, and says nothing of how well it holds.
    worst_k, worst_at_c : float
        The largest |T(R) − t| of a point kept, in K, and where; zero for a table, which meets its
        points.
    between_k : float
        How far off it may be between its points, in K; infinite where nobody can tell.
    roughness_k : float
        Largest departure in K of an inner point from the cubic of its neighbours: how far a table
        read between its points may be trusted.
    suspects : tuple of Misprint
        Left out of the fit.
    """

    name: str
    law: Law
    parameters: dict[str, object]
    within_print: bool
    met_exactly: bool
    worst_k: float
    worst_at_c: float
    between_k: float
    roughness_k: float
    suspects: tuple[Misprint, ...]

    @property
    def more_between(self) -> bool:
        """True where it may be notably further off between its points than at them."""
        return self.between_k > NOTABLY * self.worst_k + NOTABLE_K


def fit_points(points: Sequence[PrintedPoint], *, law: str = "auto") -> Fit:
    """Return the simplest law that meets the points within their print rounding.

    Parameters
    ----------
    points : sequence of PrintedPoint
        At least two temperatures.
    law : str
        "auto", or one of LAWS to have that one whether it agrees or not.

    Raises
    ------
    ValueError
        If the law is not known, there are too few points for it, or none of its forms fits them.

    Notes
    -----
    Points that look misprinted are left out first. Then the worst point is made as few kelvin off
    as it can be (minimax): that is what an engineer reads. Only where a law is within the print
    when it is weighed by what each rounding allows, and not when weighed by kelvin, the former
    stands: coarse digits are no kelvins. A law with as many parameters as there are points would
    always agree, so "auto" asks for one point more; if no formula agrees, the table of points
    stands.
    """
    if law != "auto" and law not in LAWS:
        raise ValueError(f"law '{law}' is not one of auto, {', '.join(LAWS)}")
    suspects = misprints(points)
    misprinted_c = {suspect.t_c for suspect in suspects}
    kept = sorted((p for p in points if p.t_c not in misprinted_c), key=lambda p: p.t_c)
    for name in LAWS if law == "auto" else (law,):
        least = _LEAST_POINTS[name] + (law == "auto" and name != "table")
        if len(kept) < max(2, least):
            continue
        fit = _fitted(name, kept=kept, suspects=suspects)
        if fit is not None and (law != "auto" or fit.within_print):
            return fit
    raise ValueError(
        f"{len(kept)} points do not make {'any law' if law == 'auto' else 'law ' + law}; "
        "give more points, or check that resistance only falls or only rises"
    )


def _fitted(
    name: str, *, kept: Sequence[PrintedPoint], suspects: tuple[Misprint, ...]
) -> Fit | None:
    """Return the law fitted to the points and how well it meets them; None if no form fits."""
    columns = _columns(kept)
    t_c, r_ohm, _ = columns
    found = _best_fit(name, columns=columns)
    if found is None:
        return None
    law, parameters = found
    off_k = np.zeros_like(t_c) if name == "table" else _off_k(law, columns=columns)
    worst = int(np.argmax(off_k))
    worst_k = float(off_k[worst])
    rows = list(zip(t_c, r_ohm, strict=True))
    if name == "table":
        between_k = float(table_between_k(rows).max())
    else:
        between_k = worst_k + float(formula_between_k(rows, law=name).max())
    return Fit(
        name=name,
        law=law,
        parameters=parameters,
        within_print=_within_print(law, columns=columns),
        met_exactly=len(kept) <= PARAMETERS.get(name, 0),
        worst_k=worst_k,
        worst_at_c=float(t_c[worst]),
        between_k=between_k,
        roughness_k=roughness_k(kept),
        suspects=suspects,
    )


def _best_fit(name: str, *, columns: Columns) -> Fitted | None:
    """Return the law that is best in kelvin, or by print where only that agrees; None if none."""
    made: list[Fitted] = []
    for fitted_by in (_FITTED_IN_KELVIN.get(name), _FITTED[name]):
        try:
            made += [fitted_by(columns)] if fitted_by else []
        except ValueError:
            continue
    agreeing = [found for found in made if _within_print(found[0], columns=columns)]
    return next(iter(agreeing + made), None)


def _within_print(law: Law, *, columns: Columns) -> bool:
    t_c, r_ohm, half_ohm = columns
    return bool(np.all(np.abs(law.r_ohm(t_c) - r_ohm) <= half_ohm * ROUNDED_TWICE))


def _off_k(law: Law, *, columns: Columns) -> np.ndarray:
    """Return how far off the temperature is that the law reads for each point, in K."""
    t_c, r_ohm, _ = columns
    try:
        return np.abs(np.asarray(law.t_c(r_ohm)) - t_c)
    except (ValueError, ArithmeticError):
        # A point whose resistance the law never reaches: along its slope there.
        return np.abs((law.r_ohm(t_c) - r_ohm) / law.slope_ohm_per_k(t_c))


def _columns(points: Sequence[PrintedPoint]) -> Columns:
    t_c, r_ohm, half_ohm = np.array([[p.t_c, p.r_ohm, p.half_ohm] for p in points]).T
    return t_c, r_ohm, half_ohm


def _best_of(candidates: list[Fitted], *, columns: Columns) -> Fitted:
    t_c, r_ohm, half_ohm = columns

    def worst(candidate: Fitted) -> float:
        return float(np.max(np.abs(candidate[0].r_ohm(t_c) - r_ohm) / half_ohm))

    return min(candidates, key=worst)


def _platinum(columns: Columns) -> Fitted:
    known = [law for law in KNOWN_LAWS if isinstance(law, Platinum)]
    return _best_of([(law, {"r0": law.r0}) for law in known], columns=columns)


def _nickel(columns: Columns) -> Fitted:
    known = [law for law in KNOWN_LAWS if isinstance(law, Nickel)]
    return _best_of(
        [(law, {"r0": law.r0, "ppm_per_k": law.ppm_per_k}) for law in known], columns=columns
    )


def _winding(columns: Columns) -> Fitted:
    t_c, r_ohm, half_ohm = columns
    candidates: list[Fitted] = []
    for k in CONSTANTS:
        share = ((k + t_c) / (k + 20))[:, None]
        (r_ref,), _ = minimax_fit(share, wanted=r_ohm, allowed=half_ohm)
        law = WindingMetal(r_ref=float(r_ref), at_c=20.0, constant=k)
        candidates.append((law, {"r_ref": law.r_ref, "at_c": 20.0, "constant": k}))
    return _best_of(candidates, columns=columns)


def _beta(columns: Columns) -> Fitted:
    law = _beta_law(columns)
    return law, {"r_ref": law.r_ref, "b_k": law.b_k, "at_c": law.at_c}


def _beta_law(columns: Columns) -> NtcBeta:
    t_c, r_ohm, half_ohm = columns
    from_25 = 1 / kelvin(t_c) - 1 / kelvin(25.0)
    terms = np.column_stack([np.ones_like(t_c), from_25])
    (ln_ref, b_k), _ = minimax_fit(terms, wanted=np.log(r_ohm), allowed=half_ohm / r_ohm)
    return NtcBeta(r_ref=float(np.exp(ln_ref)), b_k=float(b_k), at_c=25.0)


def _steinhart_hart(columns: Columns) -> Fitted:
    t_c, r_ohm, half_ohm = columns
    ln_r = np.log(r_ohm)
    # What a half digit is worth in 1/T follows from the B value, near enough for weighing.
    rate = 1 / _beta_law(columns).b_k
    terms = np.column_stack([np.ones_like(ln_r), ln_r, ln_r**3])
    for _ in range(2):
        (a, b, c), _ = minimax_fit(terms, wanted=1 / kelvin(t_c), allowed=rate * half_ohm / r_ohm)
        rate = b + 3 * c * ln_r**2
    law = SteinhartHart(a=float(a), b=float(b), c=float(c))
    return law, {"a": law.a, "b": law.b, "c": law.c}


def _polynomial(columns: Columns) -> Fitted:
    t_c, r_ohm, half_ohm = columns
    x = 1 / kelvin(t_c)
    middle, span = (x.max() + x.min()) / 2, (x.max() - x.min()) / 2
    terms = np.vander((x - middle) / span, 4, increasing=True)
    scaled, _ = minimax_fit(terms, wanted=np.log(r_ohm), allowed=half_ohm / r_ohm)
    law = polynomial_law(np.polynomial.Polynomial(scaled, domain=[x.min(), x.max()]))
    return law, _coefficients(law)


def _coefficients(law: NtcPolynomial) -> dict[str, object]:
    return {"r_ref": law.r_ref, "a": law.a, "b": law.b, "c": law.c, "d": law.d}


def _beta_in_kelvin(columns: Columns) -> Fitted:
    law = beta_in_kelvin(columns[0], r_ohm=columns[1])
    return law, {"r_ref": law.r_ref, "b_k": law.b_k, "at_c": law.at_c}


def _steinhart_hart_in_kelvin(columns: Columns) -> Fitted:
    law = steinhart_hart_in_kelvin(columns[0], r_ohm=columns[1])
    return law, {"a": law.a, "b": law.b, "c": law.c}


def _polynomial_in_kelvin(columns: Columns) -> Fitted:
    law = polynomial_in_kelvin(columns[0], r_ohm=columns[1])
    return law, _coefficients(law)


def _table(columns: Columns) -> Fitted:
    t_c, r_ohm, _ = columns
    law = PointTable(points=tuple((float(t), float(r)) for t, r in zip(t_c, r_ohm, strict=True)))
    return law, {"points": law.points}


_FITTED: dict[str, Callable[[Columns], Fitted]] = {
    "platinum": _platinum,
    "nickel": _nickel,
    "winding": _winding,
    "beta": _beta,
    "steinhart-hart": _steinhart_hart,
    "polynomial": _polynomial,
    "table": _table,
}

_FITTED_IN_KELVIN: dict[str, Callable[[Columns], Fitted]] = {
    "beta": _beta_in_kelvin,
    "steinhart-hart": _steinhart_hart_in_kelvin,
    "polynomial": _polynomial_in_kelvin,
}

for _name in LAWS:
    if _name not in _LEAST_POINTS or _name not in _FITTED:
        raise ImportError(
            f"{__name__}: the law '{_name}' can be fitted: say with how many points at least in "
            "_LEAST_POINTS, and how in _FITTED"
        )
