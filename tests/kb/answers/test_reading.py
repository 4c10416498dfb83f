"""One reading of one sensor: what decides, what follows, on every border of the question."""

from __future__ import annotations

import pytest

from kb.answers.instruments import NamedMeter, NamedThermometer, Tools
from kb.answers.reading import ReadingQuestion, answer_reading, ohm_digits
from kb.answers.reading_expected import expected_reading
from kb.answers.sensor_facts import SensorFacts
from kb.answers.statement import Refusal
from kb.numbers.characteristic import Characteristic
from kb.numbers.grid import compile_grid
from kb.numbers.meter import Meter, OhmRange
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.platinum import Platinum
from kb.numbers.thermometer import Thermometer
from kb.numbers.tolerance import KelvinTolerance, NoTolerance

NTC = Characteristic(
    law=NtcBeta(r_ref=10e3, at_c=0.0, b_k=3435.0),
    tolerance=KelvinTolerance(kelvin=0.5),
    low_c=-40.0,
    high_c=110.0,
    id="ten",
)
OTHER = Characteristic(
    law=NtcBeta(r_ref=5e3, at_c=0.0, b_k=3435.0),
    tolerance=KelvinTolerance(kelvin=0.5),
    low_c=-40.0,
    high_c=110.0,
    id="five",
)
UNKNOWN = Characteristic(
    law=NtcBeta(r_ref=10e3, at_c=0.0, b_k=3435.0),
    tolerance=NoTolerance(),
    low_c=-40.0,
    high_c=110.0,
    id="unknown",
)
PLATINUM = Characteristic(
    law=Platinum(r0=100.0),
    tolerance=KelvinTolerance(kelvin=0.3),
    low_c=-50.0,
    high_c=200.0,
    id="pt",
)


def meter(name: str, *, span_ohm: float = 40e6, percent: float = 0.5) -> NamedMeter:
    ranges = (OhmRange(span_ohm=span_ohm, resolution_ohm=1.0, percent=percent, digits=2),)
    return NamedMeter(id=name, name=f"The {name}", meter=Meter(ranges=ranges, leads_ohm=0.0))


def probe(name: str, *, accuracy_k: float = 0.5, high_c: float = 300.0) -> NamedThermometer:
    thermometer = Thermometer(
        accuracy_k=accuracy_k, percent=0.0, resolution_k=0.1, low_c=-50.0, high_c=high_c
    )
    return NamedThermometer(id=name, name=f"The {name}", thermometer=thermometer)


PERFECT = Tools(meter=None, thermometer=None, placement="ice-water")
STRAPPED = Tools(meter=None, thermometer=None, placement="strapped")


def ask(reading, at="0", *, curve=NTC, tools=PERFECT, more=None, **facts):
    sensor = SensorFacts(curve=curve, curve_id=curve.id, **facts)
    return ReadingQuestion(sensor=sensor, reading=reading, at=at, tools=tools, **(more or {}))


@pytest.mark.parametrize(
    ("reading", "has", "field"),
    [
        ("10k", ("when_good", "when_bad", "when_open", "when_short"), "when_good"),
        ("20k", ("when_good", "when_bad", "when_open", "when_short"), "when_bad"),
        ("OL", ("when_good", "when_bad", "when_open", "when_short"), "when_open"),
        ("0", ("when_good", "when_bad", "when_open", "when_short"), "when_short"),
        ("90M", ("when_good", "when_bad", "when_open", "when_short"), "when_bad"),
        ("OL", ("when_good", "when_bad"), "when_bad"),
        ("0", ("when_good", "when_bad"), "when_bad"),
        ("OL", ("when_good",), ""),
        ("10k", ("when_bad",), ""),
    ],
)
def test_what_to_do_is_the_entrys_own_word_for_that_verdict(reading, has, field):
    assert answer_reading(ask(reading, instructions=has)).next.instruction == field


def test_after_a_repair_a_good_reading_is_proved_and_a_bad_one_is_not():
    repaired = {"after_repair": True}
    assert answer_reading(
        ask("10k", instructions=("when_good",), more=repaired)
    ).next.instruction == ("proved")
    assert answer_reading(
        ask("20k", instructions=("when_bad",), more=repaired)
    ).next.instruction == ("when_bad")


