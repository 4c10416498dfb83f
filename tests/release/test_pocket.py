"""A family in one file: small enough for any messenger, readable without scripts, asking nobody."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from generators.publish.pockets import NoSuchFamily, write_pockets
from kb.site_folder import FolderNotOurs

ROOT = Path(__file__).resolve().parents[2]
MOST_BYTES = 1_100_000


@pytest.fixture(scope="module")
def pockets(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Return the demo's files by family."""
    notes = tmp_path_factory.mktemp("pockets")
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, notes / name)
    return {path.stem: path for path, _ in write_pockets(notes, families=(), to=notes / "pocket")}


def test_every_family_gets_a_file_that_a_message_carries(
    pockets: dict[str, Path], tell: Callable[[str, str], None]
) -> None:
    sizes = {name: path.stat().st_size for name, path in pockets.items()}
    assert set(sizes) == {one.stem for one in (ROOT / "docs_data/families").glob("*.yaml")}
    assert max(sizes.values()) < MOST_BYTES
    tell("pocket copies", ", ".join(f"{name} {size / 1e3:.0f} kB" for name, size in sizes.items()))


def test_the_file_leads_to_no_other_file_and_every_anchor_in_it_is_there(
    pockets: dict[str, Path],
) -> None:
    for path in pockets.values():
        whole = path.read_text(encoding="utf-8")
        text = re.sub(r"<script\b.*?</script>", "", whole, flags=re.DOTALL)
        hrefs = set(re.findall(r'<a\b[^>]*\shref="([^"]*)"', text))
        ids = set(re.findall(r'\sid="([^"]*)"', text))
        assert {one for one in hrefs if not one.startswith(("#", "https://"))} == set()
        assert {one[1:] for one in hrefs if one.startswith("#")} - ids == set()
        assert not re.search(r'\ssrc="(?!data:)', text)
        assert text.count("<article") == text.count("</article>") > 20


def test_without_scripts_everything_can_be_read(pockets: dict[str, Path], browser: object) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(pockets["quellmark-rooftop"].as_uri())
    assert page.locator("[data-pocket] > article").count() > 40
    assert page.locator("h1", has_text="R5").is_visible()
    page.click("nav[aria-label='In this file'] >> text=Safety")
    assert page.url.endswith("#safety")
    context.close()


