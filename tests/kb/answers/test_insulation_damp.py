"""A reading of a wet surface condemns nobody; how it moved is told as far as it means anything."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kb.answers.insulation import InsulationQuestion, answer_insulation
from kb.answers.insulation_tested import InsulationFacts, InsulationVoltage, NamedTester
from kb.answers.part_cautions import CautionFacts, insulation_essentials
from kb.answers.statement import Refusal
from kb.words.phrase import sentence

MOTOR = InsulationFacts(name="Motor", min_ohm=5e6, test_volts=500.0, wound=True)
LARGE = replace(MOTOR, min_ohm=100e6, form_wound=True, rated_volts=2300.0)
TESTER = NamedTester(
    id="t", name="T", voltages=[InsulationVoltage(volts=500, max_ohm=20e9, percent=3)]
)


def _asked(reading: str, *, at: str = "12", part: InsulationFacts = MOTOR, **typed: str):
    return answer_insulation(
        InsulationQuestion(
            part=part, reading=reading, volts="500", at=at, testers=(TESTER,), **typed
        )
    )


def _first(answer: object) -> str:
    return sentence(answer.headline).replace("\u00a0", " ")


def _notes(answer: object) -> list[str]:
    return [note.id.partition(".")[2] for note in answer.notes]


@pytest.mark.parametrize(
    ("typed", "surface", "why"),
    [
        # Air of 20 °C and 61 % condenses at 12.2 °C.
        ({"air": "20", "humidity": "61"}, "wet", "is not above the dew point of 12.2 °C"),
        ({"air": "20", "humidity": "50 %"}, "near", "is within 3.0 K of the dew point, 9.3 °C"),
        ({"surface": "wet"}, "seen", "was read on a wet or dirty surface"),
    ],
)
def test_too_little_on_a_wet_surface_is_not_decided(typed, surface, why):
    assert _asked("2M").state == "outside"
    answer = _asked("2M", **typed)
    assert (answer.state, answer.surface) == ("undecided", surface)
    assert why in _first(answer)
    assert "give it no power before" in _first(answer)
    assert "damp" not in _notes(answer)


def test_too_little_above_the_dew_point_stays_too_little():
    answer = _asked("2M", air="20", humidity="40")
    assert (answer.state, answer.surface) == ("outside", "dry")
    assert answer.dew_c == pytest.approx(6.0, abs=0.05)
    assert "dew" in _notes(answer)


def test_water_only_lowers_so_enough_stays_enough():
    answer = _asked("50M", air="20", humidity="95")
    assert (answer.state, answer.surface) == ("within", "wet")


def test_nothing_at_all_is_no_damp():
    assert _asked("0", surface="wet").state == "outside"
    assert _asked("0", at="", surface="wet").headline.id == "insulation.outside-nothing"


@pytest.mark.parametrize("seen", ["dry", ""])
def test_dew_counts_whatever_the_eye_saw(seen):
    assert _asked("2M", air="20", humidity="95", surface=seen).surface == "wet"


@pytest.mark.parametrize("typed", [{"air": "20"}, {"humidity": "60"}])
def test_air_without_humidity_tells_nothing(typed):
    answer = _asked("2M", **typed)
    assert (answer.dew_c, answer.surface, answer.state) == (None, "", "outside")


def test_the_dew_point_waits_for_the_windings_temperature():
    answer = _asked("900M", at="", air="20", humidity="60")
    assert (answer.surface, answer.dew_c) == ("", pytest.approx(12.0, abs=0.05))
    assert _notes(answer)[-2:] == ["dew", "dew-waits"]


@pytest.mark.parametrize(
    ("typed", "statement_id", "field"),
    [
        ({"air": "61", "humidity": "60"}, "insulation.no-such-air", "air"),
        ({"air": "warm"}, "field.unreadable", "air"),
        ({"air": "20", "humidity": "0"}, "insulation.no-humidity", "humidity"),
        ({"air": "20", "humidity": "120"}, "insulation.no-humidity", "humidity"),
        ({"at_30s": "25"}, "field.unreadable", "at-30s"),
        ({"at_10min": "x"}, "field.unreadable", "at-10min"),
    ],
)
def test_what_cannot_be_read_names_its_field(typed, statement_id, field):
    with pytest.raises(Refusal) as refused:
        _asked("20M", **typed)
    assert (refused.value.statement.id, refused.value.field) == (statement_id, field)


def test_falling_is_said_in_the_first_sentence_even_where_it_is_enough():
    answer = _asked("50M", at_30s="80M")
    assert (answer.state, answer.trend) == ("within", "falling")
    assert [beside.id for beside in answer.beside] == ["insulation.falling"]


@pytest.mark.parametrize(
    ("reading", "typed", "note"),
    [
        ("50M", {"trend": "rising"}, "rising"),
        ("2M", {"trend": "rising"}, "rising-low"),
        ("50M", {"trend": "flat"}, "flat"),
        ("2M", {"at_15s": "2.1M"}, "flat-low"),
        # A figure says more than a word.
        ("50M", {"at_15s": "20M", "trend": "flat"}, "rising"),
    ],
)
def test_what_rising_and_standing_still_say(reading, typed, note):
    assert note in _notes(_asked(reading, at="40", **typed))


@pytest.mark.parametrize(
    ("part", "reading", "late", "note"),
    [
        (MOTOR, "50M", "150M", "ratio-small"),
        (replace(MOTOR, hermetic=True), "50M", "150M", "ratio-hermetic"),
        (LARGE, "300M", "700M", "ratio-good"),
        (LARGE, "300M", "400M", "ratio-low"),
        (LARGE, "300M", "200M", "ratio-falling"),
        (LARGE, "6G", "9G", "ratio-above"),
    ],
)
def test_ten_minutes_to_one_only_where_it_means_something(part, reading, late, note):
    answer = _asked(reading, at="40", part=part, at_10min=late)
    assert [name for name in _notes(answer) if name.startswith("ratio")] == [note]


@pytest.mark.parametrize(("reading", "late"), [("OL", "50M"), ("50M", "OL"), ("0", "5M")])
def test_there_is_no_ratio_of_what_has_no_figure(reading, late):
    assert _asked(reading, at="40", at_10min=late).ratio is None


def test_a_large_windings_standard_asks_for_more_from_one_kilovolt_up():
    limits = [check.limit_ohm for check in _asked("300M", at="40", part=LARGE).verdict.checks]
    assert limits == [100e6]
    low = replace(LARGE, min_ohm=2e6, rated_volts=690.0)
    checks = _asked("300M", at="40", part=low).verdict.checks
    assert [check.limit_ohm for check in checks] == [2e6, 5e6]


def test_a_winding_in_refrigerant_has_its_own_words_and_cautions():
    hermetic = replace(MOTOR, hermetic=True)
    assert "damp-hermetic" in _notes(_asked("2M", at="40", part=hermetic))
    assert "damp" in _notes(_asked("2M", at="40"))
    ids = [caution.id for caution in insulation_essentials(CautionFacts(hermetic=True))]
    assert {"caution.insulation-vacuum", "caution.insulation-crankcase"} <= set(ids)
    dry = [caution.id for caution in insulation_essentials(CautionFacts())]
    assert not {"caution.insulation-vacuum", "caution.insulation-crankcase"} & set(dry)
