"""Which check first: no other order finds the fault sooner."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.numbers.check_order import expected_minutes, order_checks, shares_with_cases

SUSPECTS = st.integers(1, 6).flatmap(
    lambda n: st.tuples(
        st.lists(st.floats(0.01, 10), min_size=n, max_size=n),
        st.lists(st.floats(0.5, 120), min_size=n, max_size=n),
    )
)


@given(SUSPECTS)
def test_no_other_order_takes_fewer_minutes(suspects):
    shares, minutes = suspects
    order = order_checks(shares, minutes=minutes)
    ours = expected_minutes(shares, minutes=minutes, order=order)
    for other in itertools.permutations(range(len(shares))):
        theirs = expected_minutes(shares, minutes=minutes, order=other)
        assert ours <= theirs * (1 + 1e-12)


def test_the_expected_minutes_of_a_small_example():
    # Three in four it is the second, 2 minutes; else 2 + 10: 0.75 · 2 + 0.25 · 12.
    assert expected_minutes([1, 3], minutes=[10, 2], order=[1, 0]) == pytest.approx(4.5)


def test_shares_start_as_authored_and_follow_the_cases():
    assert shares_with_cases([3, 1], counts=[0, 0]) == pytest.approx([0.75, 0.25])
    assert shares_with_cases([3, 1], counts=[3, 7]) == pytest.approx([10.5 / 20, 9.5 / 20])
    many = shares_with_cases([3, 1], counts=[100, 900])
    assert many == pytest.approx([0.1, 0.9], abs=0.01)


@given(st.lists(st.tuples(st.floats(0.01, 10), st.integers(0, 50)), min_size=1, max_size=8))
def test_shares_sum_to_one_and_none_is_ever_zero(told):
    weights, counts = zip(*told, strict=True)
    shares = shares_with_cases(weights, counts=counts)
    assert shares.sum() == pytest.approx(1)
    assert (shares > 0).all()


def test_equal_suspects_keep_the_order_they_were_written_in():
    assert order_checks([1, 1, 1], minutes=[5, 5, 5]) == [0, 1, 2]


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (
            lambda: shares_with_cases([1, 2], counts=[1]),
            "2 weights and 1 counts; each suspect needs one of each",
        ),
        (
            lambda: shares_with_cases([1, 0], counts=[1, 1]),
            "weights are above zero and counts not below it",
        ),
        (
            lambda: order_checks([1, 1], minutes=[5, 0]),
            "every check takes some minutes; write a time above zero",
        ),
    ],
)
def test_what_makes_no_sense_is_refused(ask, message):
    with pytest.raises(ValueError) as caught:
        ask()
    assert str(caught.value) == message
