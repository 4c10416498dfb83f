"""A whole job on a phone without network, and back into the notes: the counts of the code change."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from generators.all_commands import ohmfolio
from generators.build import build
from kb.check import check_notes
from kb.model import Part

ROOT = Path(__file__).resolve().parents[2]
BOARD = "parts/quellmark-main-board.html"


@pytest.fixture()
def at(home_file: str):
    """The address of a page in the folder."""
    return lambda path: home_file.replace("index.html", path)


def _counts(page_text: str, suspect: str) -> str:
    """Return `3 of 7 here` of one suspect, from the code page's HTML."""
    found = re.search(re.escape(suspect) + r".*?, (\d+ of \d+ here)\.<", page_text, re.DOTALL)
    assert found, suspect
    return found[1]


def test_from_the_code_to_the_copied_summary_and_the_case_back_in_the_notes(
    phone: object, home_file: str, at, site: Path, tmp_path: Path
) -> None:
    page = phone.page
    # The code, as a person would type it.
    page.goto(home_file)
    page.get_by_role("combobox").click()
    page.get_by_role("combobox").press_sequentially("k42")
    page.get_by_role("option").first.click()
    page.wait_for_url("**/codes/quellmark-k4-2.html")
    page.get_by_role("link", name="R4 outdoor coil").first.click()
    # Its reading before and after.
    page.get_by_label("Temperature at the sensor", exact=True).fill("7")
    page.get_by_text("Strapped", exact=True).first.click()
    page.get_by_label("Meter shows").fill("OL")
    assert "Open circuit" in page.locator(".ohm-verdict-word").inner_text()
    page.get_by_text("after the repair", exact=True).click()
    assert page.get_by_label("Meter shows").input_value() == ""
    page.get_by_label("Temperature at the sensor", exact=True).fill("7")
    page.get_by_text("Strapped", exact=True).first.click()
    page.get_by_label("Meter shows").fill("20.3k")
    assert "Within limits" in page.locator(".ohm-verdict-word").inner_text()
    # Gathered on the job page.
    page.get_by_role("link", name="To the job").click()
    page.wait_for_url("**/jobs/quellmark-rooftop.html")
    assert page.get_by_label("The machine showed").input_value() == "quellmark-k4-2"
    page.get_by_label("The cause").select_option("sensor:quellmark-coil-out")
    page.get_by_label("What was found").fill("No heat since six. R4 open at the plug, X24 dry.")
    page.get_by_label("What was done").fill("New sensor with paste, drip loop tied.")
    page.get_by_label("Minutes on site").fill("55")
    page.get_by_label("Your initials").fill("MO")
    page.get_by_label("What the next colleague should know").fill("Look at the sleeve first.")
    told = page.locator(".ohm-job-text").inner_text()
    for words in (
        "Quellmark RT rooftop heat pump",
        "K4-2",
        "R4 outdoor coil: OL at 7.0 °C, strapped and lagged: open circuit. Taken with Pocket meter, "
        "Probe thermometer.",
        "R4 outdoor coil, after the repair: 20.3k at 7.0 °C, strapped and lagged: within limits.",
        "R4 outdoor coil: in, and proved.",
        "licensed practice come first",
    ):
        assert words in told.replace("\u00a0", " "), words
    page.get_by_role("button", name="Copy the text").click()
    # Copying is asked of the phone, which answers a moment later.
    page.wait_for_function("document.querySelector('.ohm-job-says').textContent !== ''")
    assert page.locator(".ohm-job-says").inner_text() in (
        "Copied.",
        "Marked: copy it with the phone's own menu.",
    )
    # Saved as a case, as the phone would send it.
    with page.expect_download() as started:
        page.get_by_role("button", name="Save the case").click()
    saved = tmp_path / started.value.suggested_filename
    started.value.save_as(saved)
    assert phone.complaints == []

    # And back: the keeper adds it, checks, builds; the counts on the code page change.
    notes = tmp_path / "notes"
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, notes / name)
    before = _counts(
        (site / "codes/quellmark-k4-2.html").read_text("utf-8"), "R4 outdoor coil</a></h3>"
    )
    added = CliRunner().invoke(ohmfolio, ["case", "add", str(saved), "--notes", str(notes)])
    assert added.exit_code == 0, added.output
    assert not [one for one in check_notes(notes).problems if not one.warning]
    build(notes, out=tmp_path / "site")
    text = (tmp_path / "site/codes/quellmark-k4-2.html").read_text("utf-8")
    after = _counts(text, "R4 outdoor coil</a></h3>")
    numbers = [tuple(map(int, re.findall(r"\d+", one))) for one in (before, after)]
    assert numbers[1] == (numbers[0][0] + 1, numbers[0][1] + 1)


