"""How well a curve is known: the worst, where, and what holds elsewhere."""

from __future__ import annotations

import numpy as np
import pytest

from kb.numbers.characteristic import Characteristic
from kb.numbers.how_known import how_known
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum


class Known:
    """A width that is straight between such places."""

    def __init__(self, t_c, half_k):
        self.at = t_c, half_k

    def half_k(self, t_c):
        return np.interp(t_c, *self.at)


def curve(*places, low_c=-40.0, high_c=100.0):
    t_c, half_k = zip(*places, strict=True)
    law = NtcBeta(r_ref=10e3, b_k=3500)
    return Characteristic(law=law, low_c=low_c, high_c=high_c, width=Known(t_c, half_k))


def test_the_stretch_around_the_worst_is_said_in_whole_steps_and_the_rest_apart():
    # Above 0.06 K, half of the worst, from −33.2 to −27 °C: said as −35 to −25.
    known = how_known(curve((-40, 0.03), (-35, 0.03), (-30, 0.12), (-25, 0.0), (0, 0.03)))
    assert known.worst_k == pytest.approx(0.12)
    assert (known.low_c, known.high_c) == (-35, -25)
    assert known.elsewhere_k == pytest.approx(0.03)


def test_what_is_alike_everywhere_has_no_elsewhere():
    known = how_known(curve((-40, 0.03), (100, 0.04)))
    assert (known.low_c, known.high_c, known.elsewhere_k) == (-40, 100, None)


def test_an_uneven_end_is_said_as_it_is_and_never_beyond():
    known = how_known(curve((-38.3, 0.4), (-20, 0.01), low_c=-38.3, high_c=97.6))
    assert known.worst_k == pytest.approx(0.4)
    assert known.low_c == -38.3
    warm = how_known(curve((80, 0.01), (97.6, 0.4), low_c=-38.3, high_c=97.6))
    assert (warm.worst_k, warm.high_c) == (pytest.approx(0.4), 97.6)


def test_what_is_taken_as_published_has_nothing_to_say():
    assert how_known(Characteristic(law=Platinum(r0=100), low_c=-50, high_c=200)) is None