@pytest.mark.parametrize(
    ("reading", "at", "field", "why", "missing"),
    [
        ("", "", "at", "field.temperature-missing", True),
        ("10k", "", "at", "field.temperature-decides", True),
        ("10k", "warm", "at", "field.unreadable", False),
        ("10k", "110.1", "at", "field.beyond-curve", False),
        ("", "0", "reading", "field.reading-missing", True),
        ("a lot", "0", "reading", "field.unreadable", False),
    ],
)
def test_a_question_without_an_answer_names_its_field(reading, at, field, why, missing):
    with pytest.raises(Refusal) as refused:
        answer_reading(ask(reading, at, tools=STRAPPED))
    assert (refused.value.field, refused.value.statement.id) == (field, why)
    assert refused.value.missing is missing


def test_the_ends_of_a_curve_belong_to_it():
    for at in ("-40", "110"):
        assert answer_reading(ask("OL", at, tools=STRAPPED)).state == "open"


def test_a_thermometer_answers_for_its_own_range_only():
    tools = Tools(meter=None, thermometer=probe("probe", high_c=60.0), placement="strapped")
    assert answer_reading(ask("3k", "60", tools=tools)).t_c == 60
    with pytest.raises(Refusal) as refused:
        answer_reading(ask("3k", "60.1", tools=tools))
    assert refused.value.field == "thermometer"
    assert refused.value.statement.figures["instrument"] == "The probe"


@pytest.mark.parametrize("at", ["32F", "32 °F", "32f"])
def test_an_answer_comes_back_in_the_unit_that_was_typed(at):
    answer = answer_reading(ask("10k", at))
    assert (answer.unit, answer.t_c, answer.state) == ("F", pytest.approx(0, abs=1e-9), "within")
    assert answer_reading(ask("10k", "32", more={"unit": "F"})).unit == "F"
    assert answer_reading(ask("10k", "0 C", more={"unit": "F"})).unit == "C"


def test_over_range_is_open_only_where_the_meter_reaches_a_good_part():
    short = Tools(meter=meter("short", span_ohm=20e3), thermometer=None, placement="strapped")
    assert answer_reading(ask("OL", "0", tools=short)).state == "open"
    cold = answer_reading(ask("OL", "-20", tools=short))
    assert (cold.state, cold.headline.id) == ("undecided", "reading.over-range")
    # What no meter of that range can have shown is over range too.
    assert answer_reading(ask("21k", "0", tools=short)).state == "open"


@pytest.mark.parametrize(
    ("reading", "curve", "why"),
    [
        ("10.05k", NTC, "reading.within-colder"),
        ("9.95k", NTC, "reading.within-hotter"),
        ("10.0001k", NTC, "reading.within-same"),
        ("20k", NTC, "reading.outside-colder"),
        ("5k", NTC, "reading.outside-hotter"),
        ("10.05k", UNKNOWN, "reading.unknown-limit-colder"),
        ("9.95k", UNKNOWN, "reading.unknown-limit-hotter"),
        ("10.0001k", UNKNOWN, "reading.unknown-limit-same"),
        ("3", NTC, "reading.short"),
        ("OL", NTC, "reading.open"),
        ("90M", NTC, "reading.off-curve"),
    ],
)
def test_each_verdict_has_its_reason(reading, curve, why):
    assert answer_reading(ask(reading, curve=curve)).headline.id == why


def test_where_nobody_knows_the_limit_an_open_circuit_names_one_figure_and_no_band():
    low_ohm, high_ohm = answer_reading(ask("OL", curve=UNKNOWN)).headline.figures["expected_ohm"]
    assert low_ohm == high_ohm


