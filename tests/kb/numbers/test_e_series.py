"""Standard resistor values against the published series and an independent library."""

from __future__ import annotations

import eseries
import numpy as np
import pytest

from kb.numbers.e_series import SERIES, standard_values_ohm


@pytest.mark.published("series_e*")
def test_one_decade_is_the_published_one(sheet):
    name = sheet.name.removeprefix("series_").upper()
    told = np.array(sheet.fields["values"], dtype=float)
    low = told[0]
    got = standard_values_ohm(name, low_ohm=low, high_ohm=low * 9.999)
    assert got == pytest.approx(told, rel=1e-12)


@pytest.mark.parametrize("name", SERIES)
def test_seven_decades_agree_with_an_independent_library(name):
    theirs = sorted(eseries.erange(eseries.ESeries[name], 1, 1e7))
    assert standard_values_ohm(name, low_ohm=1, high_ohm=1e7) == pytest.approx(theirs, rel=1e-9)


def test_values_are_the_round_numbers_people_write():
    assert 4700.0 in standard_values_ohm("E24", low_ohm=1e3, high_ohm=1e4)
    assert 0.22 in standard_values_ohm("E12", low_ohm=0.1, high_ohm=1)


def test_an_unknown_series_is_refused():
    with pytest.raises(ValueError) as caught:
        standard_values_ohm("E13", low_ohm=1, high_ohm=10)
    assert str(caught.value) == "series 'E13' is not one of E12, E24, E96"
