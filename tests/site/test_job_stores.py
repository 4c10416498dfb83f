"""What a job leaves on a phone: photos without place, nothing once it is cleared."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image

from generators.all_commands import ohmfolio
from kb.check import check_notes
from kb.model import Case

from .test_job_bar import jobs_kept
from .test_job_page import CODE, FAMILY, JOB, add_to_job, fill_in, measure, take_photo, text_of
from .test_job_ticks import BOARD, boxes

ROOT = Path(__file__).resolve().parents[2]
OWN = {"ohm.by", "ohm.opened", "ohm.choice.meter", "ohm.choice.thermometer", "ohm.unit", "ohm.look"}
"""What a phone keeps that is the engineer's, and of no job."""
OF_THE_COPY = ("ohm.seen ", "ohm.confirmed ", "ohm.checked ")
"""What it keeps of this copy of the notes."""


STORES = """async () => {
  const photos = await new Promise((resolve) => {
    const asked = indexedDB.open("ohm.photos", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("photos", { keyPath: "key" });
    asked.onsuccess = () => {
      const all = asked.result.transaction("photos").objectStore("photos").getAllKeys();
      all.onsuccess = () => { asked.result.close(); resolve(all.result); };
    };
  });
  const databases = (await indexedDB.databases()).map(({ name }) => name);
  let kept = "";
  for (const name of await caches.keys()) {
    const opened = await caches.open(name);
    for (const request of await opened.keys()) {
      kept += request.url + await (await opened.match(request)).text();
    }
  }
  return {
    local: Object.keys(localStorage), session: Object.keys(sessionStorage), photos, databases,
    caches: kept, cookies: document.cookie, name: window.name,
  };
}"""


def test_a_photo_is_shrunk_upright_and_says_nothing_of_its_place(phone, served, tmp_path) -> None:
    page = phone.page
    measure(page, served)
    page.goto(served + JOB)
    fill_in(page)
    take_photo(page, "The plug's guide")
    take_photo(page, "Not for others")
    page.get_by_label("Goes with the case and on paper").nth(1).uncheck()
    with page.expect_download() as started:
        page.get_by_role("button", name="Save the case").click()
    saved = tmp_path / started.value.suggested_filename
    started.value.save_as(saved)
    with zipfile.ZipFile(saved) as pack:
        assert pack.namelist() == [f"{saved.stem}.yaml", f"{saved.stem}-1.jpg"]
        raw = pack.read(f"{saved.stem}-1.jpg")
    with Image.open(io.BytesIO(raw)) as image:
        assert image.size == (640, 1280)
        red, green, _ = image.getpixel((600, 40))
        assert red > 180 > 90 > green
        assert dict(image.getexif()) == {}
    assert b"somebody" not in raw and b"GPS" not in raw

    notes = tmp_path / "notes"
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, notes / name)
    words = ["case", "add", str(saved), "--photos", "--notes", str(notes)]
    added = CliRunner().invoke(ohmfolio, words)
    assert added.exit_code == 0, added.output
    (shown,) = check_notes(notes).of(Case)[saved.stem].photos
    assert shown.of == "The plug's guide"
    assert phone.complaints == []


def test_a_photo_that_is_taken_out_is_gone(phone, served) -> None:
    page = phone.page
    page.goto(served + JOB)
    take_photo(page, "x")
    page.on("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Take it out").click()
    page.locator(".ohm-job-photo").wait_for(state="detached")
    page.wait_for_function(f"({STORES})().then((kept) => kept.photos.length === 0)")
    assert jobs_kept(page)[0]["photos"] == []


def test_a_file_that_is_no_picture_is_said_and_kept_nowhere(phone, served) -> None:
    page = phone.page
    page.goto(served + JOB)
    page.locator("#photo-new").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"}
    )
    page.get_by_text("This browser can make no picture of that file.").wait_for()
    assert page.locator(".ohm-job-photo").count() == 0