def test_with_scripts_find_leads_to_a_sensor_and_its_reading_is_judged(
    pockets: dict[str, Path], browser: object
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    complaints, asked = [], []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(pockets["quellmark-rooftop"].as_uri())
    assert page.locator("article").count() == 1
    page.fill(".ohm-find-field", "x25")
    page.wait_for_selector(".ohm-find-hit")
    page.press(".ohm-find-field", "Enter")
    page.wait_for_url("**#sensors-quellmark-air-out")
    page.wait_for_selector("h1:has-text('R5')")
    # 12.09 kΩ is this curve's value at 20 °C (Semitec AT, resistance table).
    page.fill("[data-calc=judge] input[name=at]", "20")
    page.click("[data-calc=judge] label[for=how-strapped]")
    page.fill("[data-calc=judge] input[name=reading]", "12.09k")
    page.wait_for_selector("text=Within limits")
    page.fill("[data-calc=judge] input[name=reading]", "5k")
    page.wait_for_selector("text=Outside limits")
    page.evaluate("() => { location.hash = '#codes-quellmark-k1-1'; }")
    page.wait_for_selector("h1:has-text('K1-1')")
    assert complaints == []
    assert {one.partition("#")[0] for one in asked} == {pockets["quellmark-rooftop"].as_uri()}
    context.close()


def test_back_brings_the_query_back_within_one_file(
    pockets: dict[str, Path], browser: object
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(pockets["quellmark-rooftop"].as_uri())
    page.fill(".ohm-find-field", "rooftop flashes 4 long 2 short")
    assert page.locator(".ohm-find-why").all_inner_texts() == ["blinks 4 long 2 short"]
    page.press(".ohm-find-field", "Enter")
    page.wait_for_selector("h1:has-text('K4-2')")
    assert page.input_value(".ohm-find-field") == ""
    assert not page.locator(".ohm-find-panel").is_visible()
    page.go_back()
    page.wait_for_selector(".ohm-find-hit")
    assert page.input_value(".ohm-find-field") == "rooftop flashes 4 long 2 short"
    page.go_forward()
    page.wait_for_selector("h1:has-text('K4-2')")
    assert not page.locator(".ohm-find-panel").is_visible()
    context.close()


def test_what_must_be_known_before_the_work_is_a_tap_away_and_with_scripts_in_its_place(
    pockets: dict[str, Path], browser: object
) -> None:
    address, name = pockets["quellmark-rooftop"].as_uri(), "sensors-quellmark-air-out"
    reading = browser.new_context(java_script_enabled=False).new_page()
    reading.goto(f"{address}#{name}")
    leading = reading.locator(f"#{name} a[data-whole]").first
    anchor = leading.get_attribute("href")
    words = reading.locator(anchor).text_content()
    assert len(words) > 200
    assert reading.locator(anchor).count() == 1
    leading.click()
    assert reading.url.endswith(anchor)
    reading.context.close()
    page = browser.new_context().new_page()
    page.goto(f"{address}#{name}")
    assert page.locator("a[data-whole]").count() == 0
    assert words in page.locator("article").text_content()
    page.context.close()


def when_still(figure: object) -> bytes:
    """Return the picture of a figure that moves no more: its page may still be settling."""
    before = figure.screenshot()
    for _ in range(20):
        after = figure.screenshot()
        if after == before:
            return after
        before = after
    raise AssertionError("the page never came to rest")


def test_a_sketch_in_the_file_looks_as_on_its_own_page(
    pockets: dict[str, Path], browser: object
) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto(f"{pockets['quellmark-rooftop'].as_uri()}#sensors-quellmark-air-out")
    assert page.locator("article .ohm-sketch use").count() > 3
    figure = page.locator("article figure:has(.ohm-sketch)").first
    once = when_still(figure)
    page.evaluate("""() => document.querySelectorAll("article use").forEach((mark) => {
        const drawn = document.querySelector(mark.getAttribute("href")).cloneNode(true);
        mark.replaceWith(...drawn.childNodes);
    })""")
    assert when_still(figure) == once
    page.context.close()


def test_an_unknown_family_is_named_with_the_nearest(pockets: dict[str, Path]) -> None:
    notes = next(iter(pockets.values())).parents[1]
    with pytest.raises(NoSuchFamily) as told:
        list(write_pockets(notes, families=("quellmark-roof",), to=notes / "pocket"))
    assert str(told.value) == (
        "there is no family 'quellmark-roof'; did you mean 'quellmark-rooftop'?"
    )


def test_a_file_of_somebody_elses_is_not_replaced_and_no_family_is_written(
    pockets: dict[str, Path], tmp_path: Path
) -> None:
    notes = next(iter(pockets.values())).parents[1]
    theirs = tmp_path / "veldane-chiller.html"
    theirs.write_text("<p>Minutes of the meeting</p>")
    with pytest.raises(FolderNotOurs) as told:
        list(write_pockets(notes, families=(), to=tmp_path))
    assert str(told.value) == (
        f"{theirs} is no pocket file that was written here, and would be replaced; move it, or "
        "name another folder with --to"
    )
    assert [path.name for path in tmp_path.iterdir()] == ["veldane-chiller.html"]
    assert theirs.read_text() == "<p>Minutes of the meeting</p>"


@pytest.mark.parametrize("place", ["docs_data", "content/pocket", ".build/published"])
def test_no_file_goes_where_a_build_reads_or_works(pockets: dict[str, Path], place: str) -> None:
    notes = next(iter(pockets.values())).parents[1]
    with pytest.raises(FolderNotOurs, match="which a build reads or works in"):
        list(write_pockets(notes, families=("veldane-chiller",), to=notes / place))
    assert not (notes / place / "veldane-chiller.html").exists()


def test_a_file_that_was_written_here_is_written_again(pockets: dict[str, Path]) -> None:
    notes, path = next(iter(pockets.values())).parents[1], pockets["veldane-chiller"]
    before = path.read_bytes()
    assert dict(write_pockets(notes, families=("veldane-chiller",), to=path.parent)) == {
        path: len(before)
    }
    assert path.read_bytes() == before
