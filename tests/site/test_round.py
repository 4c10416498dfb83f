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
OUTDOORS = "outdoor air"
AT_REST = {"quellmark-return-air": "11.7k", "quellmark-coil-out": "11.6k"}


def _round(page: object) -> object:
    return page.locator('[data-calc="round"]')


def _row(page: object, sensor: str) -> object:
    return page.locator(f'li[data-sensor="{sensor}"]')


def _fill(page: object, readings: dict[str, str]) -> None:
    for sensor, reading in readings.items():
        _row(page, sensor).locator("input").fill(reading)


def _place(page: object, place: str) -> object:
    return page.locator(f'.ohm-place[data-place="{place}"]')


def _says(page: object, place: str) -> str:
    return _place(page, place).locator("output").inner_text().replace("\u00a0", " ")


def _take(page: object, place: str, at: str, *, how: str | None = "Held on") -> None:
    """Give a place its temperature."""
    section = _place(page, place)
    if section.locator("details").get_attribute("open") is None:
        section.locator("summary").click()
    section.locator('input[inputmode="decimal"]').fill(at)
    if how:
        section.get_by_text(how, exact=True).click()


def _job(page: object) -> dict:
    """The one job on this phone."""
    return page.evaluate("Ohm.allJobs()[0]")


def _readings(page: object, sensor: str) -> list[dict]:
    return [one["typed"] for one in _job(page)["measurements"] if one["of"] == sensor]


def _open_round(page: object) -> None:
    """Unfold what the page folds around the round."""
    page.evaluate(
        """() => { for (let box = document.querySelector('[data-calc="round"]'); box;
             box = box.parentElement) if (box.tagName === "DETAILS") box.open = true; }"""
    )


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
    _open_round(phone.page)
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


def test_each_place_lists_its_own_sensors_and_asks_for_no_temperature(family: object) -> None:
    titles = _round(family).locator(".ohm-place h3").all_inner_texts()
    assert titles == ["The building's air", "Outdoor air", "Outdoor air warmed by the heater band"]
    inputs = _round(family).locator('.ohm-placed input[inputmode="decimal"]').all()
    assert [field.input_value() for field in inputs] == ["", "", ""]
    assert _round(family).locator(".ohm-placed input:checked").count() == 0
    assert _round(family).get_by_text("Stirred ice").count() == 0


def test_every_line_leads_to_its_sensor_under_a_glove(family: object) -> None:
    for sensor in _sensors(family):
        name = _row(family, sensor).locator("a")
        assert name.get_attribute("href").endswith(f"sensors/{sensor}.html")
        box = name.bounding_box()
        assert min(box["height"], box["width"]) >= 44
        # The link's words name the field, so that a reader hears which sensor it is.
        field = _row(family, sensor).locator("input")
        assert field.get_attribute("aria-labelledby") == name.get_attribute("id")


def test_sensors_at_one_temperature_agree_without_a_thermometer(family: object) -> None:
    _fill(family, _at_one_temperature(family, 21.0))
    for place in ("the building's air", OUTDOORS):
        says = _says(family, place)
        assert "All agree" in says
        assert "from the middle of all, 21.0 °C." in says
        assert "Next: At this temperature nothing speaks against them" in says


def test_the_one_that_disagrees_with_the_rest_is_named(family: object) -> None:
    readings = _at_one_temperature(family, 21.0)
    readings["quellmark-coil-out"] = family.evaluate(
        "() => String(Ohm.gridOf('ntc-10k-3435').ohm(33))"
    )
    _fill(family, readings)
    says = _says(family, OUTDOORS)
    assert "Stands out: R4" in says
    assert "Next: Judge R4 at its own temperature, taken beside it." in says
    row = _row(family, "quellmark-coil-out").inner_text().replace("\u00a0", " ")
    assert "Stands out" in row
    assert "It is 12 K hotter than the rest." in row
    others = {sensor: _row(family, sensor).inner_text() for sensor in readings}
    del others["quellmark-coil-out"]
    assert "it rests in a place of its own" in others.pop("quellmark-discharge")
    assert all("Agrees" in words for words in others.values())


