"""The mean of field errors carries an interval, and says when zero is outside it."""

import pytest
from scipy import stats

from kb.numbers.mean_offset import STUDENT_95, mean_offset


@pytest.mark.parametrize("df", range(1, len(STUDENT_95) + 1))
def test_the_quantiles_are_students_to_their_last_digit(df: int) -> None:
    assert STUDENT_95[df - 1] == pytest.approx(stats.t.ppf(0.975, df), abs=5e-4)


def test_a_hand_worked_mean_with_its_interval() -> None:
    # Errors 0.2, 0.4, 0.6 K: mean 0.4, s = 0.2, half-width 4.303 · 0.2 / √3 = 0.49687.
    told = mean_offset([0.2, 0.4, 0.6])
    assert told.count == 3
    assert told.mean_k == pytest.approx(0.4)
    assert told.half_k == pytest.approx(0.49687, abs=5e-6)
    assert not told.off_centre


def test_the_interval_is_scipys() -> None:
    errors_k = [0.31, 0.52, 0.44, 0.38, 0.61, 0.29]
    low, high = stats.t.interval(0.95, 5, loc=sum(errors_k) / 6, scale=stats.sem(errors_k))
    told = mean_offset(errors_k)
    # STUDENT_95 has three decimals, so the half-width has about four good figures.
    assert told.mean_k - told.half_k == pytest.approx(low, abs=1e-4)
    assert told.mean_k + told.half_k == pytest.approx(high, abs=1e-4)
    assert told.off_centre


def test_two_readings_have_a_mean_and_no_interval() -> None:
    told = mean_offset([1.0, 2.0])
    assert (told.mean_k, told.half_k, told.off_centre) == (1.5, None, False)


def test_no_reading_has_no_mean() -> None:
    with pytest.raises(ValueError, match=r"^no reading to take a mean of$"):
        mean_offset([])
