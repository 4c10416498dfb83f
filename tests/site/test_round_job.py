"""The round of a family in the job: kept, told apart from other readings, cleared, handed over."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from kb.check import check_notes
from kb.model import Case

from .round_page import (
    AT_REST,
    FAMILY,
    OUTDOORS,
    at_one_temperature,
    fill,
    job_of,
    open_round,
    place_of,
    readings_of,
    row_of,
    says_of,
    take,
    the_round,
)

ROOT = Path(__file__).resolve().parents[2]
SENSOR = "sensors/quellmark-coil-out.html"


@pytest.fixture()
def family(phone: object, home_file: str) -> object:
    """The family's page, straight from the folder."""
    phone.page.goto(home_file.replace("index.html", FAMILY))
    open_round(phone.page)
    return phone.page


def test_a_reading_taken_on_the_sensors_page_stays_as_it_was(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + SENSOR)
    judge = page.locator('[data-calc="judge"]')
    judge.locator('[for="how-ice-water"]').click()
    judge.locator('[name="reading"]').fill("28.7k")
    (in_ice,) = readings_of(page, "quellmark-coil-out")
    assert (in_ice["reading"], in_ice["at"], in_ice["how"]) == ("28.7k", "0", "ice-water")
    page.goto(served + FAMILY)
    open_round(page)
    # What was read in a cup is no part of a machine at rest.
    assert row_of(page, "quellmark-coil-out").locator("input").input_value() == ""
    fill(page, AT_REST)
    own, of_round = readings_of(page, "quellmark-coil-out")
    assert own == in_ice
    assert (of_round["reading"], of_round["round"]) == ("11.6k", "yes")
    assert of_round["place"] == OUTDOORS
    # Back on its own page the field is empty, and both are listed.
    page.goto(served + SENSOR)
    assert judge.locator('[name="reading"]').input_value() == ""
    earlier = page.locator(".ohm-earlier").inner_text()
    assert "28.7k" in earlier and "11.6k" in earlier
    page.goto(served + FAMILY)
    open_round(page)
    page.get_by_role("button", name="Clear the round").click()
    assert readings_of(page, "quellmark-coil-out") == [in_ice]
    assert readings_of(page, "quellmark-return-air") == []
    assert phone.complaints == []


def test_a_cleared_round_can_be_put_back(family: object) -> None:
    fill(family, AT_REST)
    take(family, OUTDOORS, "20.5")
    before = job_of(family)["measurements"]
    family.get_by_role("button", name="Clear the round").click()
    cleared = the_round(family).locator(".ohm-cleared")
    assert "2 readings of this round are cleared" in cleared.inner_text()
    assert row_of(family, "quellmark-coil-out").locator("input").input_value() == ""
    family.get_by_role("button", name="Put them back").click()
    assert row_of(family, "quellmark-coil-out").locator("input").input_value() == "11.6k"
    after = job_of(family)["measurements"]
    assert [(one["of"], one["typed"], one["time"]) for one in after] == [
        (one["of"], one["typed"], one["time"]) for one in before
    ]
    assert "It agrees with the temperature taken there, 20.5 °C." in says_of(family, OUTDOORS)


def test_a_round_after_the_repair_leaves_the_one_before_alone(family: object) -> None:
    fill(family, AT_REST)
    family.get_by_text("after the repair", exact=True).click()
    assert row_of(family, "quellmark-coil-out").locator("input").input_value() == ""
    fill(family, {"quellmark-coil-out": "11.9k"})
    readings = [
        (one["typed"]["reading"], one["after"])
        for one in job_of(family)["measurements"]
        if one["of"] == "quellmark-coil-out"
    ]
    assert readings == [("11.6k", False), ("11.9k", True)]
    family.get_by_text("before the repair", exact=True).click()
    assert row_of(family, "quellmark-coil-out").locator("input").input_value() == "11.6k"


def test_a_second_machine_begins_with_an_empty_round(family: object) -> None:
    fill(family, AT_REST)
    family.evaluate("Ohm.startJob('quellmark-rooftop', {mark: 'right of the lift'})")
    assert row_of(family, "quellmark-coil-out").locator("input").input_value() == ""
    fill(family, {"quellmark-coil-out": "9k"})
    jobs = family.evaluate("Ohm.allJobs().map(({mark, measurements}) => [mark, measurements])")
    readings = {mark: {one["typed"]["reading"] for one in found} for mark, found in jobs}
    assert readings == {"": {"11.7k", "11.6k"}, "right of the lift": {"9k"}}
    family.evaluate("Ohm.chooseJob(Ohm.allJobs().find(({mark}) => !mark).id)")
    assert row_of(family, "quellmark-coil-out").locator("input").input_value() == "11.6k"


def test_what_was_taken_in_a_place_is_offered_with_its_age(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    open_round(page)
    take(page, OUTDOORS, "8")
    page.reload()
    open_round(page)
    field = place_of(page, OUTDOORS).locator('input[inputmode="decimal"]')
    assert field.input_value() == ""
    offer = place_of(page, OUTDOORS).locator(".ohm-kept button")
    assert offer.inner_text().replace("\u00a0", " ") == "8.0 °C, held on, just now"
    assert page.locator(".ohm-kept button:visible").count() == 1
    offer.click()
    fill(page, {"quellmark-coil-out": "20k"})
    assert "It agrees with the temperature taken there" in says_of(page, OUTDOORS)
    assert phone.complaints == []


def test_stirred_ice_is_offered_to_no_place(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    page.evaluate(
        "Ohm.keepTemperature('quellmark-rooftop', 'outdoor air',"
        " {t_c: '0', how: 'ice-water', thermometer: ''})"
    )
    page.reload()
    open_round(page)
    assert page.locator(".ohm-kept button").count() == 0


def test_the_round_survives_a_closed_browser_and_clears_when_asked(
    phone: object, served: str
) -> None:
    page = phone.page
    page.goto(served + FAMILY)
    open_round(page)
    fill(page, AT_REST)
    take(page, OUTDOORS, "20.5")
    state = page.context.storage_state()
    again = page.context.browser.new_context(storage_state=state)
    other = again.new_page()
    other.goto(served + FAMILY)
    open_round(other)
    for sensor, reading in AT_REST.items():
        assert row_of(other, sensor).locator("input").input_value() == reading
    field = place_of(other, OUTDOORS).locator('input[inputmode="decimal"]')
    assert field.input_value() == "20.5"
    other.get_by_role("button", name="Clear the round").click()
    other.reload()
    for sensor in AT_REST:
        assert row_of(other, sensor).locator("input").input_value() == ""
    assert job_of(other)["measurements"] == []
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
    open_round(page)
    fill(page, AT_REST)
    take(page, OUTDOORS, "20.5")
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
    readings = at_one_temperature(family, 21.0)
    readings["quellmark-coil-out"] = "OL"
    readings["quellmark-return-air"] = "11,7k"
    fill(family, readings)
    if with_thermometer:
        take(family, OUTDOORS, "-0.5")
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
        row.get_attribute("data-sensor") for row in place_of(family, OUTDOORS).locator("li").all()
    }
    for one in case.readings:
        taken = (-0.5, "held-on") if with_thermometer and one.sensor in outdoors else (None, None)
        assert (one.t_c, one.how) == taken
    assert case.cure.startswith("EDIT ") and case.cause.what.startswith("EDIT ")
