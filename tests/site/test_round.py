"""The round of a family on a phone: each place by itself, every sensor held against its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from kb.check import check_notes
from kb.model import Sensor

from .round_page import (
    FAMILY,
    OUTDOORS,
    at_one_temperature,
    fill,
    job_of,
    open_round,
    place_of,
    row_of,
    says_of,
    sensors_in,
    take,
    the_round,
)

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture()
def family(phone: object, home_file: str) -> object:
    """The family's page, straight from the folder."""
    phone.page.goto(home_file.replace("index.html", FAMILY))
    open_round(phone.page)
    return phone.page


def test_only_sensors_that_a_meter_can_judge_take_part(family: object) -> None:
    notes = check_notes(ROOT)
    able = {
        one.id
        for one in notes.of(Sensor).values()
        if one.family == "quellmark-rooftop" and one.testable and one.curve
    }
    assert set(sensors_in(family)) == able
    assert any(one.untestable for one in notes.of(Sensor).values())


def test_each_place_lists_its_own_sensors_and_asks_for_no_temperature(family: object) -> None:
    titles = the_round(family).locator(".ohm-place h3").all_inner_texts()
    assert titles == ["The building's air", "Outdoor air", "Outdoor air warmed by the heater band"]
    inputs = the_round(family).locator('.ohm-placed input[inputmode="decimal"]').all()
    assert [field.input_value() for field in inputs] == ["", "", ""]
    assert the_round(family).locator(".ohm-placed input:checked").count() == 0
    assert the_round(family).locator('[value="ice-water"]').count() == 0


def test_every_line_leads_to_its_sensor_under_a_glove(family: object) -> None:
    for sensor in sensors_in(family):
        name = row_of(family, sensor).locator("a")
        assert name.get_attribute("href").endswith(f"sensors/{sensor}.html")
        box = name.bounding_box()
        assert min(box["height"], box["width"]) >= 44
        # The link's words name the field, so that a reader hears which sensor it is.
        field = row_of(family, sensor).locator("input")
        assert field.get_attribute("aria-labelledby") == name.get_attribute("id")


def test_sensors_at_one_temperature_agree_without_a_thermometer(family: object) -> None:
    fill(family, at_one_temperature(family, 21.0))
    for place in ("the building's air", OUTDOORS):
        says = says_of(family, place)
        assert "All agree" in says
        assert "agree within " in says
        assert ", at 21.0 °C." in says
        assert "Next: At this temperature nothing speaks against them" in says


def test_the_one_that_disagrees_with_the_rest_is_named(family: object) -> None:
    readings = at_one_temperature(family, 21.0)
    readings["quellmark-coil-out"] = family.evaluate(
        "() => String(Ohm.gridOf('ntc-10k-3435').ohm(33))"
    )
    fill(family, readings)
    says = says_of(family, OUTDOORS)
    assert "Stands out: R4" in says
    assert "Next: Judge R4 at its own temperature, taken beside it." in says
    row = row_of(family, "quellmark-coil-out").inner_text().replace("\u00a0", " ")
    assert "Stands out" in row
    assert "It is 12 K ± 1.4 K hotter than its place." in row
    others = {sensor: row_of(family, sensor).inner_text() for sensor in readings}
    del others["quellmark-coil-out"]
    assert "it rests in a place of its own" in others.pop("quellmark-discharge")
    assert all("Agrees" in words for words in others.values())


def test_who_rests_alone_asks_for_a_temperature_and_is_broken_all_the_same(family: object) -> None:
    place = "outdoor air warmed by the heater band"
    fill(family, {"quellmark-discharge": "20k"})
    assert "Only one rests here" in says_of(family, place)
    assert "Next: Take a temperature beside R7" in says_of(family, place)
    fill(family, {"quellmark-discharge": "OL"})
    row = row_of(family, "quellmark-discharge").inner_text()
    assert "Open circuit" in row
    assert "Not held against the rest: it rests in a place of its own." in row
    assert "Faulty by itself" in says_of(family, place)
    assert "Next: Reseat the plug of R7" in says_of(family, place)


def test_two_of_a_place_that_differ_are_two_groups_and_say_what_would_tell(family: object) -> None:
    fill(family, {"quellmark-coil-out": "11.6k", "quellmark-air-out": "9k"})
    says = says_of(family, OUTDOORS)
    assert "Two groups: either R4 off, and 27.4 °C there; or R5 off, and 21.1 °C there." in says
    step = "Take one temperature beside R5, or read another sensor that rests there: "
    assert f"Next: {step}it tells which group is right." in says
    # One place was read: its own box says it all.
    assert the_round(family).locator(".ohm-round-says .ohm-verdict").count() == 0
    fill(family, {"quellmark-return-air": "11.6k"})
    first = the_round(family).locator(".ohm-round-says .ohm-verdict-why").first.inner_text()
    assert first.replace("\u00a0", " ").startswith(
        f"First, outdoor air: {step[0].lower()}{step[1:]}"
    )


