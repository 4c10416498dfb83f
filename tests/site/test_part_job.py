"""What is measured on a part goes to the job: added, never written over, taken out on purpose."""

from __future__ import annotations

import json

import pytest

FAN = "parts/quellmark-fan-motor.html"
HEATER = "parts/veldane-frost-heater.html"
LOOP = "sensors/veldane-loop-1.html"


def _open(phone: object, served: str, path: str) -> object:
    phone.page.goto(served + path)
    return phone.page


def _jobs(page: object) -> list[dict]:
    """Return the jobs as this phone keeps them, the one begun last at the end."""
    kept = page.evaluate(
        "Object.keys(localStorage).filter((key) => key.startsWith('ohm.job.'))"
        ".sort().map((key) => localStorage.getItem(key))"
    )
    return sorted((json.loads(text) for text in kept), key=lambda job: job["opened"])


def _measured(page: object) -> list[dict]:
    return [measured for job in _jobs(page) for measured in job["measurements"]]


def _read(page: object, form: str, reading: str) -> None:
    field = {"winding": "#winding-1", "insulation": "#insulation-shows", "loop": "#loop-reading"}
    if form == "insulation":
        page.locator("#test-v").select_option("500")
    page.locator(field[form]).fill(reading)


def _earlier(page: object, form: str) -> list[str]:
    """Return the lines of what was read before, without their times."""
    lines = page.locator(f'[data-calc="{form}"] .ohm-earlier li > span:first-child')
    return [line.replace("\u00a0", " ").partition(": ")[2] for line in lines.all_inner_texts()]


def _key(page: object, form: str, name: str) -> object:
    return page.locator(f'[data-calc="{form}"]').get_by_role("button", name=name, exact=True)


FORMS = [("winding", FAN, "38.7"), ("insulation", FAN, "120M"), ("loop", LOOP, "180")]


@pytest.mark.parametrize(("form", "path", "reading"), FORMS)
def test_no_temperature_and_no_way_of_taking_it_is_invented(
    phone: object, served: str, form: str, path: str, reading: str
) -> None:
    page = _open(phone, served, path)
    assert page.locator(f"#{form}-at").input_value() == ""
    assert page.locator(f"[name={form}-how]:checked").count() == 0
    _read(page, form, reading)
    [measured] = _measured(page)
    assert "at" not in measured["typed"]
    assert phone.complaints == []


def test_windings_go_to_the_job_with_meter_time_and_how_the_temperature_was_taken(
    phone: object, served: str
) -> None:
    page = _open(phone, served, FAN)
    for i, reading in enumerate(("38.7", "38.6", "38.5"), start=1):
        page.locator(f"#winding-{i}").fill(reading)
    page.locator("#winding-at").fill("8")
    page.locator("label[for=winding-how-held-on]").click()
    [measured] = _measured(page)
    assert (measured["what"], measured["of"], measured["after"]) == (
        "windings",
        "quellmark-fan-motor",
        False,
    )
    assert measured["typed"] == {
        "at": "8",
        "how": "held-on",
        "readings": {"U1-U2": "38.7", "V1-V2": "38.6", "W1-W2": "38.5"},
        "meter": "pocket-meter",
    }
    assert measured["time"]
    [job] = _jobs(page)
    assert job["family"] == "quellmark-rooftop"
    assert job["temperatures"]["part:quellmark-fan-motor"]["t_c"] == "8"
    assert phone.complaints == []


def test_a_heaters_element_is_a_winding_of_the_job(phone: object, served: str) -> None:
    page = _open(phone, served, HEATER)
    page.locator("#winding-1").fill("407")
    said = page.locator('[data-calc="winding"] output').inner_text().replace("\u00a0", " ")
    assert "Each reads what the entry gives, at any temperature from −40 °C to 150 °C." in said
    [measured] = _measured(page)
    assert (measured["what"], measured["of"]) == ("windings", "veldane-frost-heater")
    assert phone.complaints == []


