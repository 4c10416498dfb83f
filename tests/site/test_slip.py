"""Something here is wrong: filled in on the phone, copied or saved, taken by the keeper's command."""

from __future__ import annotations

import datetime
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from kb.commands.main import ohmfolio

METHOD = "methods/sensor-ice-water"
"""A page without any form of its own."""
UNSAID = "Still to be said: what is wrong, and your initials."


@pytest.fixture()
def notes(site: Path, tmp_path: Path) -> Path:
    """A copy of the notes that the site was built from, to write to."""
    shutil.copytree(site.parent / "docs_data", tmp_path / "notes/docs_data")
    shutil.copytree(site.parent / "content", tmp_path / "notes/content")
    return tmp_path / "notes"


@pytest.fixture()
def page(phone, site: Path) -> Iterator[object]:
    """A phone that shows the page of a method straight from the folder; nothing complains."""
    phone.page.goto((site / f"{METHOD}.html").as_uri())
    yield phone.page
    assert phone.complaints == []
    assert phone.asked_elsewhere("file:") == []


def keeper(*words: object, notes: Path) -> str:
    asked = [*map(str, words), "--notes", str(notes)]
    result = CliRunner().invoke(ohmfolio, asked, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def filled_in(page) -> None:
    page.locator(".ohm-slip > summary").tap()
    page.get_by_label("What is wrong").fill("Step 3 says 'ten minutes':\nit's five")
    page.get_by_label("Your initials").fill("AA")


def test_the_form_comes_when_its_fold_is_opened_and_waits_for_what_and_by_whom(page) -> None:
    assert page.locator(".ohm-slip form").count() == 0
    page.locator(".ohm-slip > summary").tap()
    save, says = page.get_by_role("button", name="Save the slip"), page.locator(".ohm-slip [role]")
    assert save.is_disabled()
    page.get_by_label("What is wrong").fill("Step 3")
    assert (save.is_disabled(), says.inner_text()) == (True, UNSAID)
    page.get_by_label("Your initials").fill("AA")
    assert (save.is_disabled(), says.inner_text()) == (False, "")


def test_a_saved_slip_is_taken_by_the_command_and_shown_by_due(page, notes, tmp_path) -> None:
    filled_in(page)
    page.get_by_label("What it should be, if you know").fill("Five minutes")
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save the slip").tap()
    name = saved.value.suggested_filename
    assert name.startswith(f"slip-{Path(METHOD).name}-{datetime.date.today().isoformat()}-")
    assert page.locator(".ohm-slip [role]").inner_text() == (
        f"Saved as {name}: send it to the keeper."
    )
    saved.value.save_as(tmp_path / name)
    # The entry is as it was when the page was built: nothing is said of a change.
    assert keeper("case", "add", tmp_path / name, notes=notes) == (
        f"docs_data/slips/{name} is in the notes: ohmfolio due shows it until it is settled.\n"
    )
    shown = keeper("due", "--kind", "methods", notes=notes)
    assert ": Step 3 says 'ten minutes': it's five\n    Should be: Five minutes\n" in shown
    assert "changed since" not in shown


def test_a_slip_is_copied_as_it_stands_and_says_its_release(page, notes, tmp_path) -> None:
    filled_in(page)
    page.get_by_role("button", name="Copy the slip").tap()
    page.wait_for_function("document.querySelector('.ohm-slip [role]').textContent !== ''")
    text = page.locator(".ohm-slip pre").text_content()
    marked = page.evaluate("String(getSelection())")
    says = page.locator(".ohm-slip [role]").inner_text()
    assert says.startswith("Copied: ") or marked.strip() == text.strip()
    release = page.evaluate("Ohm.release")
    assert f"\nrelease: '{release['number']} {release['name']}'\n" in text
    (tmp_path / "slip-a.yaml").write_text(text, encoding="utf-8")
    keeper("case", "add", tmp_path / "slip-a.yaml", notes=notes)


def test_without_scripts_it_says_what_to_send(browser, site, notes, tmp_path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / f"{METHOD}.html").as_uri())
    fold = page.locator(".ohm-slip")
    assert f"It is about docs_data/{METHOD}.yaml." in fold.inner_text()
    form = page.locator(".ohm-slip pre").text_content()
    assert form.startswith(f"entry: {METHOD}\nwrong: …\nbetter: …\nby: …\non: …\nversion: ")
    context.close()
    sent = form.replace("better: …\n", "").replace("on: …", "on: 2026-03-01")
    sent = sent.replace("…", "Step 3", 1).replace("…", "AA", 1)
    (tmp_path / "sent.yaml").write_text(sent, encoding="utf-8")
    keeper("case", "add", tmp_path / "sent.yaml", notes=notes)


def test_in_a_file_of_one_family_it_works_too(phone, pocket_file) -> None:
    phone.page.goto(f"{pocket_file}#sensors-quellmark-coil-out")
    filled_in(phone.page)
    text = phone.page.locator(".ohm-slip pre").text_content()
    assert text.startswith(
        "entry: sensors/quellmark-coil-out\nwrong: 'Step 3 says ''ten minutes'':"
    )
    assert phone.page.get_by_role("button", name="Save the slip").is_enabled()
    phone.page.goto(f"{pocket_file}#sensors-quellmark-coil-in")
    filled_in(phone.page)
    assert phone.page.locator(".ohm-slip form").count() == 1
    assert phone.page.locator(".ohm-slip-send").count() == 0
    assert phone.complaints == []
