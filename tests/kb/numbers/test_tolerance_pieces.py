"""A tolerance that grows away from a temperature, and one in pieces: held to published limits."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.grid import MAX_ERROR_K, compile_grid
from kb.numbers.nickel import Nickel
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.point_table import PointTable
from kb.numbers.tolerance import KelvinTolerance, SpreadTolerance
from kb.numbers.tolerance_pieces import TolerancePiece, TolerancePieces

NTC = NtcBeta(r_ref=10e3, b_k=3977)


def in_pieces(*rows):
    return TolerancePieces(
        pieces=tuple(
            TolerancePiece(from_c=from_c, to_c=to_c, tolerance=tolerance)
            for from_c, to_c, tolerance in rows
        )
    )


def per_cent(r_percent, *, per_c=0.0, at_c=25.0):
    return SpreadTolerance(r_fraction=r_percent / 100, r_per_c=per_c / 100, at_c=at_c)


NICKEL = in_pieces(
    (-60, 0, KelvinTolerance(kelvin=0.4, below_per_c=0.028)),
    (0, 180, KelvinTolerance(kelvin=0.4, per_c=0.007)),
)
STEPPED = in_pieces(
    (-40, 0, KelvinTolerance(kelvin=1.0, below_per_c=0.02)),
    (0, 70.3, KelvinTolerance(kelvin=0.5)),
    (70.3, 125, per_cent(3, per_c=0.05, at_c=70.3)),
)


def on(law, tolerance, low_c=-40.0, high_c=125.0):
    return Characteristic(law=law, tolerance=tolerance, low_c=low_c, high_c=high_c)


@pytest.mark.published("nickel_tolerance")
@pytest.mark.parametrize(
    "tolerance",
    [KelvinTolerance(kelvin=0.4, per_c=0.007, below_per_c=0.028), NICKEL],
    ids=["one promise", "two pieces"],
)
def test_nickel_is_met_by_one_promise_and_by_two_pieces(sheet, tolerance):
    curve = on(Nickel(r0=1000.0, ppm_per_k=6180), tolerance, -60.0, 180.0)
    for t_c, tol_k in sheet.points:
        assert curve.tol_k(t_c) == pytest.approx(tol_k, abs=sheet.half_digit(t_c)), t_c


@pytest.mark.published("platinum_class_kelvin")
def test_kelvin_that_grow_are_what_the_platinum_classes_are(sheet):
    figures = {"AA": (0.1, 0.0017), "A": (0.15, 0.002), "B": (0.3, 0.005), "C": (0.6, 0.01)}
    for grade, points in sheet.fields["classes"].items():
        kelvin, per_c = figures[grade]
        tolerance = KelvinTolerance(kelvin=kelvin, per_c=per_c, below_per_c=per_c)
        for t_c, tol_k in points.items():
            assert tolerance.kelvin_k(np.array(t_c)) == pytest.approx(tol_k, abs=1e-12)


@pytest.mark.published("silicon_kty81_110_limits")
def test_per_cent_that_grow_meet_a_silicon_sensors_printed_limits(sheet, read_sheet):
    # 1 % at 25 °C, and straight from there to the per cent at each end of the table.
    limits = sheet.fields["points"]
    low_c, high_c = min(limits), max(limits)

    def at_end(end_c):
        least, most = limits[end_c]
        return 100 * (most - least) / (most + least)

    cold, hot = ((at_end(end_c) - 1) / abs(end_c - 25) for end_c in (low_c, high_c))
    curve = on(
        PointTable(points=tuple(read_sheet("silicon_kty81_110").points)),
        in_pieces((low_c, 25, per_cent(1, per_c=cold)), (25, high_c, per_cent(1, per_c=hot))),
        low_c,
        high_c,
    )
    for t_c, (least, most) in limits.items():
        # Nominal and limit are printed in whole ohms: half of one each.
        assert curve.low_ohm(t_c) == pytest.approx(least, abs=1.0), t_c
        assert curve.high_ohm(t_c) == pytest.approx(most, abs=1.0), t_c


def test_per_cent_of_the_resistance_become_kelvin_by_the_curves_slope():
    curve = on(NTC, per_cent(2, per_c=0.04))
    for t_c in (-40.0, 0.0, 25.0, 100.0):
        share = 0.02 + 0.0004 * abs(t_c - 25)
        assert curve.high_ohm(t_c) == pytest.approx(curve.r_ohm(t_c) * (1 + share), rel=1e-12)
        assert curve.low_ohm(t_c) == pytest.approx(curve.r_ohm(t_c) * (1 - share), rel=1e-12)
        off_k = abs(float(curve.beyond_c(curve.low_ohm(t_c))) - t_c)
        assert curve.tol_k(t_c) == pytest.approx(off_k, rel=1e-12)


def test_the_wider_holds_where_two_pieces_meet():
    curve = on(NTC, STEPPED)
    assert curve.tol_k(-0.001) == pytest.approx(1.0, abs=1e-4)
    assert curve.tol_k(0.0) == pytest.approx(1.0)
    assert curve.tol_k(0.001) == pytest.approx(0.5)
    assert curve.tol_k(70.3) == pytest.approx(curve.tol_k(70.31), abs=1e-2)
    assert curve.tol_k(70.29) == pytest.approx(0.5)
    in_kelvin = in_pieces(
        (-40, 0, KelvinTolerance(kelvin=1.0)), (0, 125, KelvinTolerance(kelvin=0.5))
    )
    assert on(NTC, in_kelvin).tol_k([-1.0, 0.0, 1.0]).tolist() == [1.0, 1.0, 0.5]


def test_a_phones_grid_jumps_where_the_pieces_meet_and_nowhere_else():
    curve = on(NTC, STEPPED)
    grid = compile_grid(curve)
    assert grid.worst_error_k <= MAX_ERROR_K
    t_c = np.concatenate([np.linspace(-40, 125, 4001), [0.0, -1e-6, 1e-6, 70.3, 70.2999, 70.3001]])
    assert np.abs(grid.tol_k(t_c) - curve.tol_k(t_c)).max() <= MAX_ERROR_K
    for bound in ("low_ohm", "high_ohm"):
        off = np.log(getattr(grid, bound)(t_c) / getattr(curve, bound)(t_c))
        assert np.abs(off).max() <= MAX_ERROR_K * 0.06
    assert [band["from_c"] for band in grid.as_dict()["bands"]] == [-40, 0, 70.3]


def test_pieces_that_reach_past_the_curve_cost_nothing():
    curve = on(NTC, STEPPED.over(low_c=0.0, high_c=60.0), 0.0, 60.0)
    grid = compile_grid(curve)
    assert len(grid.bands) == 1
    assert "bands" not in grid.as_dict()
    for t_c in (0.0, 30.0):
        assert grid.tol_k(t_c) == pytest.approx(0.5)
        assert curve.tol_k(t_c) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ((), "a tolerance in pieces has at least one"),
        (((5, 5, KelvinTolerance(kelvin=1)),), "a piece from 5 °C must end above it"),
        (
            ((0, 5, KelvinTolerance(kelvin=1)), (6, 9, KelvinTolerance(kelvin=1))),
            "a piece begins at 6 °C, but the one before ends at 5 °C",
        ),
    ],
)
def test_pieces_that_do_not_join_are_refused(rows, message):
    with pytest.raises(ValueError) as caught:
        in_pieces(*rows)
    assert str(caught.value) == message


def test_nothing_is_promised_past_the_last_piece():
    with pytest.raises(OutOfRange, match="the tolerance"):
        on(NTC, STEPPED, -40.0, 130.0)


def test_a_part_whose_resistance_may_be_nothing_is_refused():
    with pytest.raises(ValueError, match="at -40 °C it has grown to ± 131 % of the resistance"):
        on(NTC, per_cent(1, per_c=2)).low_ohm(-40.0)