def test_insulation_goes_to_the_job_with_its_voltage_and_tester(phone: object, served: str) -> None:
    page = _open(phone, served, FAN)
    _read(page, "insulation", "120M")
    [measured] = _measured(page)
    assert measured["what"] == "insulation"
    assert measured["typed"] == {"reading": "120M", "volts": "500", "tester": "insulation-tester"}
    said = page.locator('[data-calc="insulation"] output').inner_text().replace("\u00a0", " ")
    assert "120 MΩ meets the part's own limit at any temperature from 10 °C up." in said
    assert page.locator('[data-calc="insulation"] output .ohm-verdict').count() == 0
    page.locator("#insulation-at").fill("20")
    assert page.locator('[data-calc="insulation"] output [data-verdict="within"]').count() == 1
    assert phone.complaints == []


@pytest.mark.parametrize(("form", "path", "reading"), FORMS)
def test_a_second_reading_is_added_and_the_first_is_listed(
    phone: object, served: str, form: str, path: str, reading: str
) -> None:
    page = _open(phone, served, path)
    _read(page, form, reading)
    page.reload()
    # What was read before stands above empty fields; typing changes nothing of it.
    assert page.locator("#test-v").count() == 0 or page.locator("#test-v").input_value() == ""
    [line] = _earlier(page, form)
    assert reading in line and "no temperature taken" in line
    _read(page, form, "OL")
    _read(page, form, "OL")
    assert len(_measured(page)) == 2
    assert _earlier(page, form) == [line]
    assert phone.complaints == []


@pytest.mark.parametrize(("form", "path", "reading"), FORMS)
def test_another_reading_and_one_after_the_repair_are_readings_of_their_own(
    phone: object, served: str, form: str, path: str, reading: str
) -> None:
    page = _open(phone, served, path)
    _read(page, form, reading)
    _key(page, form, "Read it again").click()
    _read(page, form, "OL")
    page.locator(f"label[for={form}-when-after]").click()
    assert len(_earlier(page, form)) == 2
    _read(page, form, reading)
    assert [measured["after"] for measured in _measured(page)] == [False, False, True]
    page.reload()
    assert len(_earlier(page, form)) == 3
    text = page.locator(f'[data-calc="{form}"] .ohm-earlier li').first.inner_text()
    assert "after the repair" in text
    assert phone.complaints == []


@pytest.mark.parametrize(("form", "path", "reading"), FORMS)
def test_an_earlier_reading_is_taken_out_once_that_was_said_twice(
    phone: object, served: str, form: str, path: str, reading: str
) -> None:
    page = _open(phone, served, path)
    _read(page, form, reading)
    page.reload()
    key = page.locator(f'[data-calc="{form}"] .ohm-earlier button')
    assert key.get_attribute("aria-label").startswith("Remove what was read at ")
    key.click()
    _key(page, form, "Keep it").click()
    assert len(_measured(page)) == 1
    key.click()
    _key(page, form, "Yes, remove it").click()
    assert _measured(page) == []
    assert page.locator(f'[data-calc="{form}"] .ohm-earlier').is_hidden()
    assert phone.complaints == []


@pytest.mark.parametrize(("form", "path", "reading"), FORMS)
def test_clear_takes_what_was_typed_in_this_visit_and_can_be_undone(
    phone: object, served: str, form: str, path: str, reading: str
) -> None:
    page = _open(phone, served, path)
    _read(page, form, reading)
    page.reload()
    _read(page, form, "OL")
    _key(page, form, "Clear what I typed").click()
    assert len(_measured(page)) == 1
    assert len(_earlier(page, form)) == 1
    _key(page, form, "Bring it back").click()
    assert len(_measured(page)) == 2
    assert "OL" in json.dumps(_measured(page)[1]["typed"])
    _key(page, form, "Clear what I typed").click()
    _read(page, form, reading)
    assert _key(page, form, "Bring it back").count() == 0
    assert phone.complaints == []