def test_a_refit_list_with_one_thing_left_cannot_be_called_complete(phone: object, at) -> None:
    page = phone.page
    page.goto(at(BOARD))
    boxes = page.locator(".ohm-tick").first.locator("input[type=checkbox]")
    finish = page.get_by_role("button", name="Everything is back")
    count = boxes.count()
    for i in range(count - 1):
        boxes.nth(i).check()
    state = page.locator(".ohm-tick-state").first
    assert state.inner_text() == f"{count - 1} of {count} put back, 1 left."
    assert finish.is_disabled()
    boxes.nth(count - 1).check()
    finish.click()
    assert state.inner_text() == f"✓ Complete: all {count} put back."
    boxes.nth(3).uncheck()
    assert state.inner_text() == f"No longer complete: {count - 1} of {count} put back, 1 left."
    assert finish.is_disabled()


def test_closing_and_opening_the_browser_loses_no_tick(browser: object, served: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(served + BOARD)
    boxes = page.locator(".ohm-tick").first.locator("input[type=checkbox]")
    for i in (0, 4, 7):
        boxes.nth(i).check()
    kept = context.storage_state()
    context.close()
    context = browser.new_context(storage_state=kept)
    page = context.new_page()
    page.goto(served + BOARD)
    boxes = page.locator(".ohm-tick").first.locator("input[type=checkbox]")
    assert [i for i in range(boxes.count()) if boxes.nth(i).is_checked()] == [0, 4, 7]
    context.close()


def test_the_summary_says_how_many_are_back_and_that_it_is_not_complete(
    phone: object, served: str
) -> None:
    page = phone.page
    page.goto(served + BOARD)
    boxes = page.locator(".ohm-tick").first.locator("input[type=checkbox]")
    for i in range(14):
        boxes.nth(i).check()
    page.goto(served + "jobs/quellmark-rooftop.html")
    page.get_by_label("The cause").select_option("part:quellmark-main-board")
    told = page.locator(".ohm-job-text").inner_text()
    assert f"Main board A1: 14 of {boxes_of(page)} put back (not complete)" in told
    assert "Not proved yet" in told


def boxes_of(page: object) -> int:
    """How many things the board's refit list has."""
    board = check_notes(ROOT).of(Part)["quellmark-main-board"]
    return len(board.refit)


def test_a_job_is_cleared_only_when_asked_and_then_wholly(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + "jobs/quellmark-rooftop.html")
    page.get_by_label("What was found").fill("Something.")
    page.reload()
    assert page.get_by_label("What was found").input_value() == "Something."
    page.once("dialog", lambda dialog: dialog.dismiss())
    page.get_by_role("button", name="Clear this job").click()
    assert page.get_by_label("What was found").input_value() == "Something."
    page.once("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Clear this job").click()
    page.reload()
    assert page.get_by_label("What was found").input_value() == ""


def test_a_case_with_something_unsaid_cannot_be_saved(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + "codes/quellmark-k4-2.html")
    page.get_by_role("link", name="Start your job with this code").click()
    page.locator('form[data-calc="job"]').wait_for(state="visible")
    assert page.get_by_label("The machine showed").input_value() == "quellmark-k4-2"
    save = page.get_by_role("button", name="Save the case")
    assert save.is_disabled()
    assert page.locator(".ohm-case-missing").inner_text() == (
        "Still to be said above: what was found, what it was, what was done, the minutes, "
        "your initials."
    )
    page.get_by_label("What was found").fill("Open at the plug.")
    page.get_by_label("The cause").select_option("words")
    page.get_by_label("In words", exact=True).fill("A mouse.")
    page.get_by_label("What was done").fill("New lead.")
    page.get_by_label("Minutes on site").fill("40")
    page.get_by_label("Your initials").fill("RT")
    assert save.is_enabled()
    assert page.locator(".ohm-case-missing").inner_text() == ""


def test_a_reading_without_a_verdict_says_why_in_the_job_and_stays_out_of_the_case(
    phone: object, served: str
) -> None:
    page = phone.page
    page.goto(served + "sensors/quellmark-coil-out.html")
    page.get_by_label("Temperature at the sensor", exact=True).fill("400")
    page.get_by_label("Meter shows").fill("7k")
    page.goto(served + "jobs/quellmark-rooftop.html")
    (line,) = page.locator(".ohm-job-readings li").all_inner_texts()
    assert line.replace("\u00a0", " ")[6:] == (
        "R4 outdoor coil: 7k at 400.0 °C. Not judged: the curve 'ntc-10k-3435' holds from −50.0 °C "
        "to 110.0 °C, not at 400.0 °C; measure at a temperature inside. Taken with Pocket meter, "
        "Probe thermometer."
    )
    assert "readings:" not in page.locator(".ohm-case-text").inner_text()
    assert phone.complaints == []
