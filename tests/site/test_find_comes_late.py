"""Away from the first page Find comes when it is first wanted, and answers what was asked meanwhile."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture()
def sensor(phone, site: Path):
    phone.page.goto((site / "sensors" / "quellmark-air-out.html").as_uri())
    yield phone
    assert phone.complaints == []


def _brought(phone) -> list[str]:
    return [Path(url).name for url in phone.asked if "/find" in url]


def test_nothing_of_it_comes_before_the_field_is_touched(sensor) -> None:
    sensor.page.wait_for_load_state("networkidle")
    assert _brought(sensor) == []
    with sensor.page.expect_event("requestfinished", lambda asked: "find-text" in asked.url):
        sensor.page.locator(".ohm-find-field").tap()
    assert _brought(sensor) == ["find-index.js", "find.js", "find-text.js"]


def test_what_is_typed_before_it_is_there_is_found(sensor) -> None:
    # In one go, as a fast hand or a keypad that completes: before any script can have come.
    sensor.page.evaluate("""() => {
        const field = document.querySelector(".ohm-find-field");
        field.focus();
        field.value = "k4-2";
        field.dispatchEvent(new InputEvent("input", { bubbles: true }));
    }""")
    sensor.page.wait_for_selector(".ohm-find-hit")
    sensor.page.keyboard.press("Enter")
    sensor.page.wait_for_url("**/codes/quellmark-k4-2.html")


def test_back_brings_the_query_back_though_find_was_not_there(sensor) -> None:
    sensor.page.locator(".ohm-find-field").fill("k4-2")
    sensor.page.wait_for_selector(".ohm-find-hit")
    sensor.page.keyboard.press("Enter")
    sensor.page.wait_for_url("**/codes/quellmark-k4-2.html")
    sensor.page.go_back()
    sensor.page.wait_for_selector(".ohm-find-hit")
    assert sensor.page.input_value(".ohm-find-field") == "k4-2"


def test_a_key_that_asks_it_to_look_within_the_family_brings_it(phone, site: Path) -> None:
    phone.page.goto((site / "families" / "quellmark-rooftop.html").as_uri())
    phone.page.locator("[data-ohm-find-within]").first.tap()
    phone.page.locator(".ohm-find-only").wait_for()
    assert phone.page.evaluate("document.activeElement.className") == "ohm-find-field"
    assert phone.complaints == []


def test_the_first_page_has_it_at_once(phone, home_file: str) -> None:
    phone.page.goto(home_file)
    assert phone.page.evaluate("Boolean(window.Ohm.matchItems)")
