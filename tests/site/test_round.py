"""The round of a family on a phone: every sensor held against the rest, kept, copied, cleared."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from kb.check import check_notes
from kb.model import Case, Sensor

ROOT = Path(__file__).resolve().parents[2]
FAMILY = "families/quellmark-rooftop.html"
SENSOR = "sensors/quellmark-coil-out.html"
# At about 21 °C: R1, R4, R5 on one curve, R3 as if at 27 °C.
AT_REST = {"quellmark-return-air": "11.7k", "quellmark-coil-out": "11.6k"}


def _round(page: object) -> object:
    return page.locator('[data-calc="round"]')


def _row(page: object, sensor: str) -> object:
    return page.locator(f'li[data-sensor="{sensor}"]')


def _fill(page: object, readings: dict[str, str]) -> None:
    for sensor, reading in readings.items():
        _row(page, sensor).locator("input").fill(reading)


def _sensors(page: object) -> list[str]:
    rows = page.locator('[data-calc="round"] li[data-sensor]').all()
    return [row.get_attribute("data-sensor") for row in rows]


def _at_one_temperature(page: object, t_c: float) -> dict[str, str]:
    """What every sensor of the round reads at one temperature, by the page's own grids."""
    return {
        row.get_attribute("data-sensor"): page.evaluate(
            "([curve, t]) => String(Ohm.gridOf(curve).ohm(t) + 0.3)",
            [json.loads(row.get_attribute("data-facts"))["curveId"], t_c],
        )
        for row in page.locator('[data-calc="round"] li[data-sensor]').all()
    }


@pytest.fixture()
def family(phone: object, home_file: str) -> object:
    """The family's page, straight from the folder."""
    phone.page.goto(home_file.replace("index.html", FAMILY))
    return phone.page


def test_only_sensors_that_a_meter_can_judge_take_part(family: object) -> None:
    notes = check_notes(ROOT)
    able = {
        one.id
        for one in notes.of(Sensor).values()
        if one.family == "quellmark-rooftop" and one.testable and one.curve
    }
    assert set(_sensors(family)) == able
    assert any(one.untestable for one in notes.of(Sensor).values())


def test_sensors_at_one_temperature_agree_without_a_thermometer(family: object) -> None:
    _fill(family, _at_one_temperature(family, 21.0))
    places = _round(family).locator("output .ohm-verdict").all_inner_texts()
    assert len(places) == 2  # the building's air and outdoor air
    assert all("All agree" in one for one in places)
    assert all("from the middle of all, 21.0 °C." in one.replace("\u00a0", " ") for one in places)
    assert all("Next: At this temperature nothing speaks against them" in one for one in places)


def test_the_one_that_disagrees_with_the_rest_is_named(family: object) -> None:
    readings = _at_one_temperature(family, 21.0)
    readings["quellmark-coil-out"] = family.evaluate(
        "() => String(Ohm.gridOf('ntc-10k-3435').ohm(33))"
    )
    _fill(family, readings)
    assert "Stands out: R4" in _round(family).locator("output").inner_text()
    row = _row(family, "quellmark-coil-out").inner_text().replace("\u00a0", " ")
    assert "Stands out" in row
    assert "It is 12 K hotter than the rest. Next: judge it at its own temperature." in row
    told = {one: _row(family, one).inner_text() for one in readings}
    del told["quellmark-coil-out"]
    assert "it rests in a place of its own" in told.pop("quellmark-discharge")
    assert all("Agrees" in one for one in told.values())


def test_who_rests_alone_is_held_against_nobody_and_broken_all_the_same(family: object) -> None:
    _fill(family, {"quellmark-discharge": "OL"})
    row = _row(family, "quellmark-discharge").inner_text()
    assert "Open circuit" in row
    assert "Not held against the rest: it rests in a place of its own." in row
    said = _round(family).locator("output").inner_text()
    assert "Faulty by itself" in said and "Open circuit: " in said


def test_two_of_a_place_that_differ_ask_for_a_third(family: object) -> None:
    _fill(family, {"quellmark-coil-out": "11.6k", "quellmark-air-out": "9k"})
    said = _round(family).locator("output").inner_text()
    assert "Too few yet" in said
    assert "Fewer than three cannot say who is right." in said
    assert "Read a third one that rests there" in said


def test_two_plugs_put_back_the_wrong_way_round_are_suspected(family: object) -> None:
    readings = _at_one_temperature(family, 21.0)
    assert "exchanged" not in _round(family).locator("output").inner_text()
    one, other = "quellmark-supply-air", "quellmark-return-air"
    readings[one], readings[other] = readings[other], readings[one]
    _fill(family, readings)
    said = _round(family).locator("output").inner_text()
    assert "Plugs exchanged?" in said
    assert "Each reads what the other should: R1 and R2. Look whether their plugs are " in said


