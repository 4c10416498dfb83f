"""A job that two cases tell is one fault: it counts once, and only where nothing tells them apart."""

from __future__ import annotations

import pytest

from kb.model import Case
from kb.past_jobs import counted_once, perhaps_same_jobs, same_jobs

READ = {"sensor": "suction", "r": "52k", "t_c": "7"}


def _case(case_id: str, **also: object) -> Case:
    fields = {
        "name": "A job",
        "on": "2026-01-01",
        "by": "AA",
        "family": "unit",
        "code": "k1",
        "found": f"It was so, {case_id}.",
        "readings": [READ],
        "cause": {"sensor": "suction"},
        "cure": "Mended.",
        "minutes": "30",
    }
    return Case(id=case_id, **{**fields, **also})


def test_a_job_told_again_counts_once_whoever_tells_it_in_whatever_words() -> None:
    cases = [_case("a"), _case("b", by="BB", minutes="45", learnt="Look first.")]
    assert same_jobs(cases) == {"b": "a"}
    assert [case.id for case in counted_once(cases)] == ["a"]
    assert perhaps_same_jobs(cases) == {}


@pytest.mark.parametrize(
    "apart",
    [
        {"on": "2026-01-02"},
        {"family": "other"},
        {"code": "k2"},
        {"machine": "the left one"},
        {"readings": [{**READ, "r": "52.1k"}]},
        {"readings": [{**READ, "t_c": "8"}]},
        {"readings": [{**READ, "after": "after"}]},
    ],
)
def test_anything_else_is_another_job(apart: dict[str, object]) -> None:
    cases = [_case("a"), _case("b", **apart)]
    assert (dict(same_jobs(cases)), dict(perhaps_same_jobs(cases))) == ({}, {})


@pytest.mark.parametrize(
    "alike",
    [
        {"cause": {"part": "board"}},
        {"readings": [{"sensor": "suction", "r": "OL"}]},
        {"readings": [{"sensor": "suction", "r": "52k"}]},
        {"readings": [], "found": "It was so."},
    ],
)
def test_what_two_machines_may_share_by_chance_is_asked_about_and_counts_twice(
    alike: dict[str, object],
) -> None:
    shared = {name: value for name, value in alike.items() if name != "cause"}
    cases = [_case("a", **shared), _case("b", **alike)]
    assert perhaps_same_jobs(cases) == {"b": "a"}
    assert len(counted_once(cases)) == 2
