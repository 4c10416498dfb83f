"""No explanation stands on a temperature that no part can have, whatever a meter shows."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from kb.catalog import Catalog
from kb.notes.load import load_notes
from kb.numbers.likely_faults import Known, explain
from kb.numbers.measured import Measured

DEMO = Catalog(load_notes(Path(__file__).resolve().parents[2])).computing_curves
WORST_LIMIT_K = 10.0
"""More than any part of the demo may be off: at a curve's very end it may stand beyond it by that."""
READINGS = 300


def _measured(rng, curve, *, near_ohm):
    low_ohm, high_ohm = curve.range_ohm
    anywhere = float(np.exp(rng.uniform(np.log(low_ohm / 100), np.log(high_ohm * 100))))
    r_ohm = anywhere if near_ohm is None else near_ohm * (1 + float(rng.normal(scale=0.02)))
    return Measured(
        r_ohm=r_ohm,
        t_c=float(rng.uniform(curve.low_c, curve.high_c)),
        meter_half_ohm=float(rng.choice([0.001, 0.01, 0.05])) * r_ohm,
        thermometer_half_k=0.5,
        placement_half_k=2.0,
    )


@pytest.mark.parametrize("curve_id", sorted(DEMO))
def test_no_reading_is_explained_by_an_impossible_temperature(curve_id):
    curve, rng = DEMO[curve_id], np.random.default_rng(11)
    explained = 0
    for i in range(READINGS):
        pull_up_ohm = float(rng.choice([curve.r_ohm((curve.low_c + curve.high_c) / 2), 10e3, 2e3]))
        other_id = str(rng.choice(sorted(DEMO)))
        known = Known(
            curve=curve,
            pull_up_ohm=pull_up_ohm,
            others={other_id: DEMO[other_id]},
            unit=str(rng.choice(["C", "F"])),
        )
        readings = [_measured(rng, curve, near_ohm=pull_up_ohm if i % 2 else None)]
        if i % 10 == 0:
            readings.append(_measured(rng, curve, near_ohm=readings[0].r_ohm))
        for found in explain(known, readings=readings):
            explained += 1
            meant = DEMO[str(found.figures.get("curve", curve_id))]
            if found.t_implied_c is not None:
                assert meant.low_c - WORST_LIMIT_K <= found.t_implied_c
                assert found.t_implied_c <= meant.high_c + WORST_LIMIT_K
    assert explained > READINGS / 20
