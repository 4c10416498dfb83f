"""An unmarked sensor on the floor of answers: pairs as typed, a ranking, and what to do next."""

from __future__ import annotations

import math

import pytest

from kb.answers.instruments import NamedMeter, Tools
from kb.answers.which import WhichAnswer, WhichQuestion, answer_which
from kb.numbers.characteristic import Characteristic
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.tolerance import SpreadTolerance

METER = NamedMeter(
    id="pocket",
    name="Pocket",
    meter=Meter(ranges=(OhmRange(span_ohm=40e3, resolution_ohm=10, percent=0.5, digits=2),)),
)


def curve(r_ref: float, low_c: float = -20.0, high_c: float = 80.0) -> Characteristic:
    tolerance = SpreadTolerance(r_fraction=0.01, at_c=25.0, b_fraction=0.01, b_k=3500)
    law = NtcBeta(r_ref=r_ref, b_k=3500)
    return Characteristic(law=law, low_c=low_c, high_c=high_c, tolerance=tolerance)


CURVES = {"five": curve(5e3), "ten": curve(10e3), "like-ten": curve(10.1e3)}


def asked(*pairs: tuple[str, str], curves: dict | None = None, unit: str = "C") -> WhichAnswer:
    curves = curves or CURVES
    return answer_which(
        WhichQuestion(
            curves=curves,
            names={name: name.upper() for name in curves},
            pairs=pairs,
            unit=unit,
            tools=Tools(meter=METER, thermometer=None, placement="ice-water"),
        )
    )


def ids(answer: WhichAnswer) -> list[str]:
    return [statement.id for statement in answer.advice]


def test_nothing_typed_and_half_a_pair_are_no_fault():
    assert ids(asked(("", ""))) == ["which.no-pair"]
    assert ids(asked(("", ""), ("25", " "))) == ["which.half-pair"]
    assert asked(("25", "")).pairs[0].refusal is None


def test_only_one_fits_and_one_more_reading_makes_sure():
    assert ids(asked(("25", "5k"))) == ["which.only", "which.one-more"]
    answer = asked(("25", "5k"), ("77F", "5k"))
    assert ids(answer) == ["which.only"]
    assert (answer.state, answer.title.figures) == ("within", {"curve": "FIVE"})
    assert answer.unit == "C"


def test_two_that_never_part_are_both_named():
    answer = asked(("25", "10.05k"))
    assert (answer.state, ids(answer)) == (
        "undecided",
        ["which.not-told-apart", "which.never-part"],
    )
    assert {each.curve for each in answer.fitting} == {"ten", "like-ten"}


def test_two_that_share_no_temperature_are_parted_where_only_one_holds():
    curves = {"cold": curve(10e3, high_c=25.0), "warm": curve(10e3, low_c=25.0)}
    assert ids(asked(("25", "10k"), curves=curves))[-1] == "which.no-shared"


def test_none_fits():
    answer = asked(("25", "20k"), ("50", "30k"))
    assert (answer.state, ids(answer)) == ("outside", ["which.none"])
    assert answer.fitting == ()


@pytest.mark.parametrize(
    ("pair", "refusal", "field"),
    [
        (("25", "OL"), "which.over-range", "reading"),
        (("25", "41k"), "which.over-range", "reading"),
        (("25", "10m"), "field.unreadable", "reading"),
        (("warm", "10k"), "field.unreadable", "at"),
    ],
)
def test_a_pair_that_cannot_be_taken_is_refused_in_its_place_and_the_rest_counts(
    pair, refusal, field
):
    answer = asked(pair, ("25", "5k"))
    assert (answer.pairs[0].refusal.id, answer.pairs[0].field) == (refusal, field)
    assert answer.fitting[0].curve == "five"


def test_what_a_reading_does_not_reach_is_last():
    answer = asked(("70", "1.06k"), curves={"ten": curve(10e3, high_c=50.0), "five": curve(5e3)})
    assert answer.missing[-1].curve == "ten"
    assert answer.missing[-1].statement.id == "which.unreached"
    assert math.isinf(answer.missing[-1].candidate.worst_k)
