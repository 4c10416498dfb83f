"""On a phone the answer is in reach: measured in a browser on every sensor and code of the demo."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

TALL = 844
KEYPAD = 340
"""A phone's keypad, in px."""
HEIGHT = "document.documentElement.scrollHeight"
TOP = "e => e.getBoundingClientRect().top + scrollY"
BOTTOM = "e => e.getBoundingClientRect().bottom + scrollY"
SEEN_DOWN_TO = "e => e.getBoundingClientRect().bottom"
WITHOUT_A_READING = {
    "quellmark-fan-overheat"  # a contact: no curve to judge a reading by
}
"""Testable sensors whose pages have no field."""

Figures = dict[str, dict[str, float]]


@pytest.fixture(scope="module")
def page(browser: object) -> Iterator[object]:
    """A phone that remembers nothing, at 100 % text, as most are."""
    context = browser.new_context(
        viewport={"width": 390, "height": TALL}, has_touch=True, is_mobile=True
    )
    yield context.new_page()
    context.close()


def entries(site: Path, *, kind: str) -> list[Path]:
    return [path for path in sorted((site / kind).glob("*.html")) if path.stem != "index"]


def _open(page: object, path: Path, *, anew: bool = False) -> None:
    page.goto(path.as_uri())
    if anew:
        page.evaluate("localStorage.clear()")
        page.reload()


def until(holds: Callable[[], bool]) -> None:
    """Wait until something holds; a page's policy forbids the browser's own way of waiting."""
    end = time.monotonic() + 10
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.02)


@pytest.fixture(scope="module")
def sensors(page: object, site: Path) -> Figures:
    """What is measured on each sensor's page, in px; a sensor without a field has no `meter`."""
    found: Figures = {}
    for number, path in enumerate(entries(site, kind="sensors")):
        _open(page, path, anew=True)
        found[path.stem] = {"high": page.evaluate(HEIGHT)}
        untestable = page.locator(".ohm-untestable")
        if untestable.count():
            found[path.stem]["instead"] = untestable.evaluate(TOP)
            found[path.stem]["caution"] = page.locator(".ohm-caution-line").evaluate(TOP)
        form = page.locator("form.ohm-calc[data-calc=judge], form.ohm-calc[data-calc=loop]")
        if not form.count():
            continue
        field = form.locator("[name$=reading]")
        found[path.stem]["meter"] = field.evaluate(TOP)
        if form.get_attribute("data-calc") == "judge":
            form.locator("[name=at]").fill("20")
            form.locator("label[for=how-strapped]").tap()
        page.evaluate("scrollTo(0, 0)")
        field.tap()
        page.keyboard.type("10k")
        word = form.locator("output .ohm-verdict-word").first
        word.wait_for()
        # A frame for the answer to move, and one to be drawn.
        page.evaluate("new Promise(r => requestAnimationFrame(() => requestAnimationFrame(r)))")
        found[path.stem]["answer"] = form.locator("output").first.evaluate(TOP)
        found[path.stem]["verdict"] = word.evaluate(SEEN_DOWN_TO)
        found[path.stem]["typed"] = field.evaluate("e => e.getBoundingClientRect().top")
        found[path.stem]["header"] = page.locator(".ohm-header").evaluate(SEEN_DOWN_TO)
        field.blur()
        if number % 3:
            continue
        # The second time there is a job open, and it offers the temperature that it knows.
        _open(page, path)
        found[path.stem]["meter again"] = field.evaluate(TOP)
    return found


@pytest.fixture(scope="module")
def codes(page: object, site: Path) -> Figures:
    found: Figures = {}
    # Codes are alike from one to the next, which their makers wrote in a row.
    for path in entries(site, kind="codes")[::2]:
        _open(page, path)
        found[path.stem] = {
            "key": page.locator(".ohm-go").first.evaluate(BOTTOM),
            "suspect": page.locator(".ohm-suspects > li").first.evaluate(TOP),
        }
    return found


def over(figures: Figures, name: str, *, limit: float) -> dict[str, float]:
    """Return the pages where a figure is larger than it may be."""
    return {
        page: round(measured[name], 1)
        for page, measured in figures.items()
        if measured.get(name, 0) > limit
    }


def test_every_sensor_that_a_meter_can_judge_has_its_field(sensors: Figures) -> None:
    assert len(sensors) > 30
    without = {page for page, found in sensors.items() if not {"meter", "instead"} & set(found)}
    assert without == WITHOUT_A_READING


@pytest.mark.parametrize("when", ["meter", "meter again"])
def test_the_field_for_the_reading_is_in_the_first_600_px(sensors: Figures, when: str) -> None:
    assert over(sensors, when, limit=600) == {}


def test_the_answer_is_in_the_first_800_px(sensors: Figures) -> None:
    assert over(sensors, "answer", limit=800) == {}


