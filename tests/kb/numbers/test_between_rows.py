"""What a curve may be off between its rows: held to published tables with rows left out."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np
import pytest

from kb.numbers.between_rows import PARAMETERS, formula_between_k, table_between_k
from kb.numbers.fit import fit_points
from kb.numbers.point_table import PointTable
from kb.numbers.printed import printed_points

TABLES = [
    "nickel_6180_printed",
    "ntc_adafruit_103_3950",
    "ntc_amwei_amf52_503_3950_epoxy",
    "ntc_amwei_amf58_103_3950_axial",
    "ntc_amwei_amf58_502_3470_axial",
    "ntc_epcos_b57861s0103f045",
    "ntc_murata_ncpxxwf104",
    "ntc_murata_ncpxxxh103",
    "ntc_semitec_103at",
    "ntc_vishay_10k_b3977",
    "silicon_kty81_110",
]
ROUNDING_K = 0.02
"""What the print of the rows that were left out may add."""


def thinned(points: list[tuple[float, float]]) -> Iterator[list[tuple[float, float]]]:
    """Yield the table with every second, third … of its rows alone."""
    for step in (2, 3, 4, 6, 8, 10):
        for first in range(0, step, max(1, step // 3)):
            if len(points[first::step]) >= 3:
                yield points[first::step]


def missed(read_sheet) -> Iterator[tuple[float, float]]:
    """Yield (how far off a thinned table is in a piece, how far it says that it may be)."""
    for name in TABLES:
        points = sorted(read_sheet(name).points)
        for rows in thinned(points):
            table, figures_k = PointTable(points=tuple(rows)), table_between_k(rows)
            for (low, high), may_k in zip(itertools.pairwise(rows), figures_k, strict=True):
                out = [point for point in points if low[0] < point[0] < high[0]]
                if out:
                    t_c, r_ohm = np.array(out).T
                    yield float(np.abs(table.t_c(r_ohm) - t_c).max()), may_k


def test_a_thinned_table_is_no_further_off_than_it_says_in_19_of_20_pieces(read_sheet):
    off_k, may_k = np.array(list(missed(read_sheet))).T
    assert len(off_k) > 1000
    assert np.mean(off_k <= may_k + ROUNDING_K) >= 0.95
    # And what it says is no alarm: at the median less than a tenth of a kelvin.
    assert np.median(may_k) < 0.1


def chosen(t_c: np.ndarray, *, count: int) -> Iterator[list[int]]:
    """Yield choices of rows, 15 K apart or more."""
    few = range(0, len(t_c), max(1, len(t_c) // 9))
    for rows in itertools.combinations(few, count):
        if np.diff(t_c[list(rows)]).min() >= 15:
            yield list(rows)


@pytest.mark.parametrize("law", PARAMETERS)
def test_a_formula_through_a_few_rows_says_how_far_it_may_be_off_between(read_sheet, law):
    off_k, may_k = [], []
    for name in TABLES:
        if not name.startswith("ntc_"):
            continue
        t_c, r_ohm = np.array([p for p in sorted(read_sheet(name).points) if -40 <= p[0] <= 125]).T
        for rows in list(chosen(t_c, count=PARAMETERS[law]))[::3]:
            points = printed_points((t_c[i], float(r_ohm[i])) for i in rows)
            fit = fit_points(points, law=law)
            inside = slice(rows[0], rows[-1] + 1)
            per_k = fit.law.slope_ohm_per_k(t_c[inside])
            off_k.append(np.abs((fit.law.r_ohm(t_c[inside]) - r_ohm[inside]) / per_k).max())
            may_k.append(fit.between_k)
    assert len(off_k) > 50
    assert np.mean(np.array(off_k) <= np.array(may_k) + ROUNDING_K) >= 0.95


def beta_rows(*t_c: float) -> list[tuple[float, float]]:
    """Rows of one B value, unrounded."""
    return [(t, 10e3 * float(np.exp(3500 * (1 / (t + 273.15) - 1 / 298.15)))) for t in t_c]


def test_rows_that_stand_close_say_more_than_rows_far_apart():
    # Two rows leave 1.5e-3 K for each K² of the two distances, and so do three.
    assert formula_between_k(beta_rows(0.0, 60.0), law="beta") == pytest.approx([1.5e-3 * 30**2])
    three_k = formula_between_k(beta_rows(0.0, 40.0, 60.0), law="beta")
    assert three_k == pytest.approx([1.5e-3 * 20**2, 1.5e-3 * 10**2])
    # Two more than the formula has numbers show themselves how little they bend.
    four_k = formula_between_k(beta_rows(0.0, 20.0, 40.0, 60.0), law="beta")
    assert four_k.shape == (3,)
    assert four_k.max() < 1.5e-3 * 10**2 / 2
    assert formula_between_k(beta_rows(0.0, 60.0), law="platinum") == [0.0]


def test_rows_that_turn_back_make_no_table_and_the_formula_alone_speaks():
    rows = [*beta_rows(0.0, 20.0, 40.0), (60.0, 9e3)]
    assert formula_between_k(rows, law="beta") == pytest.approx([1.5e-3 * 10**2] * 3)


def test_two_rows_of_what_rises_tell_nothing_between_them():
    assert table_between_k([(0.0, 815.0), (100.0, 1696.0)]) == [np.inf]
    (falling_k,) = table_between_k([(0.0, 32e3), (50.0, 3.6e3)])
    assert 0.5 < falling_k < 1.5
