"""Rounding, once and at the edge."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.notation import parse_ohm
from kb.numbers.rounding import (
    all_digits,
    format_departure,
    format_k,
    format_ohm,
    format_ohm_ends,
    format_ohm_to,
    format_percent,
    format_plain,
    format_t,
    format_volts,
    format_whole,
    significant,
    whole_parts,
)


@pytest.mark.parametrize(
    ("r_ohm", "text"),
    [
        (6320, "6.320 kΩ"),
        (6320.4, "6.320 kΩ"),
        (480, "480.0 Ω"),
        (0.22, "0.2200 Ω"),
        (999.96, "1.000 kΩ"),
        (9.9996, "10.00 Ω"),
        (329_500, "329.5 kΩ"),
        (1e6, "1.000 MΩ"),
        (12_345_678, "12.35 MΩ"),
        (2e9, "2.000 GΩ"),
        (0, "0 Ω"),
        (math.inf, "OL"),
    ],
)
def test_ohms_keep_four_digits_and_their_zeros(r_ohm, text):
    assert format_ohm(r_ohm).replace("\u00a0", " ") == text


def test_fewer_digits_can_be_asked_for():
    assert format_ohm(0.01, digits=2) == "0.010\u00a0Ω"
    assert format_ohm(600, digits=3) == "600\u00a0Ω"


@given(st.floats(1e-2, 1e9))
def test_what_is_printed_reads_back_within_half_its_last_digit(r_ohm):
    assert parse_ohm(format_ohm(r_ohm)) == pytest.approx(r_ohm, rel=5.01e-4)


@pytest.mark.parametrize(
    ("t_c", "unit", "text"),
    [
        (7, "C", "7.0 °C"),
        (-7.25, "C", "−7.2 °C"),
        (-0.04, "C", "0.0 °C"),
        (7, "F", "44.6 °F"),
        (-40, "F", "−40.0 °F"),
    ],
)
def test_temperatures_have_a_true_minus_and_no_minus_zero(t_c, unit, text):
    assert format_t(t_c, unit=unit).replace("\u00a0", " ") == text


@pytest.mark.parametrize(
    ("difference_k", "text"),
    [
        (0.42, "0.42 K"),
        (0.0011, "0.0011 K"),
        (1.23, "1.2 K"),
        (9.96, "10 K"),
        (24.4, "24 K"),
        (123.4, "123 K"),
        (0, "0 K"),
        (-0.5, "−0.50 K"),
        (3e-13, "0 K"),
    ],
)
def test_differences_keep_two_digits_and_never_lose_whole_kelvin(difference_k, text):
    assert format_k(difference_k).replace("\u00a0", " ") == text


def test_a_difference_in_fahrenheit_has_no_32():
    assert format_k(1.0, unit="F") == "1.8\u00a0°F"
    assert format_k(0.0011, digits=1) == "0.001\u00a0K"


@pytest.mark.parametrize(
    ("r_ohm", "digit_ohm", "text"),
    [
        (0.96, 0.01, "0.96 Ω"),
        (0.996, 0.01, "1.00 Ω"),
        (0.9412, 0.1, "0.9 Ω"),
        (38.1, 0.1, "38.1 Ω"),
        (38.14159, 0.001, "38.142 Ω"),
        (1620, 1, "1.620 kΩ"),
        (1620, 10, "1.62 kΩ"),
        (0.004, 0.01, "0.004 Ω"),
        (0, 0.1, "0 Ω"),
        (math.inf, math.inf, "OL"),
        (38.1, math.inf, "38.10 Ω"),
    ],
)
def test_ohms_are_told_to_the_meters_last_digit(r_ohm, digit_ohm, text):
    assert format_ohm_to(r_ohm, digit_ohm=digit_ohm).replace("\u00a0", " ") == text


@pytest.mark.parametrize(
    ("share", "text"),
    [(2.2e-16, "0 %"), (-2.2e-16, "0 %"), (0.024, "+2.4 %"), (-0.0031, "−0.31 %")],
)
def test_a_departure_has_its_sign_and_arithmetics_own_is_none(share, text):
    assert format_departure(share).replace("\u00a0", " ") == text


def test_shares_volts_and_plain_numbers():
    assert format_percent(0.0235) == "2.4\u00a0%"
    assert format_percent(1.0) == "100\u00a0%"
    assert format_volts(2.468) == "2.47\u00a0V"
    assert significant(32553.16) == 32550


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (400, 6, "400"),
        (2.5, 6, "2.5"),
        (-10.0, 6, "-10"),
        (1.23456789, 6, "1.23457"),
        (0.352, 2, "0.35"),
    ],
)
def test_what_was_typed_is_said_back_as_it_was(value, digits, text):
    assert format_plain(value, digits=digits) == text


def test_whole_numbers_are_the_nearest():
    assert [format_whole(value) for value in (3976.6, 12.4, 12.6, 0.4)] == ["3977", "12", "13", "0"]


def test_every_digit_of_a_number_is_written_without_an_exponent():
    assert [all_digits(value) for value in (32650.0, 0.1, 1e-7, 1e16)] == [
        "32650",
        "0.1",
        "0.0000001",
        "10000000000000000",
    ]


def test_an_array_is_counted_in_whole_parts_of_one():
    values = np.array([[1.2345678, 0.0], [0.0006, -2.0004]])
    counted = whole_parts(values, parts=1000)
    assert counted.tolist() == [[1235, 0], [1, -2000]]
    assert counted.dtype == np.int64


def test_the_ends_of_a_span_share_a_unit_or_name_both():
    def ends(low_ohm, high_ohm):
        return [end.replace("\u00a0", " ") for end in format_ohm_ends(low_ohm, high_ohm=high_ohm)]

    assert ends(950.0, 1050.0) == ["950.0 Ω", "1.050 kΩ"]
    assert ends(11950.0, 12230.0) == ["11.95", "12.23 kΩ"]
