"""Draws are the published generator's, alike for a seed, and favour nobody."""

from __future__ import annotations

from collections import Counter
from itertools import permutations

import pytest

from kb.numbers.seeded import Seeded, mixed

# 0.999 quantiles of chi-square, from a table of it (from memory).
CHI2_5, CHI2_6 = 20.5, 22.5


def chi2(counts: Counter, *, cells: int) -> float:
    expected = sum(counts.values()) / cells
    return sum((counts[cell] - expected) ** 2 / expected for cell in counts) + expected * (
        cells - len(counts)
    )


def test_words_are_those_of_the_published_generator():
    """The state and its first words that the paper's xor() begins with, from memory."""
    draw = Seeded(0)
    draw._state = 2463534242
    assert [draw.word() for _ in range(3)] == [723471715, 2497366906, 2064144800]


def test_a_seed_and_its_stream_settle_every_draw():
    def drawn(seed: int, stream: int) -> list[int]:
        draw = Seeded(seed, stream=stream)
        return [draw.below(1000) for _ in range(8)]

    assert drawn(4711, 3) == drawn(4711, 3)
    assert len({tuple(drawn(seed, stream)) for seed in range(40) for stream in range(10)}) == 400


def test_neighbouring_words_are_mixed_without_two_becoming_one():
    assert len({mixed(word) for word in range(50_000)}) == 50_000
    assert mixed(0) == 0 and mixed(1) == 0x514E28B7


def test_no_number_is_favoured_even_where_the_words_do_not_divide_evenly():
    # A remainder of words alone would give the first third of these twice as often.
    count, draw = 2**31 + 2**30, Seeded(1)
    thirds = Counter(draw.below(count) * 3 // count for _ in range(6000))
    assert chi2(thirds, cells=3) < CHI2_5
    assert chi2(Counter(Seeded(seed).below(7) for seed in range(7000)), cells=7) < CHI2_6


def test_every_order_is_as_likely():
    orders = Counter(tuple(Seeded(seed, stream=1).shuffled("abc")) for seed in range(6000))
    assert set(orders) == set(permutations("abc"))
    assert chi2(orders, cells=6) < CHI2_5


def test_weights_are_kept_and_nought_is_never_drawn():
    draw = Seeded(9)
    drawn = Counter(draw.weighted([1.0, 0.0, 3.0]) for _ in range(4000))
    assert drawn[1] == 0
    assert drawn[2] / drawn[0] == pytest.approx(3, rel=0.12)


@pytest.mark.parametrize("count", [0, -1, 2**32])
def test_nothing_cannot_be_drawn_from(count):
    with pytest.raises(ValueError, match="cannot be drawn"):
        Seeded(1).below(count)
