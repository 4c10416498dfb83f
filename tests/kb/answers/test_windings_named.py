"""Seeded windings: the right one is named, a sound motor never, and the limit is seldom misjudged."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.bench.seeded_windings import (
    ALLOWED_SHARE,
    BENCH,
    FAULTS,
    MILLIOHM,
    answers,
    at_the_limit,
    outcome,
)

EACH = 40


@pytest.mark.parametrize("name", FAULTS)
def test_what_is_wrong_with_windings_is_named_and_nothing_of_sound_ones(name):
    fault = FAULTS[name]
    found = answers(fault, count=EACH, meter=BENCH, contact_ohm=0.01, seed=4)
    counts = Counter(outcome(answer, fault=fault) for answer in found)
    if not fault.names:
        assert counts["within"] + counts["undecided"] == EACH
    else:
        assert counts["right"] + counts["right and more"] >= 0.95 * EACH
        # In a star each winding has two pairs of its own: nothing else need be said.
        assert fault.joined != "star" or counts["right"] >= 0.95 * EACH


@pytest.mark.parametrize(("meter", "contact_ohm"), [(BENCH, 0.0), (MILLIOHM, 0.02)])
def test_a_pair_at_the_balance_limit_is_seldom_misjudged_with_the_contact_counted(
    meter, contact_ohm
):
    how = {"count": 2000, "meter": meter, "contact_ohm": contact_ohm}
    for sign in (-1, 1):
        assert at_the_limit(sign * (ALLOWED_SHARE + 1e-6), **how)["within"] <= 0.025
        assert at_the_limit(sign * (ALLOWED_SHARE - 1e-6), **how)["outside"] <= 0.025


def test_read_once_the_contact_is_in_no_budget_and_the_limit_is_often_misjudged():
    # Why three readings are asked for: what was read once says nothing of its contact.
    how = {"count": 400, "meter": MILLIOHM, "contact_ohm": 0.005}
    assert at_the_limit(ALLOWED_SHARE + 1e-6, repeats=1, **how)["within"] > 0.3
