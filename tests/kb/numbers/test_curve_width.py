"""How far a curve itself may be off: worked by hand, and held to published tables with rows left out."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.curve_width import FittedWidth, TableWidth
from kb.numbers.fit import fit_points
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.platinum import Platinum
from kb.numbers.point_table import PointTable
from kb.numbers.printed import printed_points

from .test_between_rows import TABLES, thinned

SHARE = 0.95
"""Of places: what the figures between rows promise."""


def table(*rows: tuple[float, str]) -> Characteristic:
    printed = printed_points(rows)
    return Characteristic(
        law=PointTable(points=tuple((row.t_c, row.r_ohm) for row in printed)),
        low_c=rows[0][0],
        high_c=rows[-1][0],
        width=TableWidth(rows=printed),
    )


STRAIGHT = table((0.0, "100.0"), (10.0, "110.0"), (20.0, "120.0"), (30.0, "130.0"))


def test_a_straight_table_has_the_rounding_of_its_print_alone():
    # 0.05 Ω over 1 Ω/K; a row left out is found again exactly, and chords are the curve.
    assert STRAIGHT.law_k(np.array([0.0, 4.0, 30.0])) == pytest.approx([0.05] * 3, abs=1e-9)


def test_where_a_table_bends_both_pieces_beside_a_row_count_whole():
    # The row of 30 °C found from the line through the others: 131 − 130 Ω at 1 Ω/K, so 1 K too warm
    # on this table. In a piece counts the largest miss of four rows near it.
    bent = table((0.0, "100.0"), (10.0, "110.0"), (20.0, "120.0"), (30.0, "131.0"), (40.0, "141.0"))
    between = bent.width
    assert isinstance(between, TableWidth)
    print_k = 0.05 / abs(float(bent.slope_ohm_per_k(20.0)))
    assert bent.law_k(20.0) > print_k + 0.5
    assert bent.law_k(20.0) == pytest.approx(bent.law_k(19.999), abs=1e-3)
    # Straight between the rows.
    ends_k = bent.law_k(10.0), bent.law_k(20.0)
    assert bent.law_k(12.5) == pytest.approx(0.75 * ends_k[0] + 0.25 * ends_k[1], rel=1e-12)


def test_a_formula_carries_what_it_is_off_its_rows_their_rounding_and_what_lies_between():
    law = NtcBeta(r_ref=10e3, b_k=3500)
    rows = printed_points([(0.0, "29.28k"), (25.0, "10.10k"), (50.0, "4.033k")])
    width = FittedWidth(law=law, name="beta", rows=rows)
    # At 25 °C 100 Ω off and ± 5 Ω of print, over B R/T²; 1.5e-3 K for each K² of the two distances,
    # which is less than what three rows say of themselves.
    slope = 3500 * 10e3 / 298.15**2
    assert width.half_k(25.0) == pytest.approx(105 / slope + 1.5e-3 * 12.5**2, rel=1e-3)
    assert isinstance(width.half_k(25.0), float)
    assert width.half_k(np.array([[0.0, 25.0], [30.0, 50.0]])).shape == (2, 2)


def test_rows_that_stand_close_are_believed_where_the_formula_alone_could_tell_less():
    law = NtcBeta(r_ref=10e3, b_k=3500)
    t_c = np.arange(0.0, 101.0, 20.0)
    rows = printed_points((float(t), f"{float(law.r_ohm(float(t))):.1f}") for t in t_c)
    # As published the rows are the law: 1.5e-3 · 10² K is what two of them would leave open.
    assert 0 < FittedWidth(law=law, name="beta", rows=rows).half_k(40.0) < 0.01


def test_a_row_that_is_written_short_is_no_coarser_than_those_of_more_ohms():
    for rows in (
        [(0.0, "27.7k"), (10.0, "17.6k"), (25.0, "10k"), (40.0, "5.83k")],
        [(0.0, "5.83k"), (10.0, "10k"), (25.0, "17.6k"), (40.0, "27.7k")],
    ):
        spelled = [(t_c, "10.0k" if text == "10k" else text) for t_c, text in rows]
        t_c = np.linspace(0, 40, 21)
        assert table(*rows).law_k(t_c).tolist() == table(*spelled).law_k(t_c).tolist()


def test_outside_its_range_a_curve_says_nothing_of_itself():
    for beyond_c in (-0.1, 30.1):
        with pytest.raises(OutOfRange):
            STRAIGHT.law_k(beyond_c)


def test_a_row_that_the_law_does_not_reach_is_held_against_its_end():
    rows = printed_points([(-150.0, "90k"), (25.0, "10.00k"), (50.0, "4.033k")])
    width = FittedWidth(law=NtcBeta(r_ref=10e3, b_k=3500), name="beta", rows=rows)
    assert np.isfinite(width.half_k(np.array([-100.0, 0.0, 25.0]))).all()


def test_a_standard_is_taken_as_it_is():
    standard = Characteristic(law=Platinum(r0=100), low_c=-50, high_c=200)
    assert standard.law_k(np.array([-50.0, 0.0, 200.0])).tolist() == [0.0, 0.0, 0.0]


def missed(read_sheet, *, law: str) -> tuple[np.ndarray, np.ndarray]:
    """Return how far curves of thinned published tables are off the rows left out, and may be."""
    off_k, may_k = [], []
    for name in TABLES:
        if law != "table" and not name.startswith("ntc_"):
            continue
        points = sorted(read_sheet(name).points)
        for rows in list(thinned(points))[:: 1 if law == "table" else 4]:
            if len(rows) < 5:
                continue
            printed = printed_points(rows)
            if law == "table":
                curve, width = PointTable(points=tuple(rows)), TableWidth(rows=printed)
            else:
                curve = fit_points(printed, law=law).law
                width = FittedWidth(law=curve, name=law, rows=printed)
            kept_c = {t_c for t_c, _ in rows}
            out = [p for p in points if rows[0][0] < p[0] < rows[-1][0] and p[0] not in kept_c]
            if out:
                t_c, r_ohm = np.array(out).T
                per_k = curve.slope_ohm_per_k(t_c)
                off_k.append(np.abs((np.asarray(curve.r_ohm(t_c)) - r_ohm) / per_k))
                may_k.append(np.asarray(width.half_k(t_c)))
    return np.concatenate(off_k), np.concatenate(may_k)


@pytest.mark.parametrize("law", ["table", "beta", "steinhart-hart", "polynomial"])
def test_published_tables_are_off_their_thinned_curves_by_no_more_than_these_say(read_sheet, law):
    off_k, may_k = missed(read_sheet, law=law)
    assert len(off_k) > 500
    assert np.mean(off_k <= may_k) >= SHARE
    # And what they say is no alarm.
    assert np.median(may_k) < (2.0 if law == "beta" else 0.2)
