"""No explanation stands on a temperature that no part can have, whatever a meter shows."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from kb.catalog import Catalog
from kb.notes.load import load_notes
from kb.numbers.explanations import explain
from kb.numbers.measured import Measured

DEMO = Catalog(load_notes(Path(__file__).resolve().parents[2])).computing_curves
WORST_LIMIT_K = 10.0
"""More than any part of the demo may be off: at a curve's very end it may stand beyond it by that."""
READINGS = 300


@pytest.mark.parametrize("curve_id", sorted(DEMO))
def test_no_reading_is_explained_by_an_impossible_temperature(curve_id):
    curve, rng = DEMO[curve_id], np.random.default_rng(11)
    low_ohm, high_ohm = curve.range_ohm
    explained = 0
    for i in range(READINGS):
        pull_up_ohm = float(rng.choice([curve.r_ohm((curve.low_c + curve.high_c) / 2), 10e3, 2e3]))
        near = pull_up_ohm * (1 + rng.normal(scale=0.02))
        anywhere = float(np.exp(rng.uniform(np.log(low_ohm / 100), np.log(high_ohm * 100))))
        r_ohm = near if i % 2 else anywhere
        measured = Measured(
            r_ohm=r_ohm,
            t_c=float(rng.uniform(curve.low_c, curve.high_c)),
            meter_half_ohm=float(rng.choice([0.001, 0.01, 0.05])) * r_ohm,
            thermometer_half_k=0.5,
            placement_half_k=2.0,
        )
        for found in explain(curve, measured=measured, pull_up_ohm=pull_up_ohm):
            explained += 1
            if found.t_implied_c is not None:
                assert curve.low_c - WORST_LIMIT_K <= found.t_implied_c
                assert found.t_implied_c <= curve.high_c + WORST_LIMIT_K
    assert explained > READINGS / 20
