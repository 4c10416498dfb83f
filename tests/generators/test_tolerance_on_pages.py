"""How far a part may be off, as a curve's page says it: in pieces, and in the unit asked."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generators.expected import expected_table
from generators.forms.fields import stepped_field
from generators.tolerance_words import tolerance_words
from kb.characteristics import characteristic_of
from kb.model.curve import BetaCurve
from kb.model.tolerance import Tolerance

GENERATORS = Path(__file__).resolve().parents[2] / "generators"


def curve(**tolerance):
    return BetaCurve(
        id="ten",
        name="Ten",
        source=[{"id": "sheet"}],
        law="beta",
        range_c=(-40, 110),
        r_ref=10e3,
        b_k=3500,
        tolerance=Tolerance(**tolerance),
    )


def said(**tolerance):
    entry = curve(**tolerance)
    html = tolerance_words(entry, characteristic_of(entry))
    return re.sub(r"<[^>]+>", "", html.replace("</li>", "; ")).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("tolerance", "words"),
    [
        ({"kelvin": 0.5}, "± 0.50 K everywhere"),
        (
            {"kelvin": 0.4, "kelvin_per_c": 0.007, "kelvin_per_c_below_0": 0.028},
            "± (0.40 K + 0.007 K for each °C away from 0 °C), below 0 °C 0.028 K for each",
        ),
        ({"kelvin": 0.3, "kelvin_per_c": 0.01, "at_c": 25}, "away from 25 °C)"),
        ({"r_percent": 1}, "± 1 % at 25 °C"),
        (
            {"r_percent": 1, "r_percent_per_c": 0.02},
            "± (1 % + 0.02 % for each °C away from 25 °C) of the resistance",
        ),
        (
            {"r_percent": 1, "b_percent": 2, "b_k": 3500, "at_c": 100},
            "± 1 % at 100 °C and ± 2 % of B = 3500 K",
        ),
        (
            {
                "pieces": [
                    {"from_c": -40, "to_c": 0, "r_percent": 5},
                    {"from_c": 0, "to_c": 110, "kelvin": 0.5},
                ]
            },
            "−40 °C to 0 °C: ± 5 % of the resistance; 0 °C to 110 °C: ± 0.50 K; "
            "Where two meet, the wider holds.",
        ),
    ],
)
def test_a_tolerance_is_said_as_its_maker_prints_it(tolerance, words):
    assert words in said(**tolerance)


def test_plus_minus_in_a_table_follows_the_pages_unit():
    table = expected_table(characteristic_of(curve(kelvin=0.5)), at_c=[20.0], caption="Ten")
    assert '<span class="ohm-dt" data-k="0.5">' in table


def test_every_temperature_that_is_typed_has_the_sign_that_a_keypad_may_lack():
    assert 'data-sign aria-label="Air there: above or below zero"' in stepped_field(
        "air", label="Air there"
    )
    writers = [
        path.name
        for path in GENERATORS.rglob("*.py")
        if '"ohm-stepped"' in path.read_text(encoding="utf-8")
    ]
    assert writers == ["fields.py"]
