"""What is known beside an undecided verdict: what is ruled out, what to believe, what to read next."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kb.answers.instruments import Kit, Tools
from kb.answers.reading import answer_reading
from kb.answers.reading_excluded import UnderCode
from kb.answers.statement import Refusal
from kb.numbers.believed import fault_share

from .test_reading import NTC, STRAPPED, ask, meter, probe

HELD = Tools(meter=meter("pocket"), thermometer=probe("probe"), placement="held-on")
KIT = Kit(meters=(meter("bench", percent=0.05),), thermometers=(probe("fine", accuracy_k=0.01),))


def beside(sister, **tools):
    return Tools(
        meter=meter("pocket"), thermometer=None, placement="sister", sister=sister, **tools
    )


def ids(statements):
    return [statement.id for statement in statements]


def test_what_is_not_decided_is_at_most_so_far_off():
    answer = answer_reading(ask("10.05k", "0", tools=STRAPPED, allow_k=0.2))
    assert answer.state == "undecided"
    (excluded,) = answer.excluded.statements
    assert (excluded.id, excluded.figures["sure_share"]) == ("reading.at-most", 0.95)
    verdict = answer.verdict
    assert excluded.figures["most_k"] == abs(verdict.error_k) + verdict.uncertainty_k
    assert answer.excluded.low_k == verdict.error_k - verdict.uncertainty_k


@pytest.mark.parametrize(
    ("needs_k", "state", "words"),
    [
        ((30.0,), "out", ["reading.code-out"]),
        ((-30.0, 30.0), "out", ["reading.code-out"]),
        ((0.1,), "in", ["reading.code-in"]),
        ((2.5,), "open", []),
        ((-2.5,), "out", ["reading.code-out"]),
    ],
)
def test_what_the_code_needs_is_ruled_in_or_out(needs_k, state, words):
    # It reads 2.1 K hotter, and some 1.7 K are open.
    answer = answer_reading(
        ask("9.0k", tools=HELD, allow_k=2.5, more={"under": UnderCode(needs_k=needs_k)})
    )
    assert answer.state == "undecided"
    assert {limit.name: limit.state for limit in answer.excluded.limits}["code"] == state
    of_code = [words for words in ids(answer.excluded.statements) if "code" in words]
    assert of_code == words


def test_a_sensor_outside_its_limits_may_still_not_be_why_the_code_is_shown():
    under = {"under": UnderCode(needs_k=(-20.0, 20.0), share=0.5)}
    answer = answer_reading(ask("8k", tools=HELD, more=under))
    assert answer.state == "outside"
    assert ids(answer.excluded.statements) == ["reading.code-out"]


def test_what_to_believe_is_said_only_where_the_notes_say_what_to_believe_before():
    def believed(**under):
        answer = answer_reading(
            ask("9.2k", tools=HELD, allow_k=2.0, more={"under": under and UnderCode(**under)})
        )
        assert answer.state == "undecided"
        return [words for words in answer.excluded.statements if "believed" in words.id]

    assert believed() == believed(share=0.0) == []
    (alone,) = believed(share=0.6)
    assert alone.id == "reading.believed"
    (beside_rival,) = believed(share=0.6, rival="a wet plug", rival_share=0.3)
    figures = beside_rival.figures
    assert figures["before_share"] == 0.6
    assert figures["after_share"] + figures["sound_share"] == pytest.approx(1)
    assert figures["rival_share"] == pytest.approx(figures["sound_share"] * 0.3 / 0.4)


def test_of_readings_alike_so_many_are_at_fault_as_is_believed():
    rng = np.random.default_rng(11)
    count, limit_k, largest_k, halves_k, before = 400_000, 2.0, 50.0, [0.3, 0.5, 1.5], 0.6
    fault = rng.random(count) < before
    size_k = limit_k * (largest_k / limit_k) ** rng.random(count)
    true_k = np.where(
        fault, size_k * rng.choice((-1, 1), count), rng.uniform(-limit_k, limit_k, count)
    )
    read_k = true_k + sum(half_k * rng.uniform(-1, 1, count) for half_k in halves_k)
    for error_k in (0.5, 2.0, -2.5, 3.2):
        alike = np.abs(read_k - error_k) < 0.1
        believed = fault_share(
            error_k, limit_k=limit_k, half_widths_k=halves_k, before=before, largest_k=largest_k
        )
        assert believed == pytest.approx(np.mean(fault[alike]), abs=0.03)


def test_what_to_read_next_is_ranked_by_minutes_for_a_decision():
    answer = answer_reading(
        ask("9.1k", tools=HELD, allow_k=2.0, more={"kit": KIT}, sisters=("R2",))
    )
    ways = answer.settling.ways
    assert 1 < len(ways) <= 3
    costs = [way.minutes / way.chance for way in ways]
    assert costs == sorted(costs)
    assert all(0.2 <= way.chance <= 1 for way in ways)
    # None is shown that another betters in both.
    for way in ways:
        assert not any(
            o.minutes <= way.minutes and o.chance >= way.chance for o in ways if o is not way
        )


def test_without_a_sister_none_is_offered_and_where_nothing_decides_it_is_said():
    def ways(**facts):
        more = {"kit": KIT}
        answer = answer_reading(ask("9.1k", tools=HELD, allow_k=2.0, more=more, **facts))
        return {way.placement for way in answer.settling.ways}

    assert "sister" not in ways()
    coarse = Tools(meter=meter("coarse", percent=9.0), thermometer=probe("probe"), placement="air")
    nothing = answer_reading(ask("10.3k", tools=coarse)).settling
    assert (nothing.ways, nothing.otherwise.id) == ((), "settling.nothing")


def test_beside_a_sister_no_temperature_is_asked_and_the_meters_gain_cancels():
    answer = answer_reading(ask("10k", "", tools=beside("10k"), allow_k=2.0))
    assert (answer.state, answer.verdict.error_k) == ("within", pytest.approx(0, abs=1e-9))
    assert ids(answer.beside) == ["reading.sister"]
    # Of the meter two digits are left; taken alone the gain would be a tenfold of it.
    alone = answer_reading(ask("10k", "0", tools=HELD, allow_k=2.0))
    assert answer.verdict.terms_k["meter"] < alone.verdict.terms_k["meter"] / 10
    assert answer.verdict.terms_k["thermometer"] == pytest.approx(0.5 / 3**0.5)
    bad = answer_reading(ask("7k", "", tools=beside("10k")))
    assert (bad.state, ids(bad.beside)[-1]) == ("outside", "reading.sister-or-this")


@pytest.mark.parametrize(
    ("sister", "why", "missing"),
    [("", "missing", True), ("OL", "off-curve", False), ("3", "off-curve", False)],
)
def test_a_sister_that_reads_nothing_of_its_curve_is_no_reference(sister, why, missing):
    with pytest.raises(Refusal) as refused:
        answer_reading(ask("10k", "", tools=beside(sister)))
    assert (refused.value.field, refused.value.statement.id) == ("sister", f"field.sister-{why}")
    assert refused.value.missing is missing


def test_a_sister_whose_curve_is_not_at_hand_is_not_held_to_another():
    with pytest.raises(Refusal) as refused:
        answer_reading(ask("10k", "", tools=beside("10k", sister_curve="five")))
    assert refused.value.statement.id == "field.sister-curve-away"
    own = answer_reading(ask("10k", "", tools=beside("10k", sister_curve=NTC.id)))
    assert own.state == answer_reading(ask("10k", "", tools=beside("10k"))).state


def test_a_sister_of_another_curve_has_the_meters_gain_but_little_of_it():
    other = replace(NTC, law=replace(NTC.law, r_ref=5e3, b_k=3900.0))
    tools = beside("5k", sister_curve="five")
    answer = answer_reading(ask("10k", "", tools=tools, allow_k=2.0, family_curves={"five": other}))
    assert answer.state == "within"
    same = answer_reading(ask("10k", "", tools=beside("10k"), allow_k=2.0))
    assert answer.verdict.terms_k["meter"] > same.verdict.terms_k["meter"]
