"""Another entry is offered only for a slip of the hand: a neighbour would be accused wrongly."""

from __future__ import annotations

import pytest

from kb.check.missing_files import is_slip


@pytest.mark.parametrize(
    ("word", "of"),
    [
        ("ntc-10k-3453", "ntc-10k-3435"),
        ("suctoin-a", "suction-a"),
        ("coilout", "coil-out"),
        ("platinum-hundert", "platinum-hundred"),
        ("bench-shet", "bench-sheet"),
    ],
)
def test_a_slip_of_the_hand_is_one(word: str, of: str) -> None:
    assert is_slip(word, of=of)


@pytest.mark.parametrize(
    ("word", "of"),
    [
        ("unit-t4", "unit-t3"),
        ("unit-t12", "unit-t21"),
        ("unit-coil-in", "unit-coil-out"),
        ("unit-air-in", "unit-air-on"),
        ("suction-b", "suction-a"),
        ("ntc-10k-3435", "ntc-10k-3977"),
        ("board-2", "board-1"),
    ],
)
def test_a_neighbour_is_none(word: str, of: str) -> None:
    assert not is_slip(word, of=of)