def test_who_rests_alone_asks_for_a_temperature_and_is_broken_all_the_same(family: object) -> None:
    place = "outdoor air warmed by the heater band"
    _fill(family, {"quellmark-discharge": "20k"})
    assert "Only one rests here" in _says(family, place)
    assert "Next: Take a temperature beside R7" in _says(family, place)
    _fill(family, {"quellmark-discharge": "OL"})
    row = _row(family, "quellmark-discharge").inner_text()
    assert "Open circuit" in row
    assert "Not held against the rest: it rests in a place of its own." in row
    assert "Faulty by itself" in _says(family, place)
    assert "Next: Reseat the plug of R7" in _says(family, place)


def test_two_of_a_place_that_differ_ask_for_a_third(family: object) -> None:
    _fill(family, {"quellmark-coil-out": "11.6k", "quellmark-air-out": "9k"})
    says = _says(family, OUTDOORS)
    assert "Too few yet" in says
    assert "Fewer than three cannot say who is right." in says
    assert "Next: Read another that rests there, or take a temperature there." in says


def test_two_halves_accuse_nobody_until_a_temperature_is_taken(family: object) -> None:
    warm, cold = _at_one_temperature(family, 31.0), _at_one_temperature(family, 21.0)
    halves = {"quellmark-coil-out": cold, "quellmark-air-out": cold}
    halves |= {"quellmark-suction": warm, "quellmark-liquid": warm}
    _fill(family, {sensor: readings[sensor] for sensor, readings in halves.items()})
    assert "Two sides" in _says(family, OUTDOORS)
    assert "They fall apart by 10 K: " in _says(family, OUTDOORS)
    assert "Stands out" not in _round(family).inner_text()
    _take(family, OUTDOORS, "21")
    assert "2 stand out" in _says(family, OUTDOORS)
    assert "Agrees" in _row(family, "quellmark-coil-out").inner_text()
    assert "Stands out" in _row(family, "quellmark-liquid").inner_text()


def test_two_plugs_put_back_the_wrong_way_round_are_suspected(family: object) -> None:
    readings = _at_one_temperature(family, 21.0)
    assert "exchanged" not in _round(family).inner_text()
    first, second = "quellmark-supply-air", "quellmark-return-air"
    readings[first], readings[second] = readings[second], readings[first]
    _fill(family, readings)
    says = _round(family).locator(".ohm-round-says").inner_text()
    assert "Plugs exchanged?" in says
    assert "Each reads what the other should: R1 and R2." in says
    assert "Next: Look whether plugs are exchanged, R1 and R2, before you replace anything." in (
        _says(family, "the building's air")
    )


def test_open_short_and_unreadable_get_words_and_never_nan(phone: object, family: object) -> None:
    names = _sensors(family)
    _fill(family, dict(zip(names, ["OL", "0.2", "a lot", "6m", "-5"], strict=False)))
    says = [_row(family, name).inner_text() for name in names[:5]]
    assert "Open circuit" in says[0]
    assert "Short circuit" in says[1]
    assert "is not a resistance" in says[2]
    assert "could be milliohms or megohms" in says[3]
    assert "is below zero" in says[4]
    assert _row(family, names[2]).locator("input").get_attribute("aria-invalid") == "true"
    everything = _round(family).inner_text()
    assert "NaN" not in everything and "undefined" not in everything
    assert phone.complaints == []


def test_the_temperature_outdoors_never_judges_what_rests_indoors(family: object) -> None:
    readings = _at_one_temperature(family, 21.0)
    outdoors = _at_one_temperature(family, 8.0)
    indoors = {"quellmark-return-air", "quellmark-supply-air", "quellmark-coil-in"}
    _fill(family, {one: (readings if one in indoors else outdoors)[one] for one in readings})
    _take(family, OUTDOORS, "8")
    assert "from the thermometer, 8.0 °C." in _says(family, OUTDOORS)
    assert "from the middle of all, 21.0 °C." in _says(family, "the building's air")
    assert all("Agrees" in _row(family, sensor).inner_text() for sensor in indoors)
    # Only the readings outdoors were taken at that temperature.
    taken = {one["of"]: one["typed"].get("at") for one in _job(family)["measurements"]}
    assert {taken[sensor] for sensor in indoors} == {None}
    assert taken["quellmark-coil-out"] == "8"


