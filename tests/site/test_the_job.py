"""The job on a phone, from the folder, with the network cut: code, sensor, reading, verdict."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from kb.answers.instruments import Tools
from kb.answers.reading import ReadingAnswer, ReadingQuestion, answer_reading
from kb.catalog import Catalog
from kb.characteristics import characteristic_of
from kb.check import check_notes
from kb.facts import kit_of, sensor_facts, team_short_ohm
from kb.model import Curve, Sensor
from kb.numbers.grid import compile_grid
from kb.numbers.rounding import format_ohm
from kb.words.phrase import sentence

ROOT = Path(__file__).resolve().parents[2]
CODE_PAGE = "codes/quellmark-k4-2.html"


def _type_into_find(phone: object, home: str, typed: str) -> None:
    phone.page.goto(home)
    field = phone.page.get_by_role("combobox")
    field.click()
    field.press_sequentially(typed)


@pytest.mark.parametrize("typed", ["k4-2", "K42", "k4 2", "K4-2", "4 long 2 short", "4L2S"])
def test_a_code_however_typed_leads_to_its_page(phone: object, home_file: str, typed: str) -> None:
    _type_into_find(phone, home_file, typed)
    # A blink pattern may be shown by another family too: its name stands beside each.
    hits = phone.page.get_by_role("option").filter(has_text="K4-2").filter(has_text="Quellmark")
    assert phone.page.get_by_role("option").all_inner_texts().index(hits.first.inner_text()) < 3
    hits.first.click()
    phone.page.wait_for_url(f"**/{CODE_PAGE}")
    assert phone.complaints == []


def test_from_home_to_a_verdict_in_three_taps_besides_what_is_typed(
    phone: object, home_file: str
) -> None:
    taps = 0
    _type_into_find(phone, home_file, "k42")
    phone.page.get_by_role("option").first.click()
    taps += 1
    phone.page.wait_for_url(f"**/{CODE_PAGE}")
    phone.page.get_by_role("link", name="R4 outdoor coil").first.click()
    taps += 1
    phone.page.wait_for_url("**/sensors/quellmark-coil-out.html")
    phone.page.get_by_label("Temperature at the sensor", exact=True).fill("20")
    phone.page.get_by_text("Strapped", exact=True).click()
    taps += 1
    phone.page.get_by_label("Meter shows").fill("12.1k")
    word = phone.page.locator(".ohm-verdict-word")
    assert word.inner_text().split(None, 1)[1] == "Within limits"
    assert taps == 3
    assert phone.complaints == []
    assert phone.asked_elsewhere(home_file.rpartition("/")[0]) == []


def test_the_expected_value_at_seven_degrees_is_pythons(phone: object, home_file: str) -> None:
    curve = check_notes(ROOT).of(Curve)["ntc-10k-3435"]
    exact = format_ohm(characteristic_of(curve).r_ohm(7.0))
    phone.page.goto(home_file.replace("index.html", "sensors/quellmark-coil-out.html"))
    phone.page.get_by_label("Temperature at the sensor", exact=True).fill("7")
    assert phone.page.locator(".ohm-expect strong").inner_text() == exact


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return Catalog(check_notes(ROOT))


def answered(catalog: Catalog, *, at: str, reading: str) -> ReadingAnswer:
    """What the floor of answers says in Python of a reading of R4, taken as the page begins."""
    sensor = catalog.get(Sensor, "quellmark-coil-out")
    curve = catalog.characteristic_of_sensor(sensor)
    facts = sensor_facts(catalog, curve=compile_grid(curve), curve_id=sensor.curve, sensor=sensor)
    # Its page brings the curves of the family alone.
    facts = dataclasses.replace(facts, other_curves={})
    kit = kit_of(catalog)
    tools = Tools(meter=kit.meters[0], thermometer=kit.thermometers[0], placement="strapped")
    short_ohm = team_short_ohm(catalog)
    return answer_reading(
        ReadingQuestion(
            sensor=facts, reading=reading, at=at, tools=tools, short_ohm=short_ohm, kit=kit
        )
    )


@pytest.mark.parametrize(
    ("at", "reading", "word", "instruction"),
    [
        ("20", "OL", "Open circuit", "when_open"),
        ("20", "2", "Short circuit", "when_short"),
        ("20", "7k", "Outside limits", "when_bad"),
        ("20", "12,09k", "Within limits", "when_good"),
        ("20", "900k", "Off the curve", "when_bad"),
        ("20", "13.2k", "Not decided", ""),
    ],
)
def test_a_reading_gets_its_verdict_its_reason_and_what_to_do_in_pythons_words(
    phone: object,
    home_file: str,
    catalog: Catalog,
    at: str,
    reading: str,
    word: str,
    instruction: str,
) -> None:
    page = phone.page
    page.goto(home_file.replace("index.html", "sensors/quellmark-coil-out.html"))
    page.get_by_label("Temperature at the sensor", exact=True).fill(at)
    page.get_by_text("Strapped", exact=True).click()
    page.get_by_label("Meter shows").fill(reading)
    answer = answered(catalog, at=at, reading=reading)
    assert page.locator(".ohm-verdict-word").inner_text().split(None, 1)[1] == word
    assert page.locator(".ohm-verdict-why").inner_text() == sentence(answer.headline)
    assert answer.next.instruction == instruction
    if instruction:
        words = getattr(catalog.get(Sensor, "quellmark-coil-out"), instruction)
        first = " ".join(sentence(step) for step in answer.next.first)
        steps = [f"Next: {first}", f"If it stays so: {words}"] if first else [f"Next: {words}"]
        assert page.locator(".ohm-next").all_inner_texts() == steps
    else:
        # What to read next stands where otherwise the entry's step does, the surest first.
        (step,) = page.locator(".ohm-next").all_inner_texts()
        assert step.startswith("Next: read it again")
        assert page.locator(".ohm-settle").inner_text()
    assert phone.complaints == []


@pytest.mark.parametrize(
    ("at", "reading", "said"),
    [
        ("", "", "Type the temperature at the sensor."),
        ("warm", "", "is not a temperature"),
        ("400", "", "holds from −50.0 °C to 110.0 °C, not at 400.0 °C"),
        ("20", "a lot", "is not a resistance"),
        ("20", "6m", "could be milliohms or megohms"),
        ("20", "-5", "is below zero"),
    ],
)
def test_what_cannot_be_read_gets_words_and_never_nan(
    phone: object, home_file: str, at: str, reading: str, said: str
) -> None:
    phone.page.goto(home_file.replace("index.html", "sensors/quellmark-coil-out.html"))
    phone.page.get_by_label("Temperature at the sensor", exact=True).fill(at)
    phone.page.get_by_label("Meter shows").fill(reading)
    answer = phone.page.locator('[data-calc="judge"] > output').inner_text()
    assert said in answer.replace("\u00a0", " ")
    assert "NaN" not in answer and "undefined" not in answer
    assert phone.complaints == []


def test_what_was_typed_is_kept_after_closing_and_goes_when_asked(
    phone: object, served: str
) -> None:
    page = phone.page
    page.goto(served + "sensors/quellmark-coil-out.html")
    page.get_by_label("Temperature at the sensor", exact=True).fill("7")
    page.get_by_text("Held on", exact=True).click()
    page.get_by_label("Meter shows").fill("6k32")
    page.goto("about:blank")
    page.goto(served + "sensors/quellmark-coil-out.html")
    # A form that is opened anew begins empty, and lists what was read before.
    assert page.get_by_label("Meter shows").input_value() == ""
    earlier = page.locator(".ohm-earlier")
    assert "6k32 at 7.0 °C" in earlier.inner_text().replace("\u00a0", " ")
    earlier.get_by_role("button", name="Remove").click()
    earlier.get_by_role("button", name="Yes, remove it").click()
    page.reload()
    assert not earlier.is_visible()


def test_over_http_the_strict_policy_is_never_broken(phone: object, served: str) -> None:
    for path in (
        "index.html",
        CODE_PAGE,
        "sensors/quellmark-coil-out.html",
        "curves/ntc-10k-3435.html",
        "families/quellmark-rooftop.html",
        "parts/quellmark-main-board.html",
        "safety.html",
    ):
        phone.page.goto(served + path)
    assert phone.complaints == []
    assert phone.asked_elsewhere(served) == []


def test_every_page_opens_from_the_folder_without_a_complaint(
    phone: object, site: object, home_file: str
) -> None:
    folder = home_file.rpartition("/")[0]
    one_of_each = {}
    for path in sorted(site.rglob("*.html")):
        one_of_each.setdefault(path.parent, []).append(path)
    for pages in one_of_each.values():
        for path in pages[:4]:
            phone.page.goto(path.as_uri())
    assert phone.complaints == []
    assert phone.asked_elsewhere(folder) == []


def test_without_scripts_a_sensor_page_still_has_its_table(browser: object, home_file: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(home_file.replace("index.html", "sensors/quellmark-coil-out.html"))
    table = page.get_by_role("table", name="R4: expected resistance")
    assert table.is_visible()
    assert "12.09" in table.inner_text()
    assert not any(form.is_visible() for form in page.locator(".ohm-calc").all())
    assert page.get_by_text("Find by list:").is_visible()
    context.close()