def test_open_short_and_unreadable_get_words_and_never_nan(phone: object, family: object) -> None:
    names = _sensors(family)
    _fill(family, dict(zip(names, ["OL", "0.2", "a lot", "6m", "-5"], strict=False)))
    said = [_row(family, name).inner_text() for name in names[:5]]
    assert "Open circuit" in said[0]
    assert "Short circuit" in said[1]
    assert "is not a resistance" in said[2]
    assert "could be milliohms or megohms" in said[3]
    assert "is below zero" in said[4]
    assert _row(family, names[2]).locator("input").get_attribute("aria-invalid") == "true"
    everything = _round(family).inner_text()
    assert "NaN" not in everything and "undefined" not in everything
    assert phone.complaints == []


def test_a_thermometer_turns_standing_into_verdicts(family: object) -> None:
    _fill(family, _at_one_temperature(family, 21.0))
    family.get_by_text("With a thermometer").click()
    family.get_by_label("Temperature where they rest", exact=True).fill("21")
    assert "Within limits" in _row(family, "quellmark-coil-out").inner_text()
    family.get_by_label("Temperature where they rest", exact=True).fill("35")
    assert "Outside limits" in _row(family, "quellmark-coil-out").inner_text()


def test_a_reading_typed_on_the_sensor_page_is_in_the_round_and_the_other_way_round(
    phone: object, served: str
) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    page.get_by_label("Temperature at the sensor", exact=True).fill("7")
    page.get_by_label("Meter shows").fill("20k2")
    page.goto(served + FAMILY)
    row = _row(page, "quellmark-coil-out")
    assert row.locator("input").input_value() == "20k2"
    said = row.inner_text().replace("\u00a0", " ")
    assert "At 7.0 °C as typed on its page, it reads as at 7.1 °C." in said
    row.locator("input").fill("12.1k")
    page.goto(served + SENSOR)
    assert page.get_by_label("Meter shows").input_value() == "12.1k"
    assert phone.complaints == []


def test_the_round_survives_a_closed_browser_and_clears_when_asked(
    phone: object, served: str
) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    _fill(page, AT_REST)
    state = page.context.storage_state()
    again = page.context.browser.new_context(storage_state=state)
    other = again.new_page()
    other.goto(served + FAMILY)
    for sensor, reading in AT_REST.items():
        assert _row(other, sensor).locator("input").input_value() == reading
    other.get_by_role("button", name="Clear the round").click()
    other.reload()
    for sensor in AT_REST:
        assert _row(other, sensor).locator("input").input_value() == ""
    assert other.evaluate("Object.keys(localStorage).filter(k => /typed|round/.test(k))") == []
    again.close()


def test_without_a_clipboard_the_text_stands_there_selected(
    browser: object, home_file: str
) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(
        "Object.defineProperty(Navigator.prototype, 'clipboard', {get: () => undefined});"
        "document.execCommand = () => false;"
    )
    page.goto(home_file.replace("index.html", FAMILY))
    _fill(page, AT_REST)
    page.get_by_role("button", name="Copy as text").click()
    area = page.get_by_label("The round as text")
    text = area.input_value()
    assert (
        page.evaluate(
            "() => { const a = document.activeElement;"
            " return a.value.slice(a.selectionStart, a.selectionEnd); }"
        )
        == text
    )
    assert "copy it with the phone's own menu" in page.locator(".ohm-copied").inner_text()
    assert "round of readings" in text.splitlines()[0]
    assert any(line.startswith("R4: 11.6k. ") for line in text.splitlines())
    context.close()


@pytest.mark.parametrize("with_thermometer", [False, True])
def test_the_copied_case_passes_the_check_as_it_is(
    family: object, tmp_path: Path, *, with_thermometer: bool
) -> None:
    readings = _at_one_temperature(family, 21.0)
    readings["quellmark-coil-out"] = "OL"
    readings["quellmark-return-air"] = "11,7k"
    _fill(family, readings)
    if with_thermometer:
        family.get_by_text("With a thermometer").click()
        family.get_by_label("Temperature where they rest", exact=True).fill("-0.5")
    family.get_by_role("button", name="Copy as a case entry").click()
    text = family.get_by_label("The round as a case entry").input_value()

    for folder in ("docs_data", "content"):
        shutil.copytree(ROOT / folder, tmp_path / folder)
    file = tmp_path / "docs_data/cases/quellmark-rooftop/quellmark-copied.yaml"
    file.write_text(text, encoding="utf-8")
    notes = check_notes(tmp_path)
    assert [one.picture() for one in notes.problems if not one.warning] == []
    case = notes.of(Case)["quellmark-copied"]
    assert {one.sensor for one in case.readings} == set(readings)
    assert case.readings[0].meter == "pocket-meter"
    t_c = {one.t_c for one in case.readings}
    assert t_c == ({-0.5} if with_thermometer else {None})
    assert case.cure.startswith("EDIT ") and case.cause.what.startswith("EDIT ")
