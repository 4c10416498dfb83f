"""What explains a reading is named: on seeded faults, from one reading and from two."""

from __future__ import annotations

import pytest

from tests.bench.explanation_counts import counted
from tests.bench.seeded_faults import TELLABLE, WIDER

EACH = 25


@pytest.mark.parametrize(
    ("faults", "second", "recall", "precision"),
    [(TELLABLE, False, 0.8, 0.75), (WIDER, True, 0.9, 0.75)],
    ids=["one reading", "two readings"],
)
def test_what_readings_can_tell_is_named(faults, second, recall, precision):
    counts = counted(faults, each=EACH, second=second, seed=2026).values()
    cases = sum(count.cases for count in counts)
    assert cases == EACH * len(faults)
    assert sum(count.named for count in counts) >= recall * cases
    assert sum(count.right for count in counts) >= precision * sum(count.lines for count in counts)
    # A line that names everything would be right, and of no use.
    assert sum(count.causes for count in counts) <= 1.4 * cases
