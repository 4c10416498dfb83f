"""What people write: read when it has one meaning, refused with a way out when it has two."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.notation import parse_entry_ohm, parse_ohm, parse_reading, parse_t_c


@pytest.mark.parametrize(
    ("text", "r_ohm"),
    [
        ("480", 480),
        ("6.32k", 6320),
        ("6k32", 6320),
        ("6,32k", 6320),
        ("6K32", 6320),
        ("1.2M", 1.2e6),
        ("1M2", 1.2e6),
        ("4R7", 4.7),
        ("0R22", 0.22),
        ("R22", 0.22),
        ("480R", 480),
        ("480 Ω", 480),
        ("480 \u2126", 480),
        ("480 ohm", 480),
        ("480 Ohms", 480),
        ("6.32 kΩ", 6320),
        ("6,32 kohm", 6320),
        ("6k32Ω", 6320),
        ("5G", 5e9),
        ("0", 0),
        ("12 000", 12000),
        ("1\u00a0234\u00a0567", 1234567),
        ("32650,5", 32650.5),
        ("1e4", 1e4),
        ("0,123", 0.123),
        (" 10k ", 10000),
        (".5k", 500),
        ("2,20M", 2.2e6),
    ],
)
def test_every_usual_way_of_writing_a_resistance_is_read(text, r_ohm):
    assert parse_ohm(text) == pytest.approx(r_ohm, rel=1e-15)


WAYS = "write it as 480, 6.32k, 6k32 or 1.2M"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("220m", "'220m' could be milliohms or megohms; write M for megohms, or milliohms as 0R22"),
        ("4m7", "'4m7' could be milliohms or megohms; write M for megohms, or milliohms as 0R22"),
        (
            "12,000",
            "'12,000' could have a decimal comma or a comma for thousands; write 12000 or 12.000",
        ),
        (
            "1,234,567",
            "'1,234,567' could have a decimal comma or a comma for thousands; write 1234567",
        ),
        ("-5", f"'-5' is below zero; a resistance is not: {WAYS}"),
        ("6.3k2", f"'6.3k2' is not a resistance; {WAYS}"),
        ("1,234.5", f"'1,234.5' is not a resistance; {WAYS}"),
        ("warm", f"'warm' is not a resistance; {WAYS}"),
        ("", f"'' is not a resistance; {WAYS}"),
        ("OL", f"'OL' is an open circuit, not a resistance; {WAYS}"),
        ("10kk", f"'10kk' is not a resistance; {WAYS}"),
    ],
)
def test_what_has_no_meaning_or_two_is_refused_with_what_would_work(text, message):
    with pytest.raises(ValueError) as caught:
        parse_ohm(text)
    assert str(caught.value) == message


@pytest.mark.parametrize(
    "text", ["OL", "ol", "O.L", "O.L.", "0L", "open", ">OL MΩ", "∞", "over range"]
)
def test_a_display_over_range_is_an_infinite_reading(text):
    assert parse_reading(text) == math.inf


def test_a_reading_is_otherwise_a_resistance():
    assert parse_reading("6k32") == 6320
    with pytest.raises(ValueError) as caught:
        parse_reading("x")
    assert str(caught.value) == f"'x' is not a resistance; {WAYS}, or OL for over range"


@pytest.mark.parametrize(
    ("text", "t_c"),
    [
        ("7", 7),
        ("-10", -10),
        ("−10", -10),
        ("7,5", 7.5),
        ("7 °C", 7),
        ("7 ℃", 7),
        ("7℃", 7),
        ("7C", 7),
        ("+7", 7),
        ("45F", 65 / 9),
        ("45 °F", 65 / 9),
        ("-40F", -40),
        ("32 f", 0),
        (" 7.25 ", 7.25),
        ("7 Grad", 7),
        ("-7,5 grad C", -7.5),
    ],
)
def test_every_usual_way_of_writing_a_temperature_is_read(text, t_c):
    assert parse_t_c(text) == pytest.approx(t_c, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("280K", "'280K' is in kelvin; write it as 7, -10, 7.5 or 45F"),
        ("-300", "'-300' is below absolute zero; write it as 7, -10, 7.5 or 45F"),
        ("warm", "'warm' is not a temperature; write it as 7, -10, 7.5 or 45F"),
        ("7 8", "'7 8' is not a temperature; write it as 7, -10, 7.5 or 45F"),
    ],
)
def test_what_is_no_temperature_is_refused(text, message):
    with pytest.raises(ValueError) as caught:
        parse_t_c(text)
    assert str(caught.value) == message


@given(st.integers(1, 999), st.integers(0, 99), st.sampled_from(["R", "k", "M"]))
def test_point_comma_and_letter_mean_the_same(whole, part, letter):
    by_letter = parse_ohm(f"{whole}{letter}{part:02d}")
    assert parse_ohm(f"{whole}.{part:02d}{letter}") == by_letter
    assert parse_ohm(f"{whole},{part:02d}{letter}") == by_letter


@given(st.text(max_size=12))
def test_any_text_is_read_or_refused_and_nothing_else(text):
    for parse in (parse_ohm, parse_reading, parse_t_c):
        try:
            assert not math.isnan(parse(text))
        except ValueError as error:
            assert str(error)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1,234,567k", "'1,234,567k' is not a resistance; write it as 480, 6.32k, 6k32 or 1.2M"),
        ("1e999", "'1e999' is beyond any resistance; write it as 480, 6.32k, 6k32 or 1.2M"),
        ("6\u212a", "'6\u212a' is not a resistance; write it as 480, 6.32k, 6k32 or 1.2M"),
        ("٦", "'٦' is not a resistance; write it as 480, 6.32k, 6k32 or 1.2M"),
    ],
)
def test_what_only_looks_like_a_resistance_is_refused_in_words(text, said):
    with pytest.raises(ValueError, match=f"^{re.escape(said)}$"):
        parse_ohm(text)


def test_the_kelvin_sign_is_no_degree_celsius():
    with pytest.raises(ValueError, match="is not a temperature"):
        parse_t_c("280\u212a")


@pytest.mark.parametrize("text", ["50.000", "50,000", "1.425", "8,313 Ω"])
def test_in_a_file_three_digits_after_a_sign_could_be_thousands(text):
    digits = text.removesuffix(" Ω").replace(",", ".")
    whole, part = digits.split(".")
    with pytest.raises(ValueError) as caught:
        parse_entry_ohm(text)
    assert str(caught.value) == (
        f"'{text}' could be {whole}{part} or {whole} and a fraction; "
        f"write {whole}{part} or {whole}R{part.rstrip('0')}"
    )


@pytest.mark.parametrize(
    ("text", "r_ohm"),
    [("50.00", 50.0), ("0.960", 0.96), ("50.000k", 50e3), ("1234.567", 1234.567), ("50R", 50.0)],
)
def test_in_a_file_all_else_is_read_as_ever(text, r_ohm):
    assert parse_entry_ohm(text) == r_ohm


def test_a_meter_means_its_three_decimals():
    assert parse_reading("1.425") == 1.425


@pytest.mark.parametrize("text", ["Überlauf", "überlauf", "Ueberlauf", "offen", "unendlich"])
def test_over_range_is_understood_in_german(text):
    assert parse_reading(text) == math.inf