def test_a_curve_of_the_family_stands_before_others_and_what_is_not_told_apart_is_one_line():
    others = {"family_curves": {"five": OTHER}, "other_curves": {"elsewhere": OTHER}}
    facts = {"labels": {"five": ("R2",)}, **others}
    answer = answer_reading(ask("5k", tools=STRAPPED, **facts))
    assert [explained.statement.id for explained in answer.explanations] == [
        "explanation.family-curve",
        "explanation.other-curve",
    ]
    # In a cup one sees whose it is: a wrong part may be there, and no exchanged plug.
    in_cup = answer_reading(ask("5k", **facts)).explanations
    assert {explained.statement.id for explained in in_cup} == {"explanation.other-curve"}
    assert answer.explanations[0].statement.figures["labels"] == ["R2"]
    drifted = answer_reading(ask("12k"))
    (line,) = drifted.explanations
    assert (line.statement.id, line.tell.id) == (
        "explanation.several",
        "tell.several-series-resistance",
    )
    causes = [cause.id for cause in line.statement.figures["causes"]]
    assert causes == ["explanation.series-resistance", "explanation.drift"]


def test_nothing_is_explained_that_needs_no_explanation():
    family = {"family_curves": {"twin": NTC}, "labels": {"twin": ("R2",)}}
    assert answer_reading(ask("10k", **family)).explanations == ()


def test_metal_is_told_with_a_digit_more():
    assert (ohm_digits(NTC), ohm_digits(PLATINUM)) == (4, 5)
    assert answer_reading(ask("109.7", curve=PLATINUM)).digits == 5


def test_before_a_reading_it_says_what_to_expect():
    expected = expected_reading(ask("", allow_k=2.0, pull_up_ohm=10e3, supply_v=5.0))
    assert expected.r_ohm == pytest.approx(10e3)
    assert expected.machine_ohm[0] < expected.part_ohm[0] < 10e3 < expected.part_ohm[1]
    assert expected.part_ohm[1] < expected.machine_ohm[1]
    # A sensor equal to the pull-up halves the supply.
    assert expected.plug_v == pytest.approx(2.5)
    assert [statement.id for statement in expected.statements] == [
        "reading.expect",
        "reading.expect-part",
        "reading.expect-machine",
        "reading.expect-volts",
    ]


def test_an_allowance_no_wider_than_the_part_is_not_told_beside_it():
    assert expected_reading(ask("", allow_k=0.5)).machine_ohm is None
    assert expected_reading(ask("", curve=UNKNOWN)).part_ohm is None


def unsaid(**tools):
    return Tools(meter=None, thermometer=None, placement="", **tools)


@pytest.mark.parametrize(
    ("reading", "state", "headline"),
    [
        ("OL", "open", "reading.open"),
        ("2", "short", "reading.short"),
        ("90M", "off-curve", "reading.off-curve"),
        ("50k", "outside", "reading.outside-anywhere-colder"),
        ("500", "outside", "reading.outside-anywhere-hotter"),
    ],
)
def test_where_every_temperature_says_the_same_none_is_asked_for(reading, state, headline):
    answer = answer_reading(ask(reading, "", tools=unsaid(), meets_c=(-20.0, 60.0), allow_k=1.0))
    assert (answer.state, answer.headline.id, answer.t_c) == (state, headline, None)
    assert [statement.id for statement in answer.beside] == ["reading.anywhere"]
    # And a temperature, however it was taken, says the same.
    for at in ("-20", "0", "60"):
        for placement in ("ice-water", "air") if at == "0" else ("strapped", "air"):
            tools = Tools(meter=None, thermometer=probe("probe"), placement=placement)
            timed = answer_reading(
                ask(reading, at, tools=tools, meets_c=(-20.0, 60.0), allow_k=1.0)
            )
            assert timed.state == state


def test_what_a_good_part_may_read_somewhere_asks_for_the_temperature():
    for reading in ("10k", "28k", "1k"):
        with pytest.raises(Refusal) as refused:
            answer_reading(ask(reading, "", tools=unsaid(), meets_c=(-20.0, 60.0)))
        assert (refused.value.field, refused.value.missing) == ("at", True)


def test_over_range_asks_for_the_temperature_where_the_meter_may_not_reach():
    small = Tools(meter=meter("small", span_ohm=30e3), thermometer=None, placement="")
    assert answer_reading(ask("OL", "", tools=small, meets_c=(0.0, 60.0))).state == "open"
    with pytest.raises(Refusal):
        answer_reading(ask("OL", "", tools=small, meets_c=(-20.0, 60.0)))


