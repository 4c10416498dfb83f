"""In `serve` a tap says a pin's line, and a pin goes where it is dragged or brought by keys."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from generators.build import build
from generators.serve import Watch
from kb.check import check_notes
from tests.live_server import serving

ROOT = Path(__file__).resolve().parents[2]
ENTRY = "docs_data/drawings/example-front.yaml"
SKETCH = "svg[data-drawing=example-front]"
SCREEN_PERCENT = 0.5
"""A pixel of a sketch that is 356 wide is a third of a percent of it."""


@dataclass(frozen=True)
class Live:
    """Beginner's notes while they are being written."""

    notes: Path
    watch: Watch
    address: str

    def entry(self) -> str:
        return (self.notes / ENTRY).read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def live(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    notes = Path(shutil.copytree(ROOT / "kb/starter", tmp_path_factory.mktemp("live") / "notes"))
    build(notes, out=notes / "site")
    watch = Watch()
    with serving(watch, out=notes / "site", notes=notes) as number:
        yield Live(notes, watch, f"http://127.0.0.1:{number}/")


@pytest.fixture()
def page(live: Live, browser: object) -> Iterator[object]:
    """A phone's page of the drawing; nothing in it complains."""
    page = browser.new_page(viewport={"width": 390, "height": 844})
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.goto(f"{live.address}drawings/example-front.html")
    before = live.entry()
    yield page
    (live.notes / ENTRY).write_text(before, encoding="utf-8")
    page.close()
    assert [words for words in complaints if "409" not in words] == []


def at(page: object, *, x: float, y: float) -> tuple[float, float]:
    """Return where on the screen a place of the sketch is, in percent of it."""
    box = page.locator(SKETCH).bounding_box()
    return box["x"] + box["width"] * x / 100, box["y"] + box["height"] * y / 100


def percents(text: str, *, pin: str) -> tuple[float, float]:
    """Return where a text puts a pin."""
    found = re.search(rf"\b{pin}: {{x: ([\d.]+), y: ([\d.]+),", text)
    assert found
    return float(found[1]), float(found[2])


def drag(page: object, pin: str, *, to: tuple[float, float]) -> None:
    box = page.locator(f"{SKETCH} .ohm-pin", has_text=pin).first.locator("rect").bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(*to, steps=4)
    page.mouse.up()


def test_a_tap_says_the_line_and_check_asks_for_what_it_lacks(live: Live, page: object) -> None:
    page.mouse.click(*at(page, x=20, y=90))
    line = page.locator(".ohm-live-pin input").input_value()
    assert percents(line, pin="NEW") == pytest.approx((20, 90), abs=SCREEN_PERCENT)
    assert line.startswith("  NEW: {") and line.endswith(', where: ""}')
    (live.notes / ENTRY).write_text(f"{live.entry()}{line}\n", encoding="utf-8")
    (fault,) = [p for p in check_notes(live.notes).problems if not p.warning]
    assert (fault.file, fault.line) == (ENTRY, len(live.entry().splitlines()))
    # What was pointed at is not left below the box.
    cross = page.locator(".ohm-live-cross").last.bounding_box()
    assert cross["y"] + cross["height"] <= page.locator(".ohm-live-pin").bounding_box()["y"]


def test_a_pin_that_is_dragged_is_moved_in_its_entry_and_leads_nowhere(
    live: Live, page: object
) -> None:
    before, address = live.entry(), page.url
    drag(page, "T1", to=at(page, x=50, y=80))
    page.wait_for_selector(".ohm-live-pin >> text=T1 is moved.")
    assert page.url == address
    x, y = percents(live.entry(), pin="T1")
    assert (x, y) == pytest.approx((50, 80), abs=SCREEN_PERCENT)
    assert live.entry() == before.replace("T1: {x: 28, y: 40,", f"T1: {{x: {x:g}, y: {y:g},")
    # The site is built anew, and the page with it: what was done can still be undone.
    with page.expect_navigation():
        live.watch.built(None)
    assert f"{ENTRY}:12" in page.locator(".ohm-live-pin").inner_text()
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector(".ohm-live-pin >> text=T1 is back.")
    assert live.entry() == before


def test_a_tap_on_a_pin_still_leads_where_it_led(page: object) -> None:
    page.locator(f"{SKETCH} a .ohm-pin", has_text="T1").locator("rect").click()
    page.wait_for_url("**/sensors/example-suction.html")


def test_by_keys_a_cross_is_placed_and_a_pin_brought_to_it(live: Live, page: object) -> None:
    before = live.entry()
    page.locator(SKETCH).focus()
    for key in ("ArrowRight", "ArrowDown", "ArrowDown", "Shift+ArrowLeft"):
        page.keyboard.press(key)
    assert page.locator(".ohm-live-pin input").input_value() == (
        '  NEW: {x: 50.9, y: 52, where: ""}'
    )
    page.locator(".ohm-live-pin select").focus()
    page.keyboard.press("P")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector(".ohm-live-pin >> text=PE is moved.")
    assert live.entry() == before.replace("PE: {x: 82, y: 36,", "PE: {x: 50.9, y: 52,")
    page.keyboard.press("Escape")


def test_what_is_refused_is_said_and_the_pin_goes_back(live: Live, page: object) -> None:
    (live.notes / ENTRY).write_text(live.entry().replace("  T1:", "  T7:"), encoding="utf-8")
    renamed = live.entry()
    drag(page, "T1", to=at(page, x=50, y=80))
    page.wait_for_selector(".ohm-live-pin >> text=has no pin 'T1'")
    assert live.entry() == renamed
    assert page.locator(f"{SKETCH} .ohm-pin[transform]").count() == 0


def test_a_drag_that_is_let_go_by_escape_writes_nothing(live: Live, page: object) -> None:
    before = live.entry()
    page.locator(SKETCH).focus()
    page.mouse.move(*at(page, x=28, y=40))
    page.mouse.down()
    page.mouse.move(*at(page, x=60, y=60), steps=3)
    page.keyboard.press("Escape")
    page.mouse.up()
    page.wait_for_timeout(200)
    assert live.entry() == before
    assert page.locator(f"{SKETCH} .ohm-pin[transform]").count() == 0
