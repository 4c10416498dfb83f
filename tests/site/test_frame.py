"""The frame in a browser: policy without violation, light and dark, °C and °F, ticks, small screens."""

from __future__ import annotations

import importlib.util
import re
import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from generators.find_index import make_find_index

_spec = importlib.util.spec_from_file_location(
    "stub_site", Path(__file__).with_name("stub_site.py")
)
stubs = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(stubs)

DRESSING = stubs.DRESSING
BODY = (
    '<div class="ohm ohm-part"><p class="ohm-lead">Below '
    '<span class="ohm-t" data-c="-5">−5 °C</span> allow '
    '<span class="ohm-dt" data-k="2">2.0 K</span>.</p>'
    '<ol class="ohm-tick" data-list="a1"><li><input type="checkbox" id="t1" data-tick="1">'
    '<label for="t1">X24</label></li><li><input type="checkbox" id="t2" data-tick="2">'
    '<label for="t2">X25</label></li></ol>'
    '<aside class="ohm-caution" aria-label="Before you measure"><h2>Before you measure</h2>'
    "<ul><li>Isolate</li></ul></aside>"
    '<div class="ohm-verdict" data-verdict="undecided"><strong>Not decided</strong></div>'
    '<div class="ohm-scroll" tabindex="0" role="region" aria-label="Wide"><table class="ohm-table">'
    f'<caption>Wide</caption><tbody><tr><th scope="row">Row</th>{"<td>12.34 kΩ</td>" * 12}</tr>'
    "</tbody></table></div></div>"
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    work = tmp_path_factory.mktemp("frame")
    front = "---\ntitle: Main board\nkind: part\ntrail: []\n---\n\n"
    names = ("index", "safety", "numbers", "codes/index", "sensors/index", "parts/index")
    pages = {}
    for name in names:
        root = "../" if "/" in name else "./"
        forms = "".join(
            f'<script src="{root}assets/{name}.js" defer></script>'
            for name in ("form-base", "form-more", "form-ticks")
        )
        pages[f"{name}.md"] = f"{front}{BODY}{forms}\n"
    return stubs.stub_site(work, pages, make_find_index([]))


@pytest.fixture(scope="module")
def loopback(folder: Path) -> Iterator[str]:
    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture()
def opened(phone, folder):
    phone.page.goto((folder / "parts" / "index.html").as_uri())
    yield phone
    assert phone.complaints == []


@pytest.mark.parametrize("way", ["folder", "http"])
def test_the_policy_is_broken_by_nothing_and_really_holds(phone, folder, loopback, way):
    home = loopback if way == "http" else folder.as_uri() + "/"
    phone.page.goto(home + "parts/index.html")
    assert phone.page.evaluate("Boolean(window.Ohm.unit)")
    # Find comes when it is first touched, and no policy is in its way.
    assert phone.page.evaluate("window.Ohm.matchItems") is None
    with phone.page.expect_event("requestfinished", lambda asked: "find-text" in asked.url):
        phone.page.locator(".ohm-find-field").tap()
    assert phone.page.evaluate("Boolean(window.Ohm.matchItems)")
    ground = "getComputedStyle(document.querySelector('.ohm-header')).backgroundColor"
    assert phone.page.evaluate(ground) == "rgb(250, 249, 245)"
    assert [one for one in phone.complaints if "Content Security Policy" in one] == []
    assert phone.asked_elsewhere(home) == []
    phone.page.evaluate("""() => {
        const script = document.createElement("script");
        script.textContent = "window.slipped = true";
        document.head.append(script);
    }""")
    assert phone.page.evaluate("window.slipped") is None
    assert any("Content Security Policy" in one for one in phone.complaints)


def test_fahrenheit_is_kept_from_page_to_page_and_a_difference_has_no_32_in_it(opened, folder):
    page = opened.page
    assert page.locator(".ohm-t").inner_text() == "−5 °C"
    page.get_by_role("button", name="Temperatures in °C; change to °F").tap()
    assert page.locator(".ohm-t").inner_text() == "23\u00a0°F"
    assert page.locator(".ohm-dt").inner_text() == "3.6\u00a0°F"
    page.goto((folder / "safety.html").as_uri())
    assert page.locator(".ohm-t").inner_text() == "23\u00a0°F"
    page.get_by_role("button", name="Temperatures in °F; change to °C").tap()
    assert page.locator(".ohm-t").inner_text() == "−5 °C"
    assert page.locator(".ohm-dt").inner_text() == "2.0 K"


GROUND = "getComputedStyle(document.body).backgroundColor"
LIGHT, DARK = "rgb(250, 249, 245)", "rgb(15, 22, 21)"


def test_light_and_dark_follow_the_phone_until_somebody_chooses(opened, folder):
    page = opened.page
    assert page.evaluate(GROUND) == LIGHT
    page.emulate_media(color_scheme="dark")
    assert page.evaluate(GROUND) == DARK
    page.get_by_role("button", name="Change to light").tap()
    assert page.evaluate(GROUND) == LIGHT
    page.goto((folder / "safety.html").as_uri())
    assert page.evaluate(GROUND) == LIGHT
    page.get_by_role("button", name="Change to dark").tap()
    page.emulate_media(color_scheme="light")
    assert page.evaluate(GROUND) == LIGHT


def test_ticks_stay_on_the_phone_until_cleared_and_complete_is_said_by_hand(opened):
    page = opened.page
    state = page.locator(".ohm-tick-state")
    assert state.inner_text() == "0 of 2 done, 2 left."
    page.get_by_label("X24").check()
    page.reload()
    assert page.get_by_label("X24").is_checked()
    assert state.inner_text() == "1 of 2 done, 1 left."
    assert page.get_by_role("button", name="Complete").is_disabled()
    page.get_by_label("X25").check()
    page.get_by_role("button", name="Complete").tap()
    page.reload()
    assert state.inner_text() == "✓ Complete: all 2 done."
    page.get_by_role("button", name="Clear ticks").tap()
    page.get_by_role("button", name="Yes, clear them").tap()
    page.reload()
    assert not page.get_by_label("X24").is_checked()


@pytest.mark.parametrize(("wide", "text"), [(390, 100), (320, 100), (390, 200)])
def test_nothing_but_a_wide_table_goes_off_the_side(browser, folder, wide, text):
    context = browser.new_context(viewport={"width": wide, "height": 700})
    page = context.new_page()
    page.goto((folder / "parts" / "index.html").as_uri())
    # As a browser's own text size does: the root grows, rem with it.
    page.evaluate(f"document.documentElement.style.fontSize = '{106.25 * text / 100}%'")
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    scroll = page.locator(".ohm-scroll")
    assert scroll.evaluate("e => e.scrollWidth > e.clientWidth")
    scroll.focus()
    page.keyboard.press("ArrowRight")
    for _ in range(50):
        if scroll.evaluate("e => e.scrollLeft > 0"):
            break
        page.wait_for_timeout(20)
    assert scroll.evaluate("e => e.scrollLeft > 0")
    context.close()


def test_what_a_thumb_presses_is_48_pixels(opened):
    for one in opened.page.locator("button:visible, .ohm-tick label, .ohm-find-field").all():
        box = one.bounding_box()
        assert box["height"] >= 48, one.inner_text()
        assert box["width"] >= 48


def test_on_paper_there_is_nothing_to_press(opened):
    opened.page.emulate_media(media="print")
    assert opened.page.locator("button:visible, .ohm-find:visible").count() == 0
    assert opened.page.locator(".ohm-caution").is_visible()
    assert opened.page.evaluate(GROUND) == "rgb(255, 255, 255)"


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours.

    Source: WCAG 2.1, definitions of relative luminance and contrast ratio.
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("sheets", [("tokens.css",), ("tokens.css", "dark.css")])
def test_every_word_stands_out_by_seven_to_one(sheets):
    colours: dict[str, str] = {}
    for name in sheets:
        css = (DRESSING / "assets" / name).read_text(encoding="utf-8")
        colours.update(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", css))
    pairs = [
        (ink, ground)
        for ink in ("ink", "ink-soft", "link", "accent", "good", "bad", "open", "other")
        for ground in ("ground", "raised")
    ] + [
        ("ink", "sunk"),
        ("bar-ink", "bar"),
        ("warn-ink", "warn-ground"),
        ("ink", "field"),
        ("ink-soft", "field"),
    ]
    weak = {pair: round(contrast(colours[pair[0]], colours[pair[1]]), 2) for pair in pairs}
    assert {pair: ratio for pair, ratio in weak.items() if ratio < 7} == {}