def test_how_the_temperature_was_taken_is_asked_only_where_it_decides():
    by_probe = Tools(meter=None, thermometer=probe("probe"), placement="")
    answer = answer_reading(ask("20k", "0", tools=by_probe, allow_k=2.0))
    assert answer.state == "outside"
    assert [statement.id for statement in answer.beside] == ["reading.any-placement"]
    with pytest.raises(Refusal) as refused:
        answer_reading(ask("10.6k", "0", tools=by_probe, allow_k=2.0))
    assert (refused.value.field, refused.value.statement.id) == ("how", "field.placement-missing")


def test_stirred_ice_is_a_temperature_and_is_no_other():
    iced = answer_reading(ask("10k", ""))
    assert iced.t_c == 0
    with pytest.raises(Refusal) as refused:
        answer_reading(ask("10k", "20"))
    assert refused.value.statement.id == "field.not-ice"


def test_stirred_ice_is_its_own_reference_and_no_thermometer_counts():
    # What a thermometer shows in the cup is the thermometer's own error.
    iced = answer_reading(ask("10k", "0.4"))
    assert iced.t_c == 0
    assert iced.verdict.terms_k["thermometer"] == 0
    # ± 0.1 K for tap water and a cup (common practice), rectangular.
    assert iced.verdict.terms_k["placement"] == pytest.approx(0.1 / 3**0.5)


@pytest.mark.parametrize(
    ("typed", "choices"),
    [
        ("1", ["OL", "1.0"]),
        ("1.", ["OL", "1.0"]),
        (" 1 ", ["OL", "1.0"]),
        ("---", ["OL", ""]),
        ("– –", ["OL", ""]),
    ],
)
def test_what_many_meters_show_for_over_range_is_asked_and_not_called_a_short(typed, choices):
    with pytest.raises(Refusal) as refused:
        answer_reading(ask(typed, "0"))
    assert [choice.typed for choice in refused.value.choices] == choices
    assert refused.value.missing is False


def test_one_ohm_that_is_written_as_one_is_a_short():
    for typed in ("1.0", "1 ohm", "1R0"):
        assert answer_reading(ask(typed, "0")).state == "short"


def test_what_tells_stands_before_what_replaces():
    family = {"family_curves": {"five": OTHER}, "labels": {"five": ("R2",)}}
    asked = ask("5k", "0", tools=STRAPPED, instructions=("when_bad",), **family)
    step = answer_reading(asked).next
    assert [statement.id for statement in step.first] == ["tell.family-curve"]
    assert (step.instruction, step.whose) == ("when_bad", "sensor")
    plugged = answer_reading(ask("5k", "0", pull_up_ohm=10e3, instructions=("when_bad",))).next
    assert plugged.first[0].id == "tell.plugged-in"


def test_an_open_circuit_without_words_of_its_own_gets_the_trades_steps_first():
    step = answer_reading(ask("OL", "0", instructions=("when_bad",))).next
    assert [statement.id for statement in step.first] == ["tell.default-open"]
    assert step.instruction == "when_bad"
    own = answer_reading(ask("OL", "0", instructions=("when_open", "when_bad"))).next
    assert (own.first, own.instruction) == ((), "when_open")


def test_what_a_code_says_stands_before_what_the_sensor_says():
    under = {"code_instructions": ("when_good",)}
    step = answer_reading(ask("10k", "0", instructions=("when_good",), more=under)).next
    assert (step.instruction, step.whose) == ("when_good", "code")
    bad = answer_reading(ask("90M", "0", instructions=("when_bad",), more=under)).next
    assert (bad.instruction, bad.whose) == ("when_bad", "sensor")


def test_no_explanation_stands_for_a_temperature_off_its_curve():
    # Where a meter is coarse for another curve its error alone would bridge thousands of kelvin.
    coarse = Tools(meter=meter("coarse", percent=5.0), thermometer=None, placement="strapped")
    family = {"family_curves": {"pt": compile_grid(PLATINUM)}, "labels": {"pt": ("R2",)}}
    assert answer_reading(ask("900k", "0", tools=coarse, **family)).explanations == ()
