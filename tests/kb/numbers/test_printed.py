"""The last printed digit: how well each point of a table is known."""

from __future__ import annotations

import pytest

from kb.numbers.printed import PrintedPoint, printed_points


@pytest.mark.parametrize(
    ("rows", "halves"),
    [
        ([(0, "32.65k"), (25, "10.00k"), (50, "3.603k")], [5, 5, 0.5]),
        ([(0, "32k65"), (25, "3k603")], [5, 0.5]),
        ([(-40, 329500.0), (25, 10000.0), (100, 973.1)], [50, 5, 0.05]),
        ([(0, "195652"), (25, "10000"), (50, "309")], [0.5, 0.5, 0.5]),
        ([(-200, "18.52"), (0, "100.00")], [0.005, 0.005]),
        ([(0, "32,65k"), (25, "10,00 kΩ")], [5, 5]),
    ],
)
def test_half_of_the_last_digit_follows_from_the_column(rows, halves):
    assert [one.half_ohm for one in printed_points(rows)] == pytest.approx(halves)


def test_the_resistance_is_read_with_it():
    assert printed_points([(7, "6k32")]) == (PrintedPoint(t_c=7.0, r_ohm=6320.0, half_ohm=5.0),)