def test_the_verdict_and_its_field_stand_between_header_and_keypad(sensors: Figures) -> None:
    assert over(sensors, "verdict", limit=TALL - KEYPAD) == {}
    assert {
        page
        for page, found in sensors.items()
        if "typed" in found and found["typed"] < found["header"]
    } == set()


def test_why_there_is_no_test_and_what_to_do_instead_come_first(sensors: Figures) -> None:
    assert over(sensors, "instead", limit=400) == {}
    untestable = {page: found for page, found in sensors.items() if "instead" in found}
    assert len(untestable) > 5
    assert [page for page, found in untestable.items() if found["instead"] > found["caution"]] == []


def test_a_sensors_page_is_short_until_something_is_unfolded(sensors: Figures) -> None:
    assert over(sensors, "high", limit=2600) == {}


def test_the_key_to_what_is_accused_is_in_the_first_500_px(codes: Figures) -> None:
    assert len(codes) > 30
    assert over(codes, "key", limit=500) == {}


def test_the_first_suspect_is_in_the_first_1100_px(codes: Figures) -> None:
    assert over(codes, "suspect", limit=1100) == {}


def test_a_keypad_that_shrinks_the_window_leaves_the_answer_in_sight(
    page: object, site: Path
) -> None:
    _open(page, site / "sensors" / "quellmark-coil-out.html", anew=True)
    page.get_by_label("Meter shows").tap()
    page.set_viewport_size({"width": 390, "height": TALL - KEYPAD})
    page.keyboard.type("OL")
    first = page.locator("output > :first-child").first

    def in_sight() -> bool:
        # No box while one answer makes room for the next.
        box = first.bounding_box()
        return box is not None and box["y"] < TALL - KEYPAD - 24

    until(in_sight)
    page.set_viewport_size({"width": 390, "height": TALL})


@pytest.mark.parametrize("path", ["sensors/quellmark-coil-out.html", "codes/quellmark-k4-2.html"])
def test_on_a_wide_screen_what_is_looked_at_stands_beside_what_is_done(
    browser: object, site: Path, path: str
) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto((site / path).as_uri())
    first = page.locator(".ohm-two-first").bounding_box()
    beside = page.locator(".ohm-two-beside").bounding_box()
    assert beside["x"] >= first["x"] + first["width"]
    assert abs(beside["y"] - first["y"]) < 1
    assert page.evaluate(HEIGHT) < 2600
    context.close()


def test_a_narrow_screen_stands_in_one_column(page: object, site: Path) -> None:
    _open(page, site / "sensors" / "quellmark-coil-out.html")
    first = page.locator(".ohm-two-first").bounding_box()
    beside = page.locator(".ohm-two-beside").bounding_box()
    assert beside["y"] >= first["y"] + first["height"]


FOLDED = ["sensors/quellmark-coil-out.html", "codes/quellmark-k4-2.html"]


@pytest.mark.parametrize("path", FOLDED)
def test_what_is_folded_opens_by_a_tap_by_an_anchor_and_on_paper(
    page: object, site: Path, path: str
) -> None:
    _open(page, site / path)
    folds = page.locator(".ohm-fold")
    assert folds.evaluate_all("all => all.filter(e => e.open).length") == 0
    title = page.locator(".ohm-fold > summary").last
    title.tap()
    assert folds.evaluate_all("all => all.filter(e => e.open).length") == 1
    page.emulate_media(media="print")
    until(lambda: page.locator(".ohm-fold:not([open])").count() == 0)
    page.emulate_media(media="screen")
    until(lambda: page.locator(".ohm-fold[open]").count() == 1)
    anchor = page.locator(".ohm-fold > summary > h2").first.get_attribute("id")
    page.goto(f"{(site / path).as_uri()}#{anchor}")
    page.reload()
    assert page.locator(f"details:has(> summary > #{anchor})").evaluate("e => e.open")


@pytest.mark.parametrize("path", FOLDED)
def test_without_scripts_everything_stands_open(browser: object, site: Path, path: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / path).as_uri())
    for fold in page.locator(".ohm-fold").all():
        if fold.locator("xpath=ancestor::*[contains(@class, 'ohm-js')]").count():
            continue
        assert fold.locator("xpath=*[2]").is_visible(), fold.inner_text()
    context.close()


@pytest.mark.parametrize("path", FOLDED)
def test_whatever_is_tapped_is_44_px_high(page: object, site: Path, path: str) -> None:
    _open(page, site / path)
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    small = page.locator(
        ".ohm summary, .ohm-go, .ohm-suspects h3 > a, .ohm-trail a, .ohm-ways label"
    ).evaluate_all(
        """all => all.filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 44)
             .map(e => e.textContent)"""
    )
    assert small == []
