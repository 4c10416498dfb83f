"""Part, family and home pages stand in the order of use: measured on every one of the demo's."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from kb.model import Drawing, Part
from kb.notes.load import load_notes

ROOT = Path(__file__).resolve().parents[2]
SCREEN = {"width": 390, "height": 844}
BAR = 50
"""Room for the bar that says which job is open."""
FAMILY_PX = 3400
HOME_PX = 1700
THUMB_PX = 44
SCROLL_MS = 1500
"""A page glides to where a way leads."""
HEIGHT = "document.documentElement.scrollHeight"
OPEN_ALL = "document.querySelectorAll('details').forEach((fold) => { fold.open = true; })"


@pytest.fixture(scope="module")
def notes():
    return load_notes(ROOT)


@pytest.fixture(scope="module")
def screen(browser) -> Iterator[object]:
    """One page at the size of a phone."""
    context = browser.new_context(viewport=SCREEN, has_touch=True, is_mobile=True)
    yield context.new_page()
    context.close()


@pytest.fixture(scope="module")
def unscripted(browser) -> Iterator[object]:
    """The same, where no script runs."""
    context = browser.new_context(viewport=SCREEN, java_script_enabled=False)
    yield context.new_page()
    context.close()


def pages(site: Path, room: str) -> list[Path]:
    """Return the pages of a kind, without the list of them and without former addresses."""
    found = [
        path
        for path in sorted((site / room).glob("*.html"))
        if path.name != "index.html" and "ohm-kind-former" not in path.read_text(encoding="utf-8")
    ]
    assert found
    return found


def test_on_every_part_the_way_to_put_back_stands_in_the_first_screen(screen, site, notes):
    late = {}
    with_list = [part for part in notes.of(Part).values() if part.refit]
    assert len(with_list) > 20
    for part in with_list:
        screen.goto((site / part.href).as_uri())
        way = screen.locator('.ohm-jumps a[href="#put-back"]').bounding_box()
        if way["y"] + way["height"] + BAR > SCREEN["height"] or way["height"] < THUMB_PX:
            late[part.id] = way
    assert late == {}


def test_the_way_leads_to_the_list(screen, site):
    screen.goto((site / "parts/quellmark-main-board.html").as_uri())
    screen.locator('.ohm-jumps a[href="#put-back"]').tap()
    screen.wait_for_timeout(SCROLL_MS)
    assert 0 < screen.locator("#put-back").bounding_box()["y"] < SCREEN["height"] / 2


def test_every_family_page_is_short_until_something_is_unfolded(screen, site):
    heights = {}
    for path in pages(site, "families"):
        screen.goto(path.as_uri())
        heights[path.name] = screen.evaluate(HEIGHT) + BAR
    assert {name: high for name, high in heights.items() if high > FAMILY_PX} == {}


def test_home_is_short(screen, site):
    screen.goto((site / "index.html").as_uri())
    assert screen.evaluate(HEIGHT) + BAR <= HOME_PX


def test_home_has_each_family_in_one_line(screen, site):
    screen.goto((site / "index.html").as_uri())
    rows = screen.locator('section[aria-labelledby="families"] li')
    assert rows.count() == len(pages(site, "families"))
    for row in rows.all():
        assert THUMB_PX <= row.bounding_box()["height"] <= 80


def test_a_chip_opens_the_fold_that_it_names_and_opens_it_again(screen, site):
    screen.goto((site / "families/quellmark-rooftop.html").as_uri())
    codes = screen.locator("details:has(#codes)")
    for _ in range(2):
        assert codes.get_attribute("open") is None
        screen.locator('.ohm-jumps a[href="#codes"]').tap()
        assert codes.get_attribute("open") is not None
        codes.locator("summary").first.evaluate("summary => summary.click()")


def test_a_chip_of_the_family_leads_into_find(screen, site):
    screen.goto((site / "families/quellmark-rooftop.html").as_uri())
    screen.locator("[data-ohm-find-within]").tap()
    assert screen.evaluate("document.activeElement.className") == "ohm-find-field"


def test_no_table_is_cut_off_on_a_phone(screen, site):
    cut = []
    for path in [*pages(site, "families"), *pages(site, "parts")]:
        screen.goto(path.as_uri())
        screen.evaluate(OPEN_ALL)
        cut += [
            f"{path.name}: {label}"
            for label in screen.evaluate(
                """() => [...document.querySelectorAll('.ohm-scroll')]
                    .filter((frame) => frame.checkVisibility())
                    .filter((frame) => frame.scrollWidth > frame.clientWidth)
                    .map((frame) => frame.getAttribute('aria-label'))"""
            )
        ]
    assert cut == []


def test_every_marked_line_is_pinned_on_the_drawing_of_its_part_or_named(screen, site, notes):
    faults = []
    for part in notes.of(Part).values():
        if not part.refit:
            continue
        screen.goto((site / part.href).as_uri())
        pinned = screen.locator(".ohm-sketch .ohm-pin text").all_text_contents()
        words = screen.locator(".ohm-hint").all_text_contents()
        missing = " ".join(line for line in words if line.startswith("Not on the drawing"))
        faults += [
            f"{part.id}: {refit.mark or refit.what}"
            for refit in part.refit
            if refit.mark not in pinned and refit.what not in missing
        ]
    assert faults == []


def test_a_pin_leads_to_its_line(screen, site):
    screen.goto((site / "parts/quellmark-main-board.html").as_uri())
    box = screen.locator('.ohm-sketch a[aria-label="X24: Outdoor coil R4"] rect')
    box.scroll_into_view_if_needed()
    box.tap()
    screen.wait_for_timeout(SCROLL_MS)
    line = screen.locator(".ohm-tick li", has_text="Outdoor coil R4").bounding_box()
    assert 0 <= line["y"] <= SCREEN["height"]


def test_the_pins_of_every_drawing_stand_once_more_as_large_as_a_thumb(screen, site, notes):
    small = []
    for path in [*pages(site, "families"), *pages(site, "drawings"), *pages(site, "parts")]:
        screen.goto(path.as_uri())
        screen.evaluate(OPEN_ALL)
        small += [
            f"{path.name}: {href}"
            for href in screen.evaluate(
                """(least) => {
                    const large = (way) => !way.closest('svg')
                        && way.getBoundingClientRect().height >= least;
                    const leads = (way) => way.getAttribute('href') || '#' + way.htmlFor;
                    const beside = (pin) => [...(pin.closest('details') || document)
                        .querySelectorAll('a, label')].filter(large).map(leads);
                    return [...document.querySelectorAll('.ohm-sketch a')]
                        .filter((pin) => !beside(pin).includes(leads(pin))).map(leads);
                }""",
                THUMB_PX,
            )
        ]
    assert small == []


def test_no_pin_lies_on_another_and_all_lie_on_their_drawing(screen, site, notes):
    faults = []
    for drawing in notes.of(Drawing).values():
        screen.goto((site / drawing.href).as_uri())
        faults += [
            f"{drawing.id}: {names}"
            for names in screen.evaluate(
                """() => {
                    const sheet = document.querySelector('.ohm-sketch').getBoundingClientRect();
                    const pins = [...document.querySelectorAll('.ohm-sketch .ohm-pin')].map((pin) => [
                        pin.querySelector('text').textContent,
                        pin.querySelector('rect').getBoundingClientRect(),
                    ]);
                    const apart = (a, b) => a.right <= b.left || b.right <= a.left
                        || a.bottom <= b.top || b.bottom <= a.top;
                    const off = pins.filter(([, box]) => box.left < sheet.left || box.top < sheet.top
                        || box.right > sheet.right || box.bottom > sheet.bottom);
                    return [
                        ...off.map(([name]) => name + ' sticks out'),
                        ...pins.flatMap(([name, box], i) => pins.slice(i + 1)
                            .filter(([, other]) => !apart(box, other))
                            .map(([next]) => name + ' on ' + next)),
                    ];
                }"""
            )
        ]
    assert faults == []


def test_the_proof_waits_for_what_goes_back(screen, site):
    screen.goto((site / "parts/quellmark-main-board.html").as_uri())
    proofs = screen.locator('[data-list="quellmark-main-board-prove"]')
    waits_for = proofs.get_attribute("data-waits-for")
    refit = screen.locator(f'[data-list="{waits_for}"]')
    assert refit.bounding_box()["y"] < proofs.bounding_box()["y"]


def test_settings_are_asked_before_the_part_comes_out(screen, site, notes):
    asking = [part for part in notes.of(Part).values() if part.settings]
    assert len(asking) >= 6
    for part in asking:
        screen.goto((site / part.href).as_uri())
        form = screen.locator(f'form[data-calc="settings"][data-settings="{part.id}"]')
        names = form.locator("[name]").evaluate_all("fields => fields.map((f) => f.name)")
        assert names == [f"setting-{i}" for i in range(1, len(part.settings) + 1)]
        assert form.evaluate(
            "form => Boolean(form.compareDocumentPosition(document.querySelector('#replace-it'))"
            " & Node.DOCUMENT_POSITION_FOLLOWING)"
        )


def test_without_scripts_everything_can_be_read(unscripted, site, notes):
    part = notes.of(Part)["quellmark-main-board"]
    unscripted.goto((site / part.href).as_uri())
    for setting in part.settings:
        assert unscripted.locator(".ohm-settings li", has_text=setting.what).first.is_visible()
    assert unscripted.get_by_text(part.order, exact=True).is_visible()
    for path in [site / "families/quellmark-rooftop.html", site / "index.html"]:
        unscripted.goto(path.as_uri())
        for fold in unscripted.locator("details.ohm-fold:not(.ohm-js *)").all():
            assert fold.locator("> :not(summary)").first.is_visible()


def test_on_paper_the_settings_have_lines_to_write_on(screen, site):
    screen.goto((site / "parts/quellmark-main-board.html").as_uri())
    screen.evaluate("document.querySelector('[data-calc=settings]').hidden = false")
    assert not screen.locator(".ohm-settings").is_visible()
    screen.emulate_media(media="print")
    assert screen.locator(".ohm-settings").is_visible()
    assert screen.locator("[data-calc=settings]").is_hidden()
    screen.emulate_media(media="screen")


@pytest.mark.parametrize("room", ["lessons", "methods", "parts", "families"])
def test_no_numeral_of_a_list_stands_on_its_text(screen, site, room):
    faults = []
    for path in pages(site, room):
        screen.goto(path.as_uri())
        screen.evaluate(OPEN_ALL)
        faults += [
            f"{path.name}: {words}"
            for words in screen.evaluate(
                """() => [...document.querySelectorAll('.ohm-steps > li')]
                    .filter((line) => line.checkVisibility())
                    .filter((line) => {
                        const numeral = getComputedStyle(line, '::before');
                        const range = document.createRange();
                        range.selectNodeContents(line);
                        const starts = Math.min(...[...range.getClientRects()].map((box) => box.left));
                        const ends = line.getBoundingClientRect().left + parseFloat(numeral.left)
                            + parseFloat(numeral.width);
                        return starts < ends + 2;
                    }).map((line) => line.textContent.slice(0, 40))"""
            )
        ]
    assert faults == []


def test_on_a_wide_screen_the_drawing_stands_beside_the_list(browser, site):
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto((site / "parts/quellmark-main-board.html").as_uri())
    drawing = page.locator(".ohm-drawing").bounding_box()
    rows = page.locator("#put-back").bounding_box()
    assert rows["x"] + rows["width"] <= drawing["x"]
    page.locator("#put-back").scroll_into_view_if_needed()
    assert page.locator(".ohm-drawing").bounding_box()["y"] >= 0
    context.close()
