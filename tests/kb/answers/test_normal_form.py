"""One form for a code, a mark or a word, however typed; and what is only close to it."""

from __future__ import annotations

import re
import unicodedata

import pytest

from kb.answers.normal_form import look_of, normal_form, one_slip, plain_text, words_of


@pytest.mark.parametrize(
    "typed",
    ["K4-2", "k4 2", "K42", " k4–2 ", "K4.2", "K4２", "K4‐2", "Ｋ４－２", "k4\u20112", "k4\u200b2"],
)
def test_a_code_is_one_form_however_it_is_typed(typed: str) -> None:
    assert normal_form(typed) == "k42"


@pytest.mark.parametrize(
    ("typed", "form"),
    [
        ("012", "012"),
        ("1E3", "1e3"),
        ("NO", "no"),
        ("1:30", "130"),
        ("- -", "--"),
        ("– –", "--"),
        ("Füße", "fusse"),
        ("T2℃", "t2c"),
        ("K²", "k2"),
        ("3×4", "3x4"),
        ("ΟΔΟΣ", "οδοσ"),
        ("  ", ""),
    ],
)
def test_a_code_stays_text(typed: str, form: str) -> None:
    assert normal_form(typed) == form


def test_leading_zeros_and_signs_tell_codes_apart() -> None:
    forms = {normal_form(code) for code in ("012", "12", "--", "-", "1E3", "13")}
    assert len(forms) == 6


def test_words_part_at_everything_that_joins_them() -> None:
    words = "plug x24 3 coil pipe end 10 kω"
    assert words_of("Plug X24-3, coil/pipe_end 10 kΩ") == words.split()


@pytest.mark.parametrize(
    ("shown", "read"), [("NO", "N0"), ("I2", "12"), ("5b", "S8"), ("l0", "1O")]
)
def test_what_a_display_shows_alike_has_one_look(shown: str, read: str) -> None:
    assert look_of(normal_form(shown)) == look_of(normal_form(read))


def test_other_signs_have_another_look() -> None:
    assert look_of("k42") != look_of("k43")


@pytest.mark.parametrize(
    ("form", "other", "slip"),
    [
        ("k42", "k42", False),
        ("k42", "k43", True),
        ("k42", "x42", True),
        ("k42", "k4", True),
        ("k42", "k422", True),
        ("k42", "4k2", True),
        ("k42", "k24", True),
        ("k42", "24k", False),
        ("k42", "k5", False),
        ("k42", "k4222", False),
        ("", "k", True),
        ("abcd", "badc", False),
    ],
)
def test_one_slip_is_one_wrong_missing_extra_or_swapped_sign(
    form: str, other: str, slip: bool
) -> None:
    assert one_slip(form, other=other) is slip
    assert one_slip(other, other=form) is slip


@pytest.mark.parametrize(
    "text", ["K4-2", " a\tB\x1f c\x7f d", "--", "1:30", "no_o", "\x00", "012 E"]
)
def test_the_quick_way_for_ascii_gives_what_the_long_way_gives(text: str) -> None:
    plain = plain_text(_NotPlain(text))
    kept = "".join(sign for sign in plain if unicodedata.category(sign)[0] in "LN")
    assert plain_text(text) == plain
    assert normal_form(text) == (kept or plain.replace(" ", ""))
    assert words_of(text) == [word for word in re.split(r"[^a-z0-9]", plain) if word]


class _NotPlain(str):
    """A text that says of itself that it is not ASCII, and so goes the long way."""

    __slots__ = ()

    def isascii(self) -> bool:
        return False