def test_a_temperature_counts_once_it_is_said_how_it_was_taken(family: object) -> None:
    _fill(family, {"quellmark-coil-out": "11.6k"})
    _take(family, OUTDOORS, "35", how=None)
    assert "Say how it was taken: until then it does not count." in (
        _place(family, OUTDOORS).inner_text()
    )
    assert "Stands out" not in _row(family, "quellmark-coil-out").inner_text()
    _take(family, OUTDOORS, "35")
    assert "Stands out" in _row(family, "quellmark-coil-out").inner_text()
    _take(family, OUTDOORS, "warm")
    assert _place(family, OUTDOORS).locator('[aria-invalid="true"]').count() == 1
    assert "Stands out" not in _row(family, "quellmark-coil-out").inner_text()


def test_where_all_agree_but_with_the_thermometer_the_temperature_is_doubted(
    family: object,
) -> None:
    _fill(family, _at_one_temperature(family, 21.0))
    _take(family, "the building's air", "8")
    says = _says(family, "the building's air")
    assert "Doubtful temperature" in says
    assert "Next: Take the temperature again where they rest" in says
    assert "Stands out" not in _round(family).inner_text()


def test_a_reading_taken_on_the_sensors_page_stays_as_it_was(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    _open_round(page)
    in_ice = {"reading": "28.7k", "at": "0", "how": "ice-water", "meter": "pocket-meter"}
    page.evaluate(
        "typed => Ohm.addMeasurement('quellmark-rooftop', {what: 'reading', "
        "of: 'quellmark-coil-out', typed})",
        in_ice,
    )
    page.reload()
    _open_round(page)
    # What was read in a cup is no part of a machine at rest.
    assert _row(page, "quellmark-coil-out").locator("input").input_value() == ""
    _fill(page, AT_REST)
    own, of_round = _readings(page, "quellmark-coil-out")
    assert own == in_ice
    assert (of_round["reading"], of_round["round"]) == ("11.6k", "yes")
    assert of_round["place"] == OUTDOORS
    page.get_by_role("button", name="Clear the round").click()
    assert _readings(page, "quellmark-coil-out") == [in_ice]
    assert _readings(page, "quellmark-return-air") == []
    assert phone.complaints == []


def test_a_cleared_round_can_be_put_back(family: object) -> None:
    _fill(family, AT_REST)
    _take(family, OUTDOORS, "20.5")
    before = _job(family)["measurements"]
    family.get_by_role("button", name="Clear the round").click()
    cleared = _round(family).locator(".ohm-cleared")
    assert "2 readings of this round are cleared" in cleared.inner_text()
    assert _row(family, "quellmark-coil-out").locator("input").input_value() == ""
    family.get_by_role("button", name="Put them back").click()
    assert _row(family, "quellmark-coil-out").locator("input").input_value() == "11.6k"
    after = _job(family)["measurements"]
    assert [(one["of"], one["typed"], one["time"]) for one in after] == [
        (one["of"], one["typed"], one["time"]) for one in before
    ]
    assert "from the thermometer, 20.5 °C." in _says(family, OUTDOORS)


def test_a_round_after_the_repair_leaves_the_one_before_alone(family: object) -> None:
    _fill(family, AT_REST)
    family.get_by_text("after the repair", exact=True).click()
    assert _row(family, "quellmark-coil-out").locator("input").input_value() == ""
    _fill(family, {"quellmark-coil-out": "11.9k"})
    readings = [
        (one["typed"]["reading"], one["after"])
        for one in _job(family)["measurements"]
        if one["of"] == "quellmark-coil-out"
    ]
    assert readings == [("11.6k", False), ("11.9k", True)]
    family.get_by_text("before the repair", exact=True).click()
    assert _row(family, "quellmark-coil-out").locator("input").input_value() == "11.6k"


def test_a_second_machine_begins_with_an_empty_round(family: object) -> None:
    _fill(family, AT_REST)
    family.evaluate("Ohm.startJob('quellmark-rooftop', {mark: 'right of the lift'})")
    assert _row(family, "quellmark-coil-out").locator("input").input_value() == ""
    _fill(family, {"quellmark-coil-out": "9k"})
    jobs = family.evaluate("Ohm.allJobs().map(({mark, measurements}) => [mark, measurements])")
    readings = {mark: {one["typed"]["reading"] for one in found} for mark, found in jobs}
    assert readings == {"": {"11.7k", "11.6k"}, "right of the lift": {"9k"}}
    family.evaluate("Ohm.chooseJob(Ohm.allJobs().find(({mark}) => !mark).id)")
    assert _row(family, "quellmark-coil-out").locator("input").input_value() == "11.6k"


def test_what_was_taken_in_a_place_is_offered_with_its_age(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    _open_round(page)
    _take(page, OUTDOORS, "8")
    page.reload()
    _open_round(page)
    field = _place(page, OUTDOORS).locator('input[inputmode="decimal"]')
    assert field.input_value() == ""
    offer = _place(page, OUTDOORS).locator(".ohm-kept button")
    assert offer.inner_text().replace("\u00a0", " ") == "8.0 °C, held on, just now"
    assert page.locator(".ohm-kept button:visible").count() == 1
    offer.click()
    _fill(page, {"quellmark-coil-out": "20k"})
    assert "It agrees: " in _says(page, OUTDOORS)
    assert phone.complaints == []


def test_stirred_ice_is_offered_to_no_place(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    page.evaluate(
        "Ohm.keepTemperature('quellmark-rooftop', 'outdoor air',"
        " {t_c: '0', how: 'ice-water', thermometer: ''})"
    )
    page.reload()
    _open_round(page)
    assert page.locator(".ohm-kept button").count() == 0


def test_the_round_survives_a_closed_browser_and_clears_when_asked(
    phone: object, served: str
) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    _open_round(page)
    _fill(page, AT_REST)
    _take(page, OUTDOORS, "20.5")
    state = page.context.storage_state()
    again = page.context.browser.new_context(storage_state=state)
    other = again.new_page()
    other.goto(served + FAMILY)
    _open_round(other)
    for sensor, reading in AT_REST.items():
        assert _row(other, sensor).locator("input").input_value() == reading
    field = _place(other, OUTDOORS).locator('input[inputmode="decimal"]')
    assert field.input_value() == "20.5"
    other.get_by_role("button", name="Clear the round").click()
    other.reload()
    for sensor in AT_REST:
        assert _row(other, sensor).locator("input").input_value() == ""
    assert _job(other)["measurements"] == []
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
    _open_round(page)
    _fill(page, AT_REST)
    _take(page, OUTDOORS, "20.5")
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
    lines = text.splitlines()
    assert "round of readings before the repair" in lines[0]
    place = lines.index("Outdoor air, 20.5 °C (held on):")
    assert lines[place + 1].startswith("R4: 11.6k. Agrees. ")
    assert "The building's air:" in lines[:place]
    assert (
        "Next: At this temperature nothing speaks against them: look for the fault elsewhere."
        in (lines)
    )
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
        _take(family, OUTDOORS, "-0.5")
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
    outdoors = {
        row.get_attribute("data-sensor") for row in _place(family, OUTDOORS).locator("li").all()
    }
    for one in case.readings:
        taken = (-0.5, "held-on") if with_thermometer and one.sensor in outdoors else (None, None)
        assert (one.t_c, one.how) == taken
    assert case.cure.startswith("EDIT ") and case.cause.what.startswith("EDIT ")
