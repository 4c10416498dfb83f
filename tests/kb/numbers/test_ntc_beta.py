"""NTC by B value, against an independent library, the definition, and makers' tables."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from thermistor_utils.Beta_converter import Beta_converter

from kb.numbers.ntc_beta import USUAL_PAIRS_C, NtcBeta, b_value_k
from kb.numbers.point_table import PointTable


def test_a_dense_grid_agrees_with_an_independent_library():
    law, theirs = NtcBeta(r_ref=10e3, b_k=3977, at_c=25), Beta_converter.from_beta(3977, 10e3)
    t_c = np.linspace(-60, 200, 521)
    expected = np.array([theirs.resistance(float(t)) for t in t_c])
    assert law.r_ohm(t_c) == pytest.approx(expected, rel=1e-12)
    back = np.array([theirs.temperature(float(r)) for r in expected])
    assert law.t_c(expected) == pytest.approx(back, abs=1e-9)


@given(st.floats(-100, 400), st.floats(2000, 6000), st.floats(10, 1e6), st.floats(-20, 100))
def test_temperature_to_resistance_and_back_returns_the_temperature(t_c, b_k, r_ref, at_c):
    law = NtcBeta(r_ref=r_ref, b_k=b_k, at_c=at_c)
    assert law.t_c(law.r_ohm(t_c)) == pytest.approx(t_c, abs=1e-8)


@given(st.floats(-99, 399))
def test_the_slope_is_that_of_the_resistance(t_c):
    law = NtcBeta(r_ref=10e3, b_k=3977)
    step = (law.r_ohm(t_c + 0.01) - law.r_ohm(t_c - 0.01)) / 0.02
    assert law.slope_ohm_per_k(t_c) == pytest.approx(step, rel=1e-5)


@pytest.mark.parametrize(
    ("other_c", "per_unit_k"), [(50, 3853.887), (85, 1779.707), (100, 1483.396)]
)
def test_the_b_value_is_defined_between_two_temperatures(other_c, per_unit_k):
    # IEC 60539-1, definition of the B value (from memory): ln(R1/R2) is one here.
    b_k = b_value_k(r1_ohm=np.e, t1_c=25, r2_ohm=1, t2_c=other_c)
    assert b_k == pytest.approx(per_unit_k, abs=0.0005)


def test_a_b_value_needs_two_temperatures():
    with pytest.raises(ValueError) as caught:
        b_value_k(r1_ohm=10e3, t1_c=25, r2_ohm=9e3, t2_c=25)
    assert str(caught.value) == "both points are at 25 °C; a B value needs two temperatures"


@pytest.mark.published("ntc_one_b_value_error")
def test_one_b_value_reads_a_makers_table_as_far_off_as_published(sheet, read_sheet):
    for name, errors_k in sheet.fields["tables"].items():
        table = read_sheet(name).fields
        law = NtcBeta(r_ref=table["r25_ohm"], b_k=table["b_label"]["b_k"])
        for t_c, error_k in errors_k.items():
            off_k = law.t_c(table["points"][t_c]) - t_c
            assert off_k == pytest.approx(error_k, abs=0.0051), (name, t_c)


def test_same_r25_and_same_b_do_not_fix_a_curve(read_sheet):
    one = read_sheet("ntc_amwei_amf52_503_3950_epoxy")
    other = read_sheet("ntc_amwei_amf58b_503_3950_bead")
    assert one.fields["r25_ohm"] == other.fields["r25_ohm"]
    assert one.fields["b_label"] == other.fields["b_label"]
    cold = [PointTable(points=tuple(s.points)).r_ohm(-40) for s in (one, other)]
    assert cold[1] / cold[0] - 1 == pytest.approx(-0.072, abs=0.001)


def test_a_b_value_of_zero_is_refused():
    with pytest.raises(ValueError) as caught:
        NtcBeta(r_ref=10e3, b_k=0)
    assert str(caught.value) == "r_ref 10000 Ω and b_k 0 K must both be above zero"


@pytest.mark.published("ntc_one_b_value_error")
def test_the_error_that_the_law_admits_covers_every_published_table(sheet, read_sheet):
    tightest = []
    for name, errors_k in sheet.fields["tables"].items():
        table = read_sheet(name).fields
        label = table["b_label"]
        known = NtcBeta(
            r_ref=table["r25_ohm"], b_k=label["b_k"], pairs_c=(tuple(map(float, label["pair_c"])),)
        )
        unknown = NtcBeta(r_ref=table["r25_ohm"], b_k=label["b_k"], pairs_c=USUAL_PAIRS_C)
        for t_c, error_k in errors_k.items():
            # 0.01 K is the print of the errors.
            assert abs(error_k) <= known.half_k(float(t_c)) + 0.01, (name, t_c)
            assert known.half_k(float(t_c)) <= unknown.half_k(float(t_c))
            tightest.append(abs(error_k) / max(known.half_k(float(t_c)), 0.1))
    # It is no wider than it must be: some table needs nearly all of it.
    assert max(tightest) > 0.95


def test_the_law_is_right_at_its_reference_and_at_the_other_end_of_its_pair():
    law = NtcBeta(r_ref=10e3, b_k=3977, pairs_c=((25.0, 85.0),))
    assert law.half_k(np.array([25.0, 85.0])).tolist() == [0.0, 0.0]
    # 7e-4 · 125 · 65 · 233.15/298.15, by hand.
    assert law.half_k(-40.0) == pytest.approx(4.448, abs=0.001)
    assert NtcBeta(r_ref=10e3, b_k=3977).half_k(-40.0) == 0
