"""Every kind of page by keyboard, by screen reader, on a small screen and at twice the text."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

axe = pytest.importorskip("axe_playwright_python.sync_playwright")

WORST = {"serious", "critical"}
KINDS = {
    "home": "index.html",
    "list": "codes/index.html",
    "family": "families/quellmark-rooftop.html",
    "code": "codes/quellmark-k4-2.html",
    "sensor": "sensors/quellmark-coil-out.html",
    "motor": "parts/quellmark-fan-motor.html",
    "board": "parts/quellmark-main-board.html",
    "curve": "curves/ntc-10k-3435.html",
    "switching curve": "curves/ptc-motor-120.html",
    "which": "which.html",
    "job": "jobs/quellmark-rooftop.html",
    "drawing": "drawings/quellmark-board.html",
    "method": "methods/motor-insulation.html",
    "instrument": "instruments/pocket-meter.html",
    "case": "cases/quellmark-r3-wrong-spare.html",
    "source": "sources/ieee-43.html",
    "numbers": "numbers.html",
    "guide": "keeping.html",
    "written by hand": "safety.html",
}
WITH_FORMS = ["family", "sensor", "motor", "curve", "which", "job"]


def _filled(page: object, url: str) -> None:
    """Open a page with every fold open and something in every form, good and bad."""
    page.goto(url)
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    for name, value in {
        "reading": "7k",
        "winding-1": "38",
        "winding-2": "a lot",
        "insulation-shows": "1M",
        "t-1": "25",
        "r-1": "10k",
        "r-quellmark-coil-out": "OL",
        "r-quellmark-return-air": "x",
    }.items():
        field = page.locator(f'form:not([hidden]) [name="{name}"]')
        if field.count():
            field.fill(value)
    volts = page.locator('[name="test-v"]')
    if volts.count():
        volts.select_option("500")
    page.wait_for_timeout(50)


def _faults(results: object) -> list[str]:
    return [
        f"{fault['id']} ({fault['impact']}): {node['target']}"
        for fault in results.response["violations"]
        if fault["impact"] in WORST
        for node in fault["nodes"]
    ]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("kind", WITH_FORMS)
def test_axe_finds_nothing_serious_in_forms_filled_in_well_and_badly(
    browser: object, home_file: str, kind: str, scheme: str
) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, color_scheme=scheme, reduced_motion="reduce"
    )
    page = context.new_page()
    _filled(page, home_file.replace("index.html", KINDS[kind]))
    assert _faults(axe.Axe().run(page)) == []
    context.close()


def test_axe_would_find_a_field_without_a_label(browser: object, home_file: str) -> None:
    page = browser.new_page()
    page.goto(home_file.replace("index.html", KINDS["which"]))
    page.evaluate("document.querySelector('label[for=r-1]').remove()")
    assert any("label" in fault for fault in _faults(axe.Axe().run(page)))
    page.close()


def test_no_page_holds_an_id_twice(site: Path) -> None:
    faults = []
    for path in sorted(site.rglob("*.html")):
        ids = Counter(re.findall(r'\sid="([^"]+)"', path.read_text(encoding="utf-8")))
        faults += [f"{path.name}: {name}" for name, count in ids.items() if count > 1]
    assert faults == []


@pytest.mark.parametrize("kind", WITH_FORMS)
def test_what_is_pressed_is_48_px_high(browser: object, home_file: str, kind: str) -> None:
    context = browser.new_context(viewport={"width": 320, "height": 700})
    page = context.new_page()
    _filled(page, home_file.replace("index.html", KINDS[kind]))
    small = page.evaluate(
        """() => [...document.querySelectorAll(
             '.ohm-calc :is(button, input, select, summary, .ohm-ways label)')]
             // What is ticked is as large as its label.
             .filter(e => e.checkVisibility() && !['checkbox', 'radio'].includes(e.type))
             .filter(e => e.getBoundingClientRect().height < 47.5)
             .map(e => e.name || e.textContent)"""
    )
    assert small == []
    context.close()


@pytest.mark.parametrize("kind", WITH_FORMS)
def test_no_answer_sticks_out_sideways_at_320_px(
    browser: object, home_file: str, kind: str
) -> None:
    """As test_boxes.py asks of every page as it opens; here with its forms filled in."""
    context = browser.new_context(viewport={"width": 320, "height": 700})
    page = context.new_page()
    _filled(page, home_file.replace("index.html", KINDS[kind]))
    for size in ("106.25%", "212.5%"):
        page.evaluate("size => { document.documentElement.style.fontSize = size; }", size)
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, size
    context.close()


@pytest.mark.parametrize("kind", WITH_FORMS)
def test_every_answer_is_announced_and_every_field_has_a_name(
    browser: object, home_file: str, kind: str
) -> None:
    page = browser.new_page()
    page.goto(home_file.replace("index.html", KINDS[kind]))
    for answer in page.locator(".ohm-calc output").all():
        assert answer.get_attribute("role") == "status"
    bare = page.evaluate(
        """() => [...document.querySelectorAll('.ohm-calc input, .ohm-calc select, '
             + '.ohm-calc textarea')].filter(e => !e.labels.length && !e.ariaLabel
               && !document.getElementById(e.getAttribute('aria-labelledby')))
             .map(e => e.name)"""
    )
    assert bare == []
    page.close()


def test_a_verdict_is_reached_by_keyboard_alone(browser: object, home_file: str) -> None:
    page = browser.new_page()
    page.goto(home_file.replace("index.html", KINDS["sensor"]))
    for name, keys in (("at", "20"), ("how", " "), ("reading", "12.1k")):
        for _ in range(60):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.name") == name:
                break
        page.keyboard.type(keys)
    assert "Within limits" in page.locator(".ohm-verdict-word").inner_text()
    page.close()
