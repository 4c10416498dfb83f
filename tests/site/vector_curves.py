"""Curves for the vectors: every law, rising and falling, with and without a tolerance."""

from __future__ import annotations

import numpy as np

from kb.numbers.characteristic import Characteristic
from kb.numbers.curve_width import FittedWidth, TableWidth
from kb.numbers.grid import Grid, compile_grid
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import USUAL_PAIRS_C, NtcBeta
from kb.numbers.ntc_polynomial import NtcPolynomial
from kb.numbers.platinum import Platinum
from kb.numbers.point_table import PointTable
from kb.numbers.printed import PrintedPoint
from kb.numbers.steinhart_hart import SteinhartHart
from kb.numbers.tolerance import (
    KelvinTolerance,
    NoTolerance,
    PlatinumClass,
    PointTolerance,
    SpreadTolerance,
)
from kb.numbers.tolerance_pieces import TolerancePiece, TolerancePieces
from kb.numbers.winding_metal import WindingMetal


def _spread(b_k: float, r_percent: float, b_percent: float, at_c: float = 25.0) -> SpreadTolerance:
    return SpreadTolerance(
        r_fraction=r_percent / 100, at_c=at_c, b_fraction=b_percent / 100, b_k=b_k
    )


PIECES_MEET_C = (-5.3, 40.0)
"""Where the pieces of one curve meet: between its nodes, and on one."""


def _pieces() -> TolerancePieces:
    """Kelvin that grow, one figure, and per cent that grow: with a jump where two meet."""
    cold_c, warm_c = PIECES_MEET_C
    return TolerancePieces(
        pieces=(
            TolerancePiece(
                from_c=-40, to_c=cold_c, tolerance=KelvinTolerance(kelvin=1.0, below_per_c=0.03)
            ),
            TolerancePiece(from_c=cold_c, to_c=warm_c, tolerance=KelvinTolerance(kelvin=0.4)),
            TolerancePiece(
                from_c=warm_c,
                to_c=120,
                tolerance=SpreadTolerance(r_fraction=0.02, at_c=40.0, r_per_c=0.0008),
            ),
        )
    )


def _sampled(law: object, t_c: np.ndarray) -> tuple[tuple[float, float], ...]:
    """A printed table: the law at round temperatures, to four figures."""
    return tuple((float(t), float(f"{law.r_ohm(float(t)):.4g}")) for t in t_c)


def _width(law: object, *, id: str) -> TableWidth | FittedWidth | None:
    """How well a table is known by its rows, and a formula that keeps rows of another law."""
    if isinstance(law, PointTable):
        step_ohm = 0.1 if not law.falling else 20.0
        rows = [PrintedPoint(t_c=t, r_ohm=r, half_ohm=step_ohm / 2) for t, r in law.points]
        return TableWidth(rows=tuple(rows))
    if id == "three-points":
        rows = [
            PrintedPoint(t_c=float(t), r_ohm=1.01 * float(law.r_ohm(float(t))), half_ohm=0.5)
            for t in range(-40, 121, 20)
        ]
        return FittedWidth(law=law, name="steinhart-hart", rows=tuple(rows))
    return None


def characteristics() -> dict[str, Characteristic]:
    """Return invented characteristics by name; the numbers of none are those of a part."""

    def curve(law: object, low_c: float, high_c: float, tolerance: object = None, id: str = ""):
        return Characteristic(
            law=law,
            low_c=low_c,
            high_c=high_c,
            tolerance=tolerance or NoTolerance(),
            width=_width(law, id=id),
            id=id,
        )

    small = NtcBeta(r_ref=2200, b_k=3300)
    middle = NtcBeta(r_ref=10_000, b_k=3600)
    hot = NtcBeta(r_ref=3100, b_k=4100, at_c=100.0)
    three = SteinhartHart(
        a=0.0010841947020644054, b=0.00024519969398006415, c=9.114814381016502e-08
    )
    maker = NtcPolynomial(r_ref=12_000, a=-13.0, b=4300.0, c=-1.0e5, d=-2.2e6)
    falling = PointTable(points=_sampled(NtcBeta(r_ref=47_000, b_k=3990), np.arange(-40, 121, 5)))
    silicon = PointTable(
        points=tuple(
            (float(t), round(1000 * (1 + 7.8e-3 * (t - 25) + 1.9e-5 * (t - 25) ** 2), 1))
            for t in range(-50, 141, 10)
        )
    )
    columns = tuple((t, r * 0.985, r * 1.012) for t, r in silicon.points)
    return {
        one.id: one
        for one in (
            curve(small, -30, 105.3, _spread(3300, 3, 2), "beta-small"),
            curve(middle, -40, 110, _spread(3600, 1, 1), "beta-middle"),
            curve(
                NtcBeta(r_ref=10_400, b_k=3650, pairs_c=((25.0, 85.0),)),
                -40,
                120,
                _spread(3650, 1, 1),
                "beta-twin",
            ),
            curve(
                NtcBeta(r_ref=5000, b_k=3420, pairs_c=USUAL_PAIRS_C),
                -20.7,
                80,
                None,
                "beta-unknown",
            ),
            curve(
                hot,
                20,
                200,
                SpreadTolerance(r_fraction=0.02, at_c=100.0, r_per_c=0.0005),
                "beta-hot",
            ),
            curve(NtcBeta(r_ref=12.0, b_k=2900), -20, 90, _spread(2900, 5, 3), "beta-few-ohms"),
            curve(NtcBeta(r_ref=1e6, b_k=4500), -40, 150, _spread(4500, 2, 1), "beta-megohm"),
            curve(three, -40, 120, _spread(3500, 2, 0), "three-points"),
            curve(three, 0, 60, None, "three-points-unknown"),
            curve(maker, -40, 125, _spread(3900, 2, 0.75), "maker-polynomial"),
            curve(falling, -40, 120, _spread(3990, 1, 1.5), "falling-table"),
            curve(silicon, -50, 140, PointTolerance(points=columns), "rising-table"),
            curve(silicon, -20, 100, None, "rising-table-unknown"),
            curve(Platinum(r0=100), -50, 300, PlatinumClass(grade="B"), "platinum-100"),
            curve(Platinum(r0=500), -30, 200, PlatinumClass(grade="A"), "platinum-500"),
            curve(
                Platinum(r0=1000),
                -100,
                250,
                PlatinumClass(grade="C", build="wire"),
                "platinum-1000",
            ),
            curve(
                Nickel(ppm_per_k=6180),
                -50,
                150,
                KelvinTolerance(kelvin=0.4, per_c=0.007, below_per_c=0.028),
                "nickel-6180",
            ),
            curve(Nickel(ppm_per_k=5000), -40, 180, KelvinTolerance(kelvin=0.8), "nickel-5000"),
            curve(
                WindingMetal(r_ref=38.0, at_c=20, constant=234.5),
                -20,
                140,
                KelvinTolerance(kelvin=5),
                "copper",
            ),
            curve(WindingMetal(r_ref=210.0, at_c=25, constant=225.0), -20, 140, None, "aluminium"),
            curve(falling, -40, 120, _pieces(), "in-pieces"),
        )
    }


def grids() -> dict[str, Grid]:
    """Return the compiled grid of each; the last one is nameless, as a curve may be."""
    compiled = {name: compile_grid(one) for name, one in characteristics().items()}
    nameless = Characteristic(
        law=NtcBeta(r_ref=6800, b_k=3500), low_c=-25, high_c=95, tolerance=_spread(3500, 2, 1)
    )
    return compiled | {"(nameless)": compile_grid(nameless)}
