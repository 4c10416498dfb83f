"""A trip limit on both scales: hot is low on a falling curve, high on a rising one."""

from __future__ import annotations

import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.out_of_range import OutOfRange
from kb.numbers.platinum import Platinum
from kb.numbers.trip_limits import trip_at_c, trip_at_ohm

NTC = Characteristic(law=NtcBeta(r_ref=10e3, b_k=3977), low_c=-40, high_c=125)
PT = Characteristic(law=Platinum(r0=1000), low_c=-50, high_c=200)


@pytest.mark.parametrize(
    ("curve", "above", "above_ohm"),
    [(NTC, True, False), (NTC, False, True), (PT, True, True), (PT, False, False)],
)
def test_above_in_degrees_is_below_in_ohms_on_a_falling_curve_only(curve, above, above_ohm):
    got = trip_at_c(curve, t_c=110, above=above)
    assert got.above_ohm is above_ohm
    assert got.r_ohm == pytest.approx(curve.r_ohm(110))
    back = trip_at_ohm(curve, r_ohm=got.r_ohm, above=got.above_ohm)
    assert back.t_c == pytest.approx(110)
    assert back.above_c is above


def test_a_limit_outside_the_curve_is_refused():
    with pytest.raises(OutOfRange):
        trip_at_c(NTC, t_c=130, above=True)
    with pytest.raises(OutOfRange):
        trip_at_ohm(NTC, r_ohm=10, above=False)
