"""The job page: one machine's readings, settings, proofs and photos, and how they leave the phone."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import ExifTags, Image

from .test_job_bar import jobs_kept, leave, start
from .test_job_ticks import BOARD, boxes, keys, tick_all

ROOT = Path(__file__).resolve().parents[2]
CODE = "codes/quellmark-k4-2.html"
SENSOR = "sensors/quellmark-coil-out.html"
JOB = "jobs/quellmark-rooftop.html"
MOTOR = "parts/quellmark-compressor.html"
FAMILY = "quellmark-rooftop"
ORIENTATION = 0x0112
TURN_RIGHT = 6


def measure(page, served: str, reading: str = "OL", *, after: bool = False, at: str = "7") -> None:
    """Read R4 as an engineer would."""
    page.goto(served + SENSOR)
    if after:
        page.get_by_text("after the repair", exact=True).click()
    page.get_by_label("Temperature at the sensor", exact=True).fill(at)
    page.get_by_text("Strapped", exact=True).first.click()
    page.get_by_label("Meter shows").fill(reading)


def add_to_job(page, what: str, of: str, typed: dict, *, state: str = "") -> None:
    """Put a measurement of a form into the open job, as that form keeps it."""
    page.evaluate(
        "([family, measured]) => Ohm.addMeasurement(family, measured)",
        [FAMILY, {"what": what, "of": of, "typed": typed, "state": state}],
    )


def photo(*, wide: int = 2600, high: int = 1300) -> bytes:
    """A photo as a camera writes it: held sideways, saying where it was taken."""
    image = Image.new("RGB", (wide, high), "white")
    image.paste((220, 0, 0), (0, 0, wide // 2, high // 2))
    exif = Image.Exif()
    exif[ORIENTATION] = TURN_RIGHT
    exif[ExifTags.IFD.GPSInfo] = {ExifTags.GPS.GPSLatitude: (51.0, 30.0, 0.0)}
    raw = io.BytesIO()
    image.save(raw, "JPEG", exif=exif, comment=b"the house of somebody")
    return raw.getvalue()


def take_photo(page, words: str) -> None:
    count = page.locator(".ohm-job-photo").count()
    page.locator("#photo-new").set_input_files(
        {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": photo()}
    )
    page.locator(".ohm-job-photo img[src]").nth(count).wait_for()
    page.get_by_label("What it shows").nth(count).fill(words)


def fill_in(page) -> None:
    page.get_by_label("What was found").fill("Open at the plug.")
    page.get_by_label("The cause").select_option("sensor:quellmark-coil-out")
    page.get_by_label("What was done").fill("New sensor.")
    page.get_by_label("Minutes on site").fill("40")
    page.get_by_label("Your initials").fill("RT")


def text_of(page) -> str:
    return page.locator(".ohm-job-text").inner_text().replace("\u00a0", " ")


def test_a_code_in_the_address_is_added_and_wins_over_the_kept_one(phone, served) -> None:
    page = phone.page
    page.goto(served + JOB + "?code=quellmark-k4-2")
    page.get_by_label("What was found").fill("Frost.")
    page.goto(served + JOB + "?code=quellmark-k5-1")
    assert page.get_by_label("The machine showed").input_value() == "quellmark-k5-1"
    shown = text_of(page).partition("What was found")[0]
    assert "- K4-2 (" in shown and "- K5-1 (" in shown
    # It is taken once: whoever says another one here keeps that.
    page.get_by_label("The machine showed").select_option("quellmark-k4-2")
    page.reload()
    assert page.get_by_label("The machine showed").input_value() == "quellmark-k4-2"


def test_the_code_reaches_the_job_without_a_field_being_edited(phone, served) -> None:
    page = phone.page
    page.goto(served + CODE)
    page.get_by_role("link", name="Start your job with this code").click()
    page.wait_for_url("**/" + JOB + "*")
    page.goto(served + SENSOR)
    page.goto(served + JOB)
    assert page.get_by_label("The machine showed").input_value() == "quellmark-k4-2"


def test_in_a_file_of_its_own_the_code_is_not_lost(browser, pocket_file) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(pocket_file + "#codes-quellmark-k4-2")
    page.get_by_role("link", name="Measure R4 outdoor coil").click()
    page.goto(pocket_file + "#jobs-quellmark-rooftop")
    assert page.get_by_label("The machine showed").input_value() == "quellmark-k4-2"
    context.close()


def test_everything_measured_reaches_the_job_with_its_time_and_its_instruments(
    phone, served
) -> None:
    page = phone.page
    measure(page, served)
    measure(page, served, "20.3k", after=True)
    page.goto(served + MOTOR)
    add_to_job(
        page,
        "windings",
        "quellmark-compressor",
        {
            "at": "12",
            "how": "held-on",
            "readings": {"U-V": "1.02", "V-W": "1.03"},
            "meter": "pocket-meter",
        },
        state="undecided",
    )
    add_to_job(page, "insulation", "quellmark-compressor", {"reading": "200M", "volts": "500"})
    add_to_job(page, "volts", "quellmark-coil-out", {"volts": "350 mV", "supply": "4.9"})
    add_to_job(page, "controller", "quellmark-coil-out", {"shown": "7.5", "reading": "20k"})
    page.goto(served + JOB)
    measured = text_of(page).partition("\nMeasured\n")[2].partition("\n\n")[0].splitlines()
    assert [line[8:] for line in measured] == [
        "R4 outdoor coil: OL at 7.0 °C, strapped and lagged: open circuit. "
        "Taken with Pocket meter, Probe thermometer.",
        "R4 outdoor coil, after the repair: 20.3k at 7.0 °C, strapped and lagged: within limits. "
        "Taken with Pocket meter, Probe thermometer.",
        "Compressor C1, windings: U-V 1.02, V-W 1.03 at 12.0 °C, held on: not decided. "
        "Taken with Pocket meter.",
        "Compressor C1, insulation to earth: 200M with 500 V, no temperature taken.",
        "R4 outdoor coil: 350 mV at the plug, 4.9 V with it off.",
        "R4 outdoor coil: the controller showed 7.5 °C.",
    ]
    # The first stands as it was read: the second overwrote nothing.
    assert [line[2:7].count(":") for line in measured] == [1] * 6
    yaml = page.locator(".ohm-case-text").inner_text()
    assert yaml.count("{sensor: quellmark-coil-out, r:") == 2
    assert "measured:\n- '" in yaml
    assert phone.complaints == []


def test_proofs_stand_with_what_was_read_and_what_is_in_and_proved_is_not_needed(
    phone, served
) -> None:
    page = phone.page
    page.goto(served + BOARD)
    start(page, "left of the lift")
    page.goto(served + JOB)
    page.get_by_label("The cause").select_option("part:quellmark-main-board")
    assert "What is needed, and why" in text_of(page)
    page.goto(served + BOARD)
    tick_all(page)
    keys(page).get_by_role("button", name="Everything is back").click()
    page.get_by_label("What was read: ").first.fill("324 V")
    tick_all(page, "prove")
    page.goto(served + JOB)
    # Ticked and not yet called proved: still needed.
    assert "What is needed, and why" in text_of(page)
    page.goto(served + BOARD)
    keys(page, "prove").get_by_role("button", name="It is proved").click()
    page.goto(served + JOB)
    assert "What is needed, and why" not in text_of(page)
    proved = text_of(page).partition("\nProved\n")[2]
    assert proved.startswith("- Main board A1: in, and proved.\n")
    assert "(read: 324 V)" in proved
    # A plug that is off again: needed again.
    page.goto(served + BOARD)
    boxes(page).nth(0).uncheck()
    page.goto(served + JOB)
    assert "What is needed, and why" in text_of(page)


def test_a_sensor_that_reads_right_after_the_repair_is_not_needed_any_more(phone, served) -> None:
    page = phone.page
    measure(page, served)
    page.goto(served + JOB)
    page.get_by_label("The cause").select_option("sensor:quellmark-coil-out")
    assert "What is needed, and why" in text_of(page)
    measure(page, served, "20.3k", after=True)
    page.goto(served + JOB)
    assert "What is needed, and why" not in text_of(page)
    assert "R4 outdoor coil: in, and proved." in text_of(page)


def test_settings_that_were_written_down_stand_in_the_job(phone, served) -> None:
    page = phone.page
    page.goto(served + BOARD)
    fields = page.locator('form[data-calc="settings"]').locator("input, select")
    field = fields.first
    if field.evaluate("field => field.localName") == "select":
        value = field.locator("option").nth(1).get_attribute("value")
        field.select_option(value)
    else:
        value = "1011"
        field.fill(value)
    page.goto(served + JOB)
    settings = text_of(page).partition("\nSettings written down\n")[2].partition("\n\n")[0]
    assert settings.startswith("- Main board A1: ")
    assert settings.endswith(f": {value}")


def test_print_prints_the_job_and_no_field(phone, served) -> None:
    page = phone.page
    measure(page, served)
    page.goto(served + JOB)
    page.get_by_label("Your mark for it").fill("left of the lift")
    fill_in(page)
    take_photo(page, "The plug in its guide")
    page.emulate_media(media="print")
    sheet = page.locator(".ohm-job-sheet")
    shown = sheet.inner_text().replace("\u00a0", " ")
    for words in ("left of the lift", "Open at the plug.", "New sensor.", "The plug in its guide"):
        assert words in shown
    row = sheet.locator("tbody tr").inner_text().replace("\u00a0", " ")
    assert (
        "OL at 7.0 °C, strapped and lagged" in row
        and "Open circuit" in row
        and "Pocket meter" in row
    )
    assert sheet.locator("figure img").bounding_box()["height"] > 100
    assert not page.locator("form.ohm-job").is_visible()
    assert not page.locator(".ohm-job-outcome").is_visible()
    page.emulate_media(media="screen")
    assert not sheet.is_visible()


def test_two_machines_of_one_family_share_nothing(phone, served) -> None:
    page = phone.page
    measure(page, served)
    page.goto(served + JOB)
    page.get_by_label("Your mark for it").fill("left of the lift")
    fill_in(page)
    start(page, "by the stairs", key="Start, leave the other open")
    for name in ("What was found", "What was done", "Minutes on site"):
        assert page.get_by_label(name).input_value() == ""
    # Initials are the engineer's own.
    assert page.get_by_label("Your initials").input_value() == "RT"
    assert "\nMeasured\n" not in text_of(page)
    measure(page, served, "20.3k")
    page.goto(served + JOB)
    assert "20.3k" in text_of(page) and "OL" not in text_of(page)
    page.get_by_role("button", name="Go on with it: left of the lift").click()
    assert "OL" in text_of(page) and "20.3k" not in text_of(page)
    assert page.get_by_label("What was found").input_value() == "Open at the plug."


def test_a_closed_job_stays_until_it_is_cleared_and_can_be_opened_again(phone, served) -> None:
    page = phone.page
    measure(page, served)
    page.goto(served + JOB)
    page.get_by_label("Your mark for it").fill("left of the lift")
    page.get_by_role("button", name="Close: left of the lift").click()
    assert page.get_by_text("No job is open here").is_visible()
    assert "OL" not in text_of(page)
    page.get_by_role("button", name="Open it again: left of the lift").click()
    assert "OL" in text_of(page)


def test_yesterdays_job_is_left_alone_by_what_is_typed_today(phone, served) -> None:
    page = phone.page
    page.goto(served + JOB)
    page.get_by_label("Your mark for it").fill("left of the lift")
    page.get_by_label("What was found").fill("Yesterday.")
    leave(page, "left of the lift", hours=20)
    page.reload()
    page.get_by_label("Minutes on site").fill("5")
    by_mark = {job["mark"]: job["words"] for job in jobs_kept(page)}
    assert by_mark["left of the lift"] == {"found": "Yesterday."}
    assert by_mark[""] == {"minutes": "5"}
    assert page.get_by_label("What was found").input_value() == ""
