"""A blink pattern is a bar of time and a sentence, both the same for everyone."""

import re

from generators.blinks import LONG, SHORT, counted_blinks, draw_blinks, say_blinks
from kb.model.code import Blinks

FOUR_TWO = Blinks(lamp="amber lamp", long=4, short=2)


def test_four_long_and_two_short_are_drawn_in_that_order() -> None:
    blocks = re.findall(r"M(\d+),4h(\d+)v16h-(\d+)z", draw_blinks(FOUR_TWO))
    assert [int(wide) for _, wide, _ in blocks] == [LONG] * 4 + [SHORT] * 2
    assert all(there == back for _, there, back in blocks)
    begins = [int(begin) for begin, _, _ in blocks]
    assert begins == sorted(set(begins))


def test_it_is_said_in_words() -> None:
    assert say_blinks(FOUR_TWO) == "4 long, then 2 short, a pause, and again"
    assert say_blinks(Blinks(lamp="x", long=0, short=3)) == "3 short, a pause, and again"


def test_the_counts_stand_large_as_numerals() -> None:
    assert counted_blinks(FOUR_TWO) == (
        '<span class="ohm-blink-counts"><strong>4</strong> long <strong>2</strong> short</span>'
    )
    assert "long" not in counted_blinks(Blinks(lamp="x", long=0, short=3))
