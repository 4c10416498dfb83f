"""Copper and aluminium at another temperature, against published factors."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.winding_metal import CONSTANTS, WindingMetal, corrected_to


@pytest.mark.published("winding_copper_*")
def test_published_ratios_are_met_within_half_their_last_digit(sheet, t_c):
    constant, at_c = sheet.fields["constant"], sheet.fields["at_c"]
    law = WindingMetal(r_ref=1.0, at_c=at_c, constant=constant)
    assert law.r_ohm(t_c) == pytest.approx(float(sheet.printed[t_c]), abs=sheet.half_digit(t_c))


@given(st.sampled_from(sorted(CONSTANTS)), st.floats(-60, 250), st.floats(0.01, 1e3))
def test_a_winding_is_its_own_thermometer(constant, t_c, r_ref):
    law = WindingMetal(r_ref=r_ref, constant=constant)
    assert law.t_c(law.r_ohm(t_c)) == pytest.approx(t_c, abs=1e-9)
    at_20 = corrected_to(law.r_ohm(t_c), from_c=t_c, to_c=20.0, constant=constant)
    assert at_20 == pytest.approx(r_ref, rel=1e-12)


def test_the_slope_is_constant():
    law = WindingMetal(r_ref=2.0, at_c=20, constant=235.0)
    assert law.slope_ohm_per_k([0.0, 100.0]) == pytest.approx([2 / 255, 2 / 255])


def test_the_difference_between_both_coppers_is_small():
    one, other = (WindingMetal(r_ref=1.0, constant=k).r_ohm(130) for k in (234.5, 235.0))
    assert 0 < one / other - 1 < 0.001


@pytest.mark.parametrize(
    "make",
    [
        lambda: WindingMetal(r_ref=1.0, constant=234.0),
        lambda: corrected_to(1.0, from_c=25, to_c=20, constant=234.0),
    ],
)
def test_an_unknown_constant_is_refused(make):
    with pytest.raises(ValueError) as caught:
        make()
    assert str(caught.value) == (
        "234 is no winding constant; use 234.5 or 235 for copper, "
        "225 for aluminium, 9980 for heating wire"
    )
