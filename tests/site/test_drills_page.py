"""The page of drills: a seed makes Python's set, all is answered by keys alone, nothing is sent."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path

import pytest

from kb.answers.drill import Drill
from kb.answers.drill_set import DrillPool
from kb.catalog import Catalog
from kb.drill_facts import drill_notes
from kb.notes.load import load_notes
from kb.numbers.grid import compile_grid
from kb.words.phrase import Voice, sentence

SEED = 11
DRILLS = "drills.html"
KEPT = "() => JSON.parse(localStorage.getItem('ohm.practised') || 'null')"


@pytest.fixture(scope="module")
def drills() -> list[Drill]:
    """What Python makes of the seed, with curves as the phone has them."""
    notes = drill_notes(Catalog(load_notes(Path(__file__).resolve().parents[2])))
    grids = {name: compile_grid(curve) for name, curve in notes.curves.items()}
    return DrillPool(dataclasses.replace(notes, curves=grids)).drills(seed=SEED)


def _answered_by_keys(page: object, drill: Drill) -> None:
    """Answer rightly, without a finger."""
    keys = page.locator(".ohm-choices button")
    if drill.form == "choice":
        keys.nth(drill.right[0]).press("Enter")
    elif drill.form == "order":
        for place in drill.right:
            keys.nth(place).press("Enter")
        page.locator(".ohm-drill-place .ohm-primary").press("Enter")
    elif drill.form == "tap":
        page.locator("summary", has_text="In words").press("Enter")
        keys.nth(drill.right[0]).press("Enter")
    else:
        figures = drill.figures
        typed = {
            "ohm": lambda: [str(drill.because[0].figures["r_ohm"])],
            "temperature": lambda: [f"{figures['t_c']:.2f}"],
            "display": lambda: [f"{figures['shown_ohm']:.9g}", f"{figures['half_ohm']:.6g}"],
        }[drill.form]()
        for place, text in enumerate(typed):
            page.fill(f"#drill-answer-{place}", text)
        page.keyboard.press("Enter")


def test_a_seed_makes_the_set_that_python_makes_and_all_ten_can_be_right(phone, home_file, drills):
    page = phone.page
    page.goto(home_file)
    page.click("text=Drills")
    page.evaluate(f"location.hash = 'seed={SEED}'")
    for place, drill in enumerate(drills):
        page.wait_for_function(
            # Between two pages there is a moment without a body.
            "n => document.querySelector('.ohm-drill-where strong')?.textContent.startsWith(n)",
            arg=f"{place + 1} of",
        )
        assert page.inner_text(".ohm-drill-place h2") == sentence(
            drill.ask, voice=Voice(digits=drill.digits)
        )
        if place == 4:  # Who looks at a page of the notes comes back to this very question.
            page.goto(home_file)
            page.go_back()
            assert page.inner_text(".ohm-drill-where strong").startswith("5 of")
        assert not page.locator(".ohm-lamp-lit").count()
        if drill.form == "tap":
            shown = page.locator(".ohm-drill-sketch svg").inner_html()
            assert f">{drill.pin}<" not in shown and "<title>" not in shown.split("ohm-pin")[-1]
        _answered_by_keys(page, drill)
        assert page.locator("[role=status] .ohm-verdict[data-verdict=within]").count() == 1
        # The next key is under the hand that answered.
        assert page.evaluate("document.activeElement.className") == "ohm-primary"
        page.keyboard.press("Enter")
    assert page.inner_text(".ohm-drill-place h2") == "10 of 10 right"
    kept = page.evaluate(KEPT)
    assert [row["right"] for row in kept["done"]] == [True] * 10
    assert {row["seed"] for row in kept["done"]} == {SEED}
    assert [row["about"] for row in kept["done"]] == [drill.about for drill in drills]
    assert phone.complaints == []
    assert phone.asked_elsewhere("file:") == []


def test_what_was_wrong_is_explained_counted_due_and_on_the_sheet(phone, home_file):
    page = phone.page
    page.goto(
        home_file.replace("index.html", f"{DRILLS}#seed=3&kind=ohm&of=families/veldane-chiller")
    )
    for _ in range(10):
        page.fill("#drill-answer-0", "1")
        page.keyboard.press("Enter")
        page.keyboard.press("Enter")
    assert page.inner_text(".ohm-drill-place h2") == "0 of 10 right"
    assert page.locator(".ohm-drill-wrong > li").count() == 10
    assert page.locator('.ohm-drill-wrong a[href^="sensors/veldane-"]').count() == 10
    page.evaluate("location.hash = 'progress'")
    page.wait_for_selector("text=0 of 10")
    page.evaluate("location.hash = 'sheet'")
    sheet = page.locator(".ohm-drill-sheet")
    sheet.get_by_text("no permission to work").wait_for()
    assert "Veldane" in sheet.inner_text() and "Expected resistance" in sheet.inner_text()
    # A hand signs there: a line as wide as the page.
    lines = sheet.locator("p", has_text=", date").all()
    assert [line.bounding_box()["width"] > 300 for line in lines] == [True, True]
    page.evaluate("location.hash = ''")
    due = page.locator("text=/Due today: [1-9]/")
    due.click()
    assert "Repeats" in page.inner_text(".ohm-drill-where")
    assert phone.complaints == []


def test_a_refused_answer_is_no_mark_and_a_tap_near_a_pin_means_it(phone, home_file):
    page = phone.page
    page.goto(home_file.replace("index.html", f"{DRILLS}#seed=5&kind=temperature"))
    page.fill("#drill-answer-0", "warm")
    page.keyboard.press("Enter")
    assert page.locator("[role=alert]").is_visible()
    assert page.evaluate(KEPT) is None
    page.evaluate("location.hash = 'seed=5&kind=place'")
    pin = page.locator(".ohm-drill-sketch .ohm-pin").first
    box = pin.bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2 - 4, box["y"] + box["height"] / 2 + 4)
    assert len(page.evaluate(KEPT)["done"]) == 1


def test_no_lamp_flashes_before_it_is_asked_to_and_bars_come_first_where_motion_is_unwanted(
    browser, home_file
):
    context = browser.new_context(reduced_motion="reduce")
    page = context.new_page()
    page.goto(home_file.replace("index.html", f"{DRILLS}#seed=5&kind=blinks"))
    assert page.locator(".ohm-lamp-bars").is_visible() and not page.locator(".ohm-lamp").count()
    page.click("text=Let it blink")
    page.wait_for_selector(".ohm-lamp-lit")
    page.click("text=Show it as bars")
    page.wait_for_timeout(1700)
    assert not page.locator(".ohm-lamp-lit").count()
    context.close()


def test_without_scripts_ten_stand_on_the_page_with_their_answers_folded(browser, home_file):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(home_file.replace("index.html", DRILLS))
    assert page.locator(".ohm-paper > li").count() == 10
    assert page.locator(".ohm-paper > li > details:not([open])").count() == 10
    context.close()


def test_every_state_of_it_is_free_of_faults_that_axe_sees(browser, home_file):
    axe = pytest.importorskip("axe_playwright_python", reason="axe-core is not installed")
    source = (Path(axe.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
    context = browser.new_context(viewport={"width": 390, "height": 844}, bypass_csp=True)
    page = context.new_page()
    rows = [
        {"time": "2026-03-02T08:00:00Z", "kind": kind, "family": "", "about": "a/b", "seed": 4}
        | {"place": 1, "right": True, "minutes": 0}
        for kind in ("ohm", "machine")
    ]
    page.goto(home_file.replace("index.html", DRILLS))
    page.evaluate("text => localStorage.setItem('ohm.practised', text)", json.dumps({"done": rows}))
    kinds = ("verdict", "temperature", "blinks", "place", "order", "meter")
    found = []
    for hash_ in (*(f"seed=5&kind={kind}" for kind in kinds), "progress", "sheet"):
        page.evaluate("hash => { location.hash = hash; }", hash_)
        page.wait_for_timeout(30)
        page.evaluate(
            "document.querySelectorAll('details').forEach((fold) => { fold.open = true; })"
        )
        if page.locator("text=Show it as bars").count():
            page.click("text=Show it as bars")
        if not page.evaluate("() => Boolean(window.axe)"):
            page.evaluate(source)
        seen = page.evaluate("axe.run('#ohm-main', {resultTypes: ['violations']})")
        found += [f"{hash_}: {fault['id']}" for fault in seen["violations"]]
    context.close()
    assert found == []