def test_two_halves_accuse_nobody_until_a_temperature_is_taken(family: object) -> None:
    warm, cold = at_one_temperature(family, 31.0), at_one_temperature(family, 21.0)
    halves = {"quellmark-coil-out": cold, "quellmark-air-out": cold}
    halves |= {"quellmark-suction": warm, "quellmark-liquid": warm}
    fill(family, {sensor: readings[sensor] for sensor, readings in halves.items()})
    assert "Two groups" in says_of(family, OUTDOORS)
    assert "R4 and R5 off, and 31.0 °C there" in says_of(family, OUTDOORS)
    assert "R6 and R8 off, and 21.0 °C there" in says_of(family, OUTDOORS)
    assert "Stands out" not in the_round(family).inner_text()
    take(family, OUTDOORS, "21")
    assert "2 stand out" in says_of(family, OUTDOORS)
    assert "Agrees" in row_of(family, "quellmark-coil-out").inner_text()
    assert "Stands out" in row_of(family, "quellmark-liquid").inner_text()


def test_two_plugs_put_back_the_wrong_way_round_are_suspected(family: object) -> None:
    readings = at_one_temperature(family, 21.0)
    assert "exchanged" not in the_round(family).inner_text()
    first, second = "quellmark-supply-air", "quellmark-return-air"
    readings[first], readings[second] = readings[second], readings[first]
    fill(family, readings)
    says = the_round(family).locator(".ohm-round-says").inner_text()
    assert "Plugs exchanged?" in says
    assert "Each reads what the other should: R1 and R2." in says
    assert "Next: Look whether plugs are exchanged, R1 and R2, before you replace anything." in (
        says_of(family, "the building's air")
    )


def test_open_short_and_unreadable_get_words_and_never_nan(phone: object, family: object) -> None:
    names = sensors_in(family)
    fill(family, dict(zip(names, ["OL", "0.2", "a lot", "6m", "-5"], strict=False)))
    says = [row_of(family, name).inner_text() for name in names[:5]]
    assert "Open circuit" in says[0]
    assert "Short circuit" in says[1]
    assert "is not a resistance" in says[2]
    assert "could be milliohms or megohms" in says[3]
    assert "is below zero" in says[4]
    assert row_of(family, names[2]).locator("input").get_attribute("aria-invalid") == "true"
    everything = the_round(family).inner_text()
    assert "NaN" not in everything and "undefined" not in everything
    assert phone.complaints == []


def test_the_temperature_outdoors_never_judges_what_rests_indoors(family: object) -> None:
    readings = at_one_temperature(family, 21.0)
    outdoors = at_one_temperature(family, 8.0)
    indoors = {"quellmark-return-air", "quellmark-supply-air", "quellmark-coil-in"}
    fill(family, {one: (readings if one in indoors else outdoors)[one] for one in readings})
    take(family, OUTDOORS, "8")
    assert ", at 8.0 °C." in says_of(family, OUTDOORS)
    assert ", at 21.0 °C." in says_of(family, "the building's air")
    assert all("Agrees" in row_of(family, sensor).inner_text() for sensor in indoors)
    # Only the readings outdoors were taken at that temperature.
    taken = {one["of"]: one["typed"].get("at") for one in job_of(family)["measurements"]}
    assert {taken[sensor] for sensor in indoors} == {None}
    assert taken["quellmark-coil-out"] == "8"


def test_a_temperature_counts_once_it_is_said_how_it_was_taken(family: object) -> None:
    fill(family, {"quellmark-coil-out": "11.6k"})
    take(family, OUTDOORS, "35", how=None)
    assert "Say how it was taken: until then it does not count." in (
        place_of(family, OUTDOORS).inner_text()
    )
    assert "Stands out" not in row_of(family, "quellmark-coil-out").inner_text()
    take(family, OUTDOORS, "35")
    assert "Stands out" in row_of(family, "quellmark-coil-out").inner_text()
    take(family, OUTDOORS, "warm")
    assert place_of(family, OUTDOORS).locator('[aria-invalid="true"]').count() == 1
    assert "Stands out" not in row_of(family, "quellmark-coil-out").inner_text()


def test_where_all_agree_but_with_the_thermometer_the_temperature_is_doubted(
    family: object,
) -> None:
    fill(family, at_one_temperature(family, 21.0))
    take(family, "the building's air", "8")
    says = says_of(family, "the building's air")
    assert "Doubtful temperature" in says
    assert "Next: Take the temperature again where they rest" in says
    assert "Stands out" not in the_round(family).inner_text()
