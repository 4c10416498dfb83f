"""When two codes look alike to somebody in a hurry."""

from __future__ import annotations

import pytest

from kb.check.codes import plain


@pytest.mark.parametrize("typed", ["K4-2", "k42", "K4 2", "k4‐2", "Ｋ４２"])
def test_a_code_however_typed_is_the_same_code(typed):
    assert plain(typed) == "k42"


def test_leading_zeros_and_signs_tell_codes_apart():
    assert len({plain(code) for code in ("012", "12", "--", "-", "1E3", "13")}) == 6
