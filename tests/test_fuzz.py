"""Whatever comes from outside ends in an answer: all that was ever found, and fresh inputs by a seed.

The long run is tests/bench/bench_fuzz.py. What must hold is in tests/fuzz/watch.py and in each
target: no traceback, nothing over two seconds or far beyond the usual memory, nothing opened
outside, each fault placed and with a hint, and nothing that check passes and a build or pack refuses.
"""

from __future__ import annotations

import pytest

from tests.fuzz.fuzzing import TARGETS, Fuzzing, corpus, tried
from tests.fuzz.watch import watched

SEED = 16
FRESH = {"note": 40, "sheet": 4, "case": 6, "photo": 150, "copy": 15}
"""Inputs of each target: as many as a few seconds hold."""


@pytest.fixture(scope="module", params=TARGETS)
def target(request, tmp_path_factory):
    return TARGETS[request.param](tmp_path_factory.mktemp("fuzz").resolve())


def test_what_was_ever_found_is_answered_now(target):
    found = {file.name: tried(target, file.read_bytes()) for file in corpus(target.name)}
    assert {
        name: [(each.rule, each.words) for each in all_] for name, all_ in found.items() if all_
    } == {}


def test_fresh_inputs_are_answered(target):
    fuzzing = Fuzzing(target, SEED)
    found = [(each.rule, each.words, each.raw) for each in fuzzing.more(FRESH[target.name])]
    assert (fuzzing.tried, found) == (FRESH[target.name], [])


def test_sound_inputs_break_nothing(target):
    seeds = target.seeds()[:2]
    assert [tried(target, raw) for raw in seeds] == [[]] * len(seeds)


@pytest.mark.parametrize("rule", ["traceback", "broken", "outside", "memory"])
def test_a_fault_would_be_seen(tmp_path, rule):
    def faulty(raw):
        if rule == "traceback":
            raise ValueError("a fault")
        if rule == "outside":
            (tmp_path / "away").write_bytes(raw)
        if rule == "memory":
            bytearray(600_000_000)
        yield from ["a fault"] * (rule == "broken")

    (tmp_path / "inside").mkdir()
    found = watched(faulty, b"", target="note", inside=tmp_path / "inside")
    assert [finding.rule for finding in found] == [rule]
