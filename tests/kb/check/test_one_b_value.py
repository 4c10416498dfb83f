"""One B value far from the pair that it was taken between is warned of, and near it is not."""

from __future__ import annotations

import pytest

from kb.check import problems_of
from kb.notes.load import load_notes

ROWS = "fitted_to:\n  -20: 80.59k\n  0: 29.28k\n  25: 10.00k\n  50: 4.033k\n  80: 1.607k\n"


@pytest.fixture
def warned(notes):
    """Return what is said of a sensor that meets such temperatures on the curve by B value."""
    curve = notes / "docs_data" / "curves" / "beta-ten.yaml"
    sensor = notes / "docs_data" / "sensors" / "unit-a" / "liquid-a.yaml"

    def asked(meets_c, *, pair="b_pair_c: [25, 85]\n", rows=""):
        text = curve.read_text()
        assert ROWS in text and "b_pair_c: [25, 85]\n" in text
        curve.write_text(text.replace(ROWS, rows).replace("b_pair_c: [25, 85]\n", pair))
        sensor.write_text(sensor.read_text().replace("meets_c: [0, 60]", f"meets_c: {meets_c}"))
        return [p.message for p in problems_of(load_notes(notes)) if p.rule == "one-b-value"]

    return asked


def test_near_its_pair_nothing_is_said(warned):
    assert warned([10, 60]) == []


def test_far_from_its_pair_it_is_said_with_the_pair_and_the_kelvin(warned):
    # 7e-4 · |−20 + 25 − 25 − 85| · |−20 − 25| · 253.15/298.15 = 2.81 K.
    assert warned([-20, 60]) == [
        "at -20 °C one B value taken between 25 and 85 °C may be 2.8 K off"
    ]


def test_a_pair_that_nobody_noted_is_taken_for_the_worst_of_the_usual(warned):
    # Between 25 and 100 °C: 7e-4 · |−20 − 100| · 45 · 253.15/298.15 = 3.21 K.
    assert warned([-20, 60], pair="") == [
        "at -20 °C one B value, its pair of temperatures not noted, may be 3.2 K off"
    ]


def test_where_rows_say_how_far_it_is_off_they_are_believed(warned):
    assert warned([-20, 60], rows=ROWS) == []
