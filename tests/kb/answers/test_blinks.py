"""A blink pattern is read however somebody writes it down."""

from __future__ import annotations

import pytest

from kb.answers.blinks import MOST_BLINKS, BlinkPattern, read_blinks
from kb.model.code import Blinks


def keys(text: str) -> list[str]:
    return [pattern.key for pattern in read_blinks(text)]


@pytest.mark.parametrize(
    "text",
    [
        "2 long 4 short",
        "2L4S",
        "2l 4s",
        "L2S4",
        "2-4",
        "2 4",
        "2/4",
        "2x long 4x short",
        "2 × long, 4 × short",
        "two long four short",
        "-- ....",
        "4 short, 2 long",
        "long 2, short 4",
        "long long short short short short",
        "flashes 2 long and 4 short",
        "2 long, then 4 short, a pause, and again",
    ],
)
def test_two_long_and_four_short_are_read_in_sixteen_ways(text: str) -> None:
    assert keys(text) == ["2L4S"]


@pytest.mark.parametrize(
    "text",
    [
        "２－４",
        "2–4",
        "2 — 4",
        "2.4",
        "2,4",
        "2+4",
        "2 & 4",
        "TWO LONG, FOUR SHORT!",
        "––••••",
        "_ _ . . . .",
        "2-long-4-short",
        "2 longs & 4 shorts",
        "the red lamp on the board: 2 long, 4 short",
        "H1 2 long 4 short",
        "2 long 4 short (H3 on the unit board)",
        "lamp 2-4",
        "unit 2-4",
        "main board flashes 2 long 4 short",
        "two four",
    ],
)
def test_signs_capitals_and_words_beside_it_change_nothing(text: str) -> None:
    assert keys(text) == ["2L4S"]


@pytest.mark.parametrize(
    "text", ["3", "3x", "3 ×", "3 blinks", "flashes 3 times", "three", "the lamp blinks 3 times"]
)
def test_a_bare_count_may_be_short_ones_or_long_ones(text: str) -> None:
    assert keys(text) == ["0L3S", "3L0S"]


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("42", ["4L2S"]),
        ("blinks 42", ["4L2S"]),
        ("the red lamp flashes 42", ["4L2S"]),
        ("12", ["0L12S", "12L0S", "1L2S"]),
        ("12 blinks", ["0L12S", "12L0S"]),
        ("12x", ["0L12S", "12L0S"]),
        ("40", []),
        ("042", []),
    ],
)
def test_two_digits_with_nothing_behind_them_may_be_one_of_each_kind(
    text: str, read: list[str]
) -> None:
    assert keys(text) == read


@pytest.mark.parametrize(
    ("text", "key"),
    [("3 short", "0L3S"), ("3S", "0L3S"), ("s3", "0L3S"), ("0-3", "0L3S"), ("...", "0L3S"),
     ("3 long", "3L0S"), ("3L", "3L0S"), ("3 long 0 short", "3L0S"), ("---", "3L0S")],
)  # fmt: skip
def test_a_count_of_one_kind_is_that_kind(text: str, key: str) -> None:
    assert keys(text) == [key]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "short",
        "long",
        "K4-2",
        "X12",
        "1:30",
        "02",
        "0",
        "0-0",
        "120",
        "30",
        "21 blinks",
        "x21",
        "board 2",
        "unit 42",
        "21x",
        "21 long",
        "2 long 3 long",
        "2 long short 4",
        "3 A",
        "n0",
        "2-4-6",
        "open circuit",
        "short circuit",
        "2%4",
    ],
)
def test_what_is_no_pattern_is_none(text: str) -> None:
    assert keys(text) == []


def test_as_many_are_read_as_the_notes_may_hold() -> None:
    assert keys(f"{MOST_BLINKS} long {MOST_BLINKS} short") == ["20L20S"]
    assert Blinks(lamp="H1", long=str(MOST_BLINKS)).long == MOST_BLINKS
    with pytest.raises(ValueError, match="20"):
        Blinks(lamp="H1", long=str(MOST_BLINKS + 1))


@pytest.mark.parametrize(
    ("long", "short", "miscounted"),
    [(4, 2, False), (5, 2, True), (3, 2, True), (4, 3, True), (5, 3, False), (6, 2, False),
     (0, 2, False), (4, 0, False)],
)  # fmt: skip
def test_one_blink_more_or_less_of_a_kind_that_is_there_is_a_miscount(
    long: int, short: int, miscounted: bool
) -> None:
    pattern = BlinkPattern(long=long, short=short)
    assert BlinkPattern(long=4, short=2).miscounted(pattern) is miscounted


def test_a_kind_that_is_not_there_is_no_miscount() -> None:
    assert not BlinkPattern(long=1).miscounted(BlinkPattern(long=1, short=1))


@pytest.mark.parametrize(
    "text",
    [
        "4 lang 2 kurz",
        "viermal lang, zweimal kurz",
        "4x lang, 2x kurz",
        "4mal lang 2mal kurz",
        "2 kurz, 4 lang",
        "Vier lange und zwei kurze Impulse",
        "die rote Lampe blinkt 4 mal lang, dann 2 mal kurz",
        "LED gelb: 4-mal lang, Pause, 2-mal kurz",
        "lang lang lang lang kurz kurz",
        "4L2K",
        "2k 4l",
    ],
)
def test_a_german_writes_it_down_as_well(text: str) -> None:
    assert keys(text) == ["4L2S"]


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("blinkt dreimal", ["0L3S", "3L0S"]),
        ("die Lampe blinkt fünfmal", ["0L5S", "5L0S"]),
        ("gru\u0308n blinkt zwoelfmal", ["0L12S", "12L0S"]),
        ("blinkt weiß 3 Mal", ["0L3S", "3L0S"]),
        ("ein kurzer", ["0L1S"]),
        ("kurz", []),
        ("Kurzschluss", []),
        ("Platine 2", []),
        ("Gerät 3", []),
        ("L4 K2", []),
        ("K4", []),
        ("4k", []),
        ("Fehler 3", []),
    ],
)
def test_a_german_count_is_read_and_a_part_is_none(text: str, read: list[str]) -> None:
    assert keys(text) == read
