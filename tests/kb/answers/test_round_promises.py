"""What a round promises, on seeded machines with known faults: the demo's families as layouts."""

from __future__ import annotations

import pytest

from tests.bench.bench_round import Tally, tally
from tests.round_machines import Faults

METER = "bench-meter"
COUNT = 60


def shared(part: int, whole: int) -> float:
    assert whole >= 20
    return part / whole


def counted(faults: Faults, *, meter: str = METER, count: int = COUNT) -> Tally:
    return tally(faults, count=count, meter=meter, seed=2024)


@pytest.mark.parametrize("meter", ["bench-meter", "pocket-meter"])
def test_where_all_are_sound_nobody_is_named(meter: str) -> None:
    found = counted(Faults(), meter=meter)
    assert shared(found.accused, found.sound) <= 0.01
    assert found.exchange_wrong == 0


def test_one_that_is_5_k_off_is_named_where_a_majority_tells() -> None:
    found = counted(Faults(drifts_k=(5,)), count=120)
    assert shared(found.decidable_named, found.decidable) >= 0.9
    assert shared(found.accused, found.sound) <= 0.025


def test_with_a_temperature_in_each_place_no_majority_is_needed() -> None:
    found = counted(Faults(drifts_k=(5,), thermometer=True))
    assert shared(found.named, found.drifted) >= 0.9
    assert shared(found.accused, found.sound) <= 0.025


def test_two_that_are_10_k_off_are_both_named_where_a_majority_tells() -> None:
    found = counted(Faults(drifts_k=(10, 10)), count=140)
    assert shared(found.both, found.pairs - found.alike) >= 0.95
    # Two of three that drifted alike outvote the sound one: nobody could tell.
    assert shared(found.accused, found.sound) <= 0.025


def test_exchanged_plugs_that_show_are_listed_and_named_with_temperatures() -> None:
    found = counted(Faults(exchanged=True))
    assert shared(found.exchange_listed, found.exchange_shows) >= 0.9
    assert shared(found.exchange_sure, found.exchange_shows) >= 0.7
    assert shared(found.accused, found.sound) <= 0.025
    measured = counted(Faults(exchanged=True, thermometer=True))
    assert shared(measured.exchange_sure, measured.exchange_shows) >= 0.95


def test_drifted_exchanged_and_open_at_once_accuse_no_sound_one() -> None:
    found = counted(Faults(drifts_k=(10,), exchanged=True, opens=1))
    assert shared(found.accused, found.sound) <= 0.025
    assert shared(found.exchange_listed, found.exchange_shows) >= 0.85
    assert found.exchange_wrong <= COUNT // 20
