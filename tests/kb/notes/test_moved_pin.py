"""A pin is moved in its file: two numbers change, and nothing else, or nothing at all."""

from __future__ import annotations

import pytest

from kb.notes.moved_pin import PinNotMoved, move_pin

FILE = "docs_data/drawings/front.yaml"
TEXT = """\
# The front, cover off.
name: Front — Ω
pins:   # by eye
  T1: {x: 67, y: 11, where: "On a comb: x: 67, y: 11"}   # not T2
  'T 2':
    y: 38    # lower
    x:   "64.5"
    where: In a pocket
  T10: {x: 67,y: 11, where: Beside T1}
"""


def moved(text: str, pin: str, to: tuple[str, str] = ("41.5", "8")) -> str:
    return move_pin(text.encode(), file=FILE, pin=pin, to=to).raw.decode()


def test_in_braces_only_the_two_numbers_change() -> None:
    assert moved(TEXT, "T1") == TEXT.replace("T1: {x: 67, y: 11,", "T1: {x: 41.5, y: 8,")


def test_on_lines_of_their_own_in_any_order_they_change_too_and_comments_stay() -> None:
    wanted = TEXT.replace("y: 38 ", "y: 8 ").replace('x:   "64.5"', "x:   41.5")
    assert moved(TEXT, "T 2") == wanted


def test_it_says_which_line_and_what_was_written() -> None:
    found = move_pin(TEXT.encode(), file=FILE, pin="T10", to=("0", "100"))
    assert (found.number, found.was) == (9, ("67", "11"))
    assert found.line == "  T10: {x: 0,y: 100, where: Beside T1}"


def test_the_mark_of_utf_8_and_the_ends_of_lines_are_kept() -> None:
    raw = b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode()
    found = move_pin(raw, file=FILE, pin="T1", to=("1", "2"))
    assert found.raw == raw.replace(b"T1: {x: 67, y: 11,", b"T1: {x: 1, y: 2,")


def test_moved_back_it_is_the_same_file() -> None:
    raw = TEXT.encode()
    found = move_pin(raw, file=FILE, pin="T1", to=("41.5", "8"))
    assert move_pin(found.raw, file=FILE, pin="T1", to=found.was).raw == raw


@pytest.mark.parametrize("to", [("101", "5"), ("-1", "5"), ("5", ""), ("1.25", "5"), ("5}", "5")])
def test_what_is_no_place_is_refused(to: tuple[str, str]) -> None:
    with pytest.raises(PinNotMoved) as refused:
        moved(TEXT, "T1", to)
    assert str(refused.value) == "a place is 0 to 100 percent, to a tenth"


@pytest.mark.parametrize(
    ("text", "pin", "words"),
    [
        (TEXT, "T3", f"{FILE} has no pin 'T3' with its x and y: was it renamed?"),
        (
            "pins:\n  T1: {x: 67}\n",
            "T1",
            f"{FILE} has no pin 'T1' with its x and y: was it renamed?",
        ),
        ("- a list\n", "T1", f"{FILE} has no pin 'T1' with its x and y: was it renamed?"),
        (
            "pins:\n  T1: {x: 67, x: 3, y: 11}\n",
            "T1",
            f"{FILE}:2:15: repeated-key: 'x' stands here and on line 2; mend that first",
        ),
        (
            "pins:\n  T1:\n    x: |-\n      67\n    y: 11\n",
            "T1",
            f"{FILE}: the pin 'T1' is written in a way that is only changed by hand",
        ),
    ],
)
def test_what_cannot_be_moved_says_why(text: str, pin: str, words: str) -> None:
    with pytest.raises(PinNotMoved) as refused:
        moved(text, pin)
    assert str(refused.value) == words