def test_clear_leaves_nothing_of_the_job_in_any_store_of_the_browser(phone, served) -> None:
    page = phone.page
    page.goto(served + CODE)
    page.get_by_role("link", name="Measure R4 outdoor coil").click()
    measure(page, served)
    page.goto(served + BOARD)
    boxes(page).nth(0).check()
    page.get_by_label("What was read: ").first.fill("324 V at noon")
    add_to_job(page, "windings", "quellmark-compressor", {"readings": {"U-V": "1.02"}})
    page.goto(served + JOB)
    page.get_by_label("Your mark for it").fill("north roof 7")
    fill_in(page)
    take_photo(page, "x")
    before = page.evaluate(STORES)
    assert len(before["photos"]) == 1
    assert any(key.startswith("ohm.job.") for key in before["local"])
    asked = []

    def answer(dialog: object) -> None:
        asked.append(dialog.message)
        dialog.dismiss() if len(asked) == 1 else dialog.accept()

    page.on("dialog", answer)
    clear = page.get_by_role("button", name="Clear this job: north roof 7")
    clear.click()
    assert len(jobs_kept(page)) == 1
    clear.click()
    page.get_by_text("Cleared.", exact=True).wait_for()
    assert asked[0].startswith("Clear north roof 7 from this phone: readings, ticks")
    after = page.evaluate(STORES)
    assert after["photos"] == []
    assert {key for key in after["local"] if not key.startswith(OF_THE_COPY)} <= OWN
    assert after["session"] == [] or all("job" not in key for key in after["session"])
    assert after["databases"] == ["ohm.photos"]
    assert after["cookies"] == "" and after["name"] == ""
    everything = page.evaluate("JSON.stringify(localStorage) + JSON.stringify(sessionStorage)")
    everything += after["caches"]
    for trace in ("north roof 7", "Open at the plug.", "324 V at"):
        assert trace not in everything
    # And the page itself says nothing of it any more.
    for name in ("Your mark for it", "What was found", "What was done", "Minutes on site"):
        assert page.get_by_label(name).input_value() == ""
    assert page.get_by_text("No job is open here").is_visible()


def test_what_an_earlier_copy_kept_is_taken_over_into_a_closed_job(phone, served) -> None:
    page = phone.page
    page.goto(served + "safety.html")
    older = {
        f"ohm.job.{FAMILY}": json.dumps({"found": "Open at the plug.", "code": "quellmark-k4-2"}),
        f"ohm.typed.{FAMILY}": json.dumps(
            {"quellmark-coil-out": {"at": "7", "how": "strapped", "reading": "OL"}}
        ),
        "ohm.typed.part.quellmark-compressor": json.dumps({"windings": {"readings": {"U-V": "1"}}}),
        "ohm.ticks.quellmark-main-board-refit": "1 2 3",
        f"ohm.round.{FAMILY}": "8",
    }
    page.evaluate(
        "(older) => Object.keys(older).forEach((key) => localStorage.setItem(key, older[key]))",
        older,
    )
    page.goto(served + JOB)
    assert "stands in a closed job now" in page.locator(".ohm-job-says").inner_text()
    assert page.get_by_label("What was found").input_value() == ""
    assert (
        page.evaluate("(keys) => keys.filter((key) => localStorage.getItem(key))", list(older))
        == []
    )
    page.get_by_role("button", name="Open it again: From before, times not known").click()
    told = text_of(page)
    for words in ("Open at the plug.", "OL at 7.0 °C", "U-V 1", "3 of ", "quellmark-k4-2"):
        assert words in told
    page.reload()
    assert page.locator(".ohm-job-says").inner_text() == ""


@pytest.mark.parametrize("error", ["SecurityError", "QuotaExceededError"])
def test_where_the_phone_keeps_nothing_the_job_goes_on_and_photos_say_so(
    phone, served, error
) -> None:
    page = phone.page
    page.add_init_script(
        f"Storage.prototype.setItem = () => {{ throw new DOMException('no', '{error}'); }};"
        f"IDBFactory.prototype.open = () => {{ throw new DOMException('no', '{error}'); }};"
    )
    page.goto(served + JOB)
    page.get_by_label("Your mark for it").fill("left of the lift")
    fill_in(page)
    take_photo(page, "The plug")
    assert "This phone keeps no photos" in page.locator(".ohm-photo-says").inner_text()
    assert "left of the lift" in text_of(page)
    with page.expect_download() as started:
        page.get_by_role("button", name="Save the case").click()
    assert started.value.suggested_filename.endswith(".zip")
    assert phone.complaints == []
