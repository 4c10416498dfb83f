"""Shares take past jobs in, and the order is the one of least expected time."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence

import pytest

from kb.model import Case, Code
from kb.numbers.check_order import expected_minutes, order_checks
from kb.suspects import rank_suspects


def _code() -> Code:
    return Code(
        id="k1",
        name="K1",
        source="habit",
        family="unit",
        shown=[{"text": "K1"}],
        meaning="Something is wrong.",
        clear=["Switch off and on."],
        suspects=[
            {"sensor": "suction", "share": "5", "minutes": "12"},
            {"what": "Wet plug", "share": "3", "minutes": "4"},
            {"part": "board", "share": "2", "minutes": "20"},
        ],
    )


def _case(number: int, cause: dict[str, str], code: str = "k1") -> Case:
    return Case(
        id=f"case-{number}",
        name="A job",
        on="2026-01-01",
        by="AA",
        family="unit",
        code=code,
        found="It was so.",
        cause=cause,
        cure="Mended.",
        minutes="30",
    )


def test_a_hand_worked_example_of_shares_with_past_jobs() -> None:
    """Authored weights 5, 3, 2 of 10 make 0.5, 0.3, 0.2 and count as ten jobs: 5, 3, 2.

    Six jobs of this code: four times the sensor, once the plug, once something else (a mouse).
    The mouse is no suspect, so it counts in "of 6 here" and in no share.
        sensor (5 + 4)/(10 + 5) = 0.6      0.6/12 = 0.0500 a minute
        plug   (3 + 1)/15       = 0.26667  0.26667/4 = 0.0667 a minute, so first
        board  (2 + 0)/15       = 0.13333  0.13333/20 = 0.0067 a minute
    Expected: 0.26667·4 + 0.6·(4 + 12) + 0.13333·(4 + 12 + 20) = 1.06667 + 9.6 + 4.8 = 15.46667 min.
    """
    cases = [_case(i, {"sensor": "suction"}) for i in range(4)]
    cases += [_case(4, {"what": "wet plug"}), _case(5, {"what": "a mouse"})]
    cases += [_case(6, {"sensor": "suction"}, code="another")]
    ranking = rank_suspects(_code(), cases=cases)
    assert [one.suspect.key for one in ranking.suspects] == [
        ("what", "wet plug"),
        ("sensor", "suction"),
        ("part", "board"),
    ]
    assert [one.share for one in ranking.suspects] == pytest.approx([4 / 15, 9 / 15, 2 / 15])
    assert [(one.cases, one.of_cases) for one in ranking.suspects] == [(1, 6), (4, 6), (0, 6)]
    assert ranking.expected_min == pytest.approx(15.46667, abs=5e-6)


def test_without_past_jobs_the_authored_shares_stand() -> None:
    ranking = rank_suspects(_code(), cases=[])
    assert {one.suspect.key[1]: one.share for one in ranking.suspects} == pytest.approx(
        {"suction": 0.5, "wet plug": 0.3, "board": 0.2}
    )
    assert {one.of_cases for one in ranking.suspects} == {0}


def worked_minutes(order: Sequence[int], *, shares: list[float], minutes: list[int]) -> float:
    """Return the minutes expected until the fault is found, worked out step by step."""
    spent = total = 0.0
    for i in order:
        spent += minutes[i]
        total += shares[i] * spent
    return total


@pytest.mark.parametrize("count", range(1, 9))
def test_no_other_order_finds_the_fault_sooner(count: int) -> None:
    """Against brute force over every order: for eight suspects that is 40,320 of them."""
    rng = random.Random(count)
    for _ in range(3 if count < 8 else 1):
        shares = [rng.random() + 0.01 for _ in range(count)]
        shares = [one / sum(shares) for one in shares]
        minutes = [rng.choice([2, 4, 5, 10, 15, 20, 45]) for _ in range(count)]
        best = min(
            worked_minutes(order, shares=shares, minutes=minutes)
            for order in itertools.permutations(range(count))
        )
        ours = order_checks(shares, minutes=minutes)
        assert sorted(ours) == list(range(count))
        worked = worked_minutes(ours, shares=shares, minutes=minutes)
        assert worked == pytest.approx(best, rel=1e-12)
        assert expected_minutes(shares, minutes=minutes, order=ours) == pytest.approx(best)
