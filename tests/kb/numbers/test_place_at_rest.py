"""The witnesses of one place: which explanation weighs what."""

from __future__ import annotations

import math

import numpy as np
import pytest

from kb.numbers.place_at_rest import DRIFTED_SHARE, PER_K, Witness, explanations, log_sum


def test_an_explanation_weighs_what_the_integral_over_the_places_temperature_says():
    witnesses = [Witness(t_c=20.0, u_k=0.5), Witness(t_c=21.0, u_k=0.8), Witness(t_c=30.0, u_k=0.4)]
    t_c = np.linspace(0, 50, 50_001)
    density = np.ones_like(t_c) * PER_K
    for witness in witnesses[:2]:
        z = (t_c - witness.t_c) / witness.u_k
        density = density * np.exp(-(z**2) / 2) / (witness.u_k * math.sqrt(2 * math.pi))
    expected = np.trapezoid(density, t_c) * (1 - DRIFTED_SHARE) ** 2 * DRIFTED_SHARE * PER_K
    (found,) = [way for way in explanations(witnesses) if way.out == (2,)]
    assert math.exp(found.log_weight) == pytest.approx(expected, rel=1e-6)
    assert found.centre_c == pytest.approx((20 / 0.25 + 21 / 0.64) / (1 / 0.25 + 1 / 0.64))
    assert found.u_k == pytest.approx((1 / 0.25 + 1 / 0.64) ** -0.5)


def test_every_set_of_three_at_most_may_be_out_fewest_first():
    ways = [way.out for way in explanations([Witness(t_c=20.0, u_k=1.0)] * 4)]
    assert ways[:6] == [(), (0,), (1,), (2,), (3,), (0, 1)]
    assert len(ways) == 1 + 4 + 6 + 4
    (nothing, alone) = explanations([Witness(t_c=20.0, u_k=1.0)])
    assert (nothing.centre_c, alone.centre_c) == (20.0, None)


def test_where_nobody_was_read_there_is_nothing_to_explain():
    (nothing,) = explanations([])
    assert (nothing.out, nothing.log_weight, nothing.centre_c) == ((), 0.0, None)


def test_logarithms_are_summed_without_leaving_the_floats():
    assert log_sum([-2000.0, -2000.0]) == pytest.approx(-2000 + math.log(2))
