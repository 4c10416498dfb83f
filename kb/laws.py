"""What each law of a curve says of itself, once: how it computes, how `fit` names it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from kb.model import CURVE_LAWS
from kb.model.curve import (
    BetaCurve,
    Curve,
    NickelCurve,
    PlatinumCurve,
    PolynomialCurve,
    SteinhartHartCurve,
    SwitchingPtc,
    TableCurve,
    WindingCurve,
)
from kb.numbers import fit
from kb.numbers import switching_ptc as loops
from kb.numbers.law import Law
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import USUAL_PAIRS_C, NtcBeta
from kb.numbers.ntc_polynomial import NtcPolynomial
from kb.numbers.platinum import Platinum
from kb.numbers.point_table import PointTable
from kb.numbers.steinhart_hart import SteinhartHart
from kb.numbers.winding_metal import WindingMetal

C = TypeVar("C", bound=Curve)


@dataclass(frozen=True, kw_only=True)
class CurveLaw(Generic[C]):
    """One law: exactly one of `curve`, for one that computes, and `limits`, for one that cannot."""

    model: type[C]
    """The entry that holds its parameters."""
    curve: Callable[[C], Law] | None = None
    """From an entry to something that computes."""
    limits: Callable[[C], loops.SwitchingPtc] | None = None
    """From an entry to limits around a response temperature."""
    fitted_as: str | None = None
    """What `fit` calls a curve that it found to be one; None where points cannot be fitted."""


def loop_of(entry: SwitchingPtc) -> loops.SwitchingPtc:
    """Return the limits of a loop of switching PTCs."""
    return loops.SwitchingPtc(trip_c=entry.trip_c, in_series=entry.in_series)


def _laws(declared: Iterable[CurveLaw[Any]]) -> dict[str, CurveLaw[Any]]:
    """Return the laws by their word, or refuse what does not fit together.

    Raises
    ------
    ImportError
        With the piece that is missing, and where to write it.
    """
    of_model = {law.model: law for law in declared}
    for word, model in CURVE_LAWS.items():
        law = of_model.pop(model, None)
        if law is None:
            raise ImportError(
                f"{__name__}: the law '{word}' says nothing of itself: add "
                f"CurveLaw(model={model.__name__}, curve=…) to LAWS"
            )
        if (law.curve is None) == (law.limits is None):
            raise ImportError(
                f"{__name__}: the law '{word}' needs one of 'curve', which computes, and 'limits'"
            )
        if (law.fitted_as is not None) != (word in fit.LAWS):
            raise ImportError(
                f"{__name__}: the law '{word}' has 'fitted_as' if kb/numbers/fit.py names it in "
                "LAWS, and only then"
            )
    for model in of_model:
        raise ImportError(f"{__name__}: {model.__name__} is no law of kb/model/curve.py")
    return {
        word: law for word, model in CURVE_LAWS.items() for law in declared if law.model is model
    }


LAWS: Mapping[str, CurveLaw[Any]] = _laws(
    [
        CurveLaw(
            model=TableCurve,
            curve=lambda entry: PointTable(
                points=tuple((row.t_c, row.r_ohm) for row in entry.points)
            ),
            fitted_as="the table of points itself",
        ),
        CurveLaw(
            model=BetaCurve,
            curve=lambda entry: NtcBeta(
                r_ref=entry.r_ref,
                at_c=entry.at_c,
                b_k=entry.b_k,
                pairs_c=(entry.b_pair_c,) if entry.b_pair_c else USUAL_PAIRS_C,
            ),
            fitted_as="one B value",
        ),
        CurveLaw(
            model=SteinhartHartCurve,
            curve=lambda entry: SteinhartHart(a=entry.a, b=entry.b, c=entry.c),
            fitted_as="Steinhart–Hart, three coefficients",
        ),
        CurveLaw(
            model=PolynomialCurve,
            curve=lambda entry: NtcPolynomial(
                r_ref=entry.r_ref, a=entry.a, b=entry.b, c=entry.c, d=entry.d
            ),
            fitted_as="four coefficients in 1/T",
        ),
        CurveLaw(
            model=PlatinumCurve,
            curve=lambda entry: Platinum(r0=entry.r0),
            fitted_as="platinum, IEC 60751",
        ),
        CurveLaw(
            model=NickelCurve,
            curve=lambda entry: Nickel(r0=entry.r0, ppm_per_k=int(entry.ppm_per_k)),
            fitted_as="nickel, its polynomial",
        ),
        CurveLaw(
            model=WindingCurve,
            curve=lambda entry: WindingMetal(
                r_ref=entry.r_ref, at_c=entry.at_c, constant=float(entry.constant)
            ),
            fitted_as="a metal winding, straight in temperature",
        ),
        CurveLaw(model=SwitchingPtc, limits=loop_of),
    ]
)
"""The word in `law:` → what that law says of itself."""
