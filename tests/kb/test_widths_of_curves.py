"""From a curve's entry to how well it is known: by its rows, by its law, or as it was published."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from kb.catalog import Catalog
from kb.notes.load import load_notes
from kb.numbers.curve_width import FittedWidth, TableWidth
from kb.numbers.measured import Measured
from kb.numbers.verdict import judge


@pytest.fixture(scope="module")
def curves():
    return Catalog(load_notes(Path(__file__).resolve().parents[2])).computing_curves


@pytest.mark.parametrize(
    ("curve", "width"),
    [
        ("ntc-10k-3435", TableWidth),
        ("kty81-110", TableWidth),
        ("ntc-20k-osterlyn", FittedWidth),
        ("ntc-10k-3977-b", type(None)),
        ("pt1000", type(None)),
    ],
)
def test_what_has_rows_is_known_by_them(curves, curve, width):
    assert type(curves[curve].width) is width


def test_a_standard_and_published_coefficients_are_taken_as_they_are(curves):
    for name in ("pt100", "pt1000", "ni1000-6180", "ntc-10k-3977-poly"):
        curve = curves[name]
        assert not np.any(curve.law_k(np.linspace(curve.low_c, curve.high_c, 50))), name


def test_a_b_value_without_rows_is_known_by_its_pair(curves):
    # 7e-4 · |−40 + 25 − 25 − 85| · 65 · 233.15/298.15 = 4.45 K; nothing at both ends of its pair.
    known_k = curves["ntc-10k-3977-b"].law_k(np.array([-40.0, 25.0, 85.0]))
    assert known_k == pytest.approx([4.448, 0, 0], abs=1e-3)


def test_a_fitted_law_is_off_its_rows_by_its_rounding_at_least(curves):
    # Row 0 of the demo's: 0.078 K off, and 5 Ω of 3100 Ω/K of print.
    assert curves["ntc-20k-osterlyn"].law_k(0.0) > 0.078 + 0.0015
    assert np.max(curves["ntc-20k-osterlyn"].law_k(np.linspace(-40, 100, 141))) < 0.11


def test_the_judgement_counts_it_as_its_fourth_term(curves):
    curve = curves["kty81-110"]
    reading = Measured(r_ohm=curve.r_ohm(140.0), t_c=140.0, meter_half_ohm=0.1)
    verdict = judge(curve, measured=reading)
    # A table of whole ohms, 10 K apart, that bends there: 0.05 K of print and 0.45 K of gap.
    assert verdict.terms_k["curve"] == pytest.approx(curve.law_k(140.0) / np.sqrt(3))
    assert 0.4 < curve.law_k(140.0) < 0.6
    assert verdict.uncertainty_k > 0.9 * curve.law_k(140.0)