def test_two_machines_of_a_family_share_no_reading(phone: object, served: str) -> None:
    page = _open(phone, served, FAN)
    _read(page, "winding", "38.7")
    page.locator("#winding-at").fill("8")
    page.locator("label[for=winding-how-held-on]").click()
    page.evaluate("Ohm.startJob('quellmark-rooftop', { mark: 'the other one' })")
    # What stood in the fields belongs to the first machine, and stays there.
    for field in ("#winding-1", "#winding-at"):
        assert page.locator(field).input_value() == ""
    assert page.locator("[name=winding-how]:checked").count() == 0
    assert page.locator("#winding-at-kept").is_hidden()
    assert _earlier(page, "winding") == []
    _read(page, "winding", "31.0")
    first, other = (job["measurements"] for job in _jobs(page))
    assert [measured["typed"]["readings"] for measured in first] == [{"U1-U2": "38.7"}]
    assert [measured["typed"]["readings"] for measured in other] == [{"U1-U2": "31.0"}]
    assert phone.complaints == []


def test_a_job_of_another_day_is_left_alone(phone: object, served: str) -> None:
    page = _open(phone, served, FAN)
    _read(page, "winding", "38.7")
    page.evaluate(
        "for (const key of Object.keys(localStorage)) if (key.startsWith('ohm.job.')) {"
        "  const job = JSON.parse(localStorage.getItem(key));"
        "  job.touched = '2020-01-01T00:00:00.000Z';"
        "  localStorage.setItem(key, JSON.stringify(job)); }"
    )
    page.reload()
    assert _earlier(page, "winding") == []
    page.locator("#winding-at").fill("8")
    page.locator("label[for=winding-how-held-on]").click()
    # The temperature began a job of its own day, and was not lost by that.
    assert page.locator("#winding-at").input_value() == "8"
    _read(page, "winding", "31.0")
    old, new = (job["measurements"] for job in _jobs(page))
    assert [measured["typed"]["readings"] for measured in old] == [{"U1-U2": "38.7"}]
    assert [measured["typed"]["at"] for measured in new] == ["8"]
    assert phone.complaints == []


def test_the_test_voltage_is_asked_anew_each_time(phone: object, served: str) -> None:
    page = _open(phone, served, FAN)
    _read(page, "insulation", "120M")
    page.reload()
    assert page.locator("#test-v").input_value() == ""
    answer = page.locator('[data-calc="insulation"] output')
    assert "Choose the test voltage first" in answer.inner_text()
    assert phone.complaints == []


def test_a_tap_marks_what_stands_in_a_field(phone: object, served: str) -> None:
    page = _open(phone, served, FAN)
    page.locator("#winding-1").fill("38.7")
    page.locator("#winding-2").tap()
    page.locator("#winding-1").tap()
    page.keyboard.type("39")
    assert page.locator("#winding-1").input_value() == "39"


def test_what_was_read_before_follows_the_unit(phone: object, served: str) -> None:
    page = _open(phone, served, FAN)
    _read(page, "winding", "38.7")
    page.locator("#winding-at").fill("20")
    page.locator("label[for=winding-how-air]").click()
    page.reload()
    assert _earlier(page, "winding") == ["U1-U2 38.7 at 20.0 °C, in air"]
    page.locator('[data-ohm-switch="unit"]').click()
    assert _earlier(page, "winding") == ["U1-U2 38.7 at 68.0 °F, in air"]
    assert phone.complaints == []


def test_a_one_is_asked_about_and_no_short_of_a_winding(phone: object, served: str) -> None:
    page = _open(phone, served, FAN)
    page.locator("#winding-2").fill("1")
    beside = page.locator("#winding-2-says")
    assert beside.get_by_role("button").all_inner_texts() == ["Over range", "1\u00a0ohm"]
    assert page.locator('[data-calc="winding"] output .ohm-verdict').count() == 0
    beside.get_by_role("button", name="Over range").click()
    assert page.locator("#winding-2").input_value() == "OL"
    assert "Open circuit" in page.locator('[data-calc="winding"] output').inner_text()
    assert _measured(page)[-1]["typed"]["readings"] == {"V1-V2": "OL"}
    assert phone.complaints == []


def test_a_one_is_asked_about_and_no_short_of_a_loop(phone: object, served: str) -> None:
    page = _open(phone, served, LOOP)
    page.locator("#loop-reading").fill("1")
    answer = page.locator('[data-calc="loop"] output')
    assert answer.locator(".ohm-verdict").count() == 0
    answer.get_by_role("button", name="1 ohm").click()
    assert page.locator("#loop-reading").input_value() == "1.0"
    assert "Short circuit" in answer.inner_text()
    assert phone.complaints == []
