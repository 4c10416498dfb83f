"""One reading of one sensor on a phone: nothing is invented, nothing overwritten, what tells first."""

from __future__ import annotations

import pytest

SENSOR = "sensors/quellmark-coil-out.html"
FORM = 'form[data-calc="judge"]'


@pytest.fixture()
def page(phone: object, served: str):
    """The page of R4, on a fresh phone."""
    phone.page.goto(served + SENSOR)
    yield phone.page
    assert phone.complaints == []


def at_of(page: object):
    return page.get_by_label("Temperature at the sensor", exact=True)


def take(page: object, *, reading: str, at: str = "", how: str = "") -> None:
    """Type a reading as somebody would."""
    if at:
        at_of(page).fill(at)
    if how:
        page.get_by_text(how, exact=True).click()
    page.get_by_label("Meter shows").fill(reading)


def answer_of(page: object) -> str:
    return page.locator(f"{FORM} > output").inner_text().replace("\u00a0", " ")


def measurements(page: object) -> list[dict[str, object]]:
    """What the phone keeps of every job."""
    return page.evaluate(
        """() => Object.keys(localStorage).filter((key) => key.startsWith("ohm.job."))
          .map((key) => JSON.parse(localStorage.getItem(key)).measurements).flat()"""
    )


def test_no_temperature_stands_in_the_field_and_none_is_called_measured(page: object) -> None:
    assert at_of(page).input_value() == ""
    # A sound sensor at 0 °C: at the 20 °C that once stood here it was condemned.
    take(page, reading="27.3k")
    assert "type the temperature at the sensor" in answer_of(page)
    assert page.locator(".ohm-verdict").count() == 0
    (kept,) = measurements(page)
    assert (kept["typed"]["at"], kept["typed"]["how"]) == ("", "")


def test_how_it_was_taken_is_asked_where_the_verdict_hangs_on_it(page: object) -> None:
    assert page.locator(f"{FORM} input[name=how]:checked").count() == 0
    take(page, reading="12.09k", at="20")
    assert "say how the temperature was taken" in answer_of(page).lower()
    page.get_by_text("Strapped", exact=True).click()
    assert answer_of(page).startswith("✓\nWithin limits")


def test_stirred_ice_sets_zero_and_gives_back_what_stood_there(page: object) -> None:
    at_of(page).fill("20")
    page.get_by_text("Ice water", exact=True).click()
    assert at_of(page).input_value() == "0"
    page.get_by_text("Held on", exact=True).click()
    assert at_of(page).input_value() == "20"


def test_a_tap_into_a_field_marks_what_stands_there(page: object) -> None:
    at_of(page).fill("20")
    page.get_by_label("Meter shows").tap()
    at_of(page).tap()
    page.keyboard.type("27")
    assert at_of(page).input_value() == "27"


def test_a_key_gives_the_sign_that_a_keypad_may_lack(page: object) -> None:
    page.get_by_role("button", name="Temperature at the sensor: above or below zero").click()
    page.keyboard.type("7")
    assert at_of(page).input_value() == "−7"
    page.get_by_role("button", name="Temperature at the sensor: above or below zero").click()
    assert at_of(page).input_value() == "7"


def test_a_held_key_goes_on_and_steps_faster(page: object) -> None:
    at_of(page).fill("20")
    key = page.get_by_role("button", name="Temperature at the sensor: more")
    key.scroll_into_view_if_needed()
    box = key.bounding_box()
    page.mouse.move(box["x"] + 10, box["y"] + 10)
    page.mouse.down()
    page.wait_for_timeout(2600)
    page.mouse.up()
    reached = float(at_of(page).input_value())
    # 450 ms, then a step every 150 ms, from the eleventh on two at once: at most 14 single ones.
    assert reached > 20 + 12
    key.click()
    assert float(at_of(page).input_value()) == reached + 1


def test_a_key_invents_no_temperature_to_step_from(page: object) -> None:
    page.get_by_role("button", name="Temperature at the sensor: more").click()
    assert at_of(page).input_value() == ""


def test_over_range_is_answered_without_a_temperature(page: object) -> None:
    take(page, reading="OL")
    assert answer_of(page).startswith("∞\nOpen circuit")
    assert "no thermometer is needed" in answer_of(page)


def test_a_one_is_asked_about_and_never_called_a_short(page: object) -> None:
    take(page, reading="1")
    assert "Short" not in answer_of(page)
    page.get_by_role("button", name="Over range", exact=True).click()
    assert page.get_by_label("Meter shows").input_value() == "OL"
    assert answer_of(page).startswith("∞\nOpen circuit")
    take(page, reading="1.")
    page.get_by_role("button", name="1 ohm").click()
    assert answer_of(page).startswith("0\nShort circuit")


def test_what_tells_stands_above_what_replaces(page: object) -> None:
    # R4 beside the board's 10 kΩ pull-up at 20 °C: still plugged in.
    take(page, reading="5.47k", at="20", how="Strapped")
    more = page.locator(".ohm-more").inner_text()
    places = [
        more.index(words)
        for words in (
            "still plugged in".capitalize(),
            "Next: Take the plug off the board and read again.",
            "If it stays so: New sensor",
        )
    ]
    assert places == sorted(places)


def test_a_second_reading_is_added_and_the_first_stays(page: object) -> None:
    take(page, reading="28k", at="7", how="Strapped")
    page.reload()
    assert page.get_by_label("Meter shows").input_value() == ""
    assert "28k" in page.locator(".ohm-earlier").inner_text()
    take(page, reading="20.3k", at="7", how="Strapped")
    page.get_by_text("after the repair", exact=True).click()
    assert page.get_by_label("Meter shows").input_value() == ""
    assert at_of(page).input_value() == ""
    take(page, reading="20.4k", at="8", how="Held on")
    found = measurements(page)
    assert [(one["typed"]["reading"], one["after"]) for one in found] == [
        ("28k", False),
        ("20.3k", False),
        ("20.4k", True),
    ]


def test_a_temperature_is_offered_with_its_age_and_used_only_when_asked(page: object) -> None:
    take(page, reading="20.3k", at="7", how="Strapped")
    page.reload()
    assert at_of(page).input_value() == ""
    offered = page.get_by_role("button", name="strapped and lagged, just now")
    offered.click()
    assert at_of(page).input_value() == "7"
    assert page.locator("#how-strapped").is_checked()


def test_where_storage_refuses_the_reading_is_judged_all_the_same(
    phone: object, served: str
) -> None:
    phone.page.add_init_script(
        "Storage.prototype.setItem = () => { throw new DOMException('no', 'SecurityError'); };"
    )
    phone.page.goto(served + SENSOR)
    take(phone.page, reading="20.3k", at="7", how="Strapped")
    assert answer_of(phone.page).startswith("✓\nWithin limits")
    phone.page.get_by_text("after the repair", exact=True).click()
    assert "20.3k" in phone.page.locator(".ohm-earlier").inner_text()


def test_volts_and_the_controllers_figure_are_judged_in_their_folds(page: object) -> None:
    take(page, reading="", at="20", how="Strapped")
    page.get_by_text("Volts at the plug, live", exact=True).click()
    assert page.get_by_text("Live work, for those authorised to do it.").first.is_visible()
    page.get_by_label("Volts at the plug, plugged in and powered").fill("4.99")
    volts = page.locator("[data-side=volts] output").inner_text()
    assert "nothing conducts" in volts
    page.get_by_text("What the controller shows", exact=True).click()
    page.get_by_label("The controller shows, in degrees").fill("20")
    shown = page.locator("[data-side=controller] output").inner_text()
    assert "board and sensor are right" in shown
    assert [one["what"] for one in measurements(page)] == ["volts", "controller"]


def test_a_meter_that_is_not_rated_for_the_machine_is_named_first_in_red_with_sign_and_words(
    page: object,
) -> None:
    page.get_by_text("Volts at the plug, live", exact=True).click()
    said = page.locator("[data-unrated]")
    field = page.get_by_label("Volts at the plug, plugged in and powered")
    assert said.inner_text() == ""
    page.locator("details").filter(has=page.locator("#meter")).locator("summary").click()
    page.get_by_label("Meter", exact=True).select_option(label="Bench meter")
    # Nothing is typed yet: once it is, the tips have been there.
    words = " ".join(said.inner_text().split())
    assert words.startswith("✕ Not with this meter")
    assert "Bench meter is not rated for the 620 V" in words
    assert "use Pocket meter" in words
    assert said.bounding_box()["y"] < field.bounding_box()["y"]
    red = "getComputedStyle(document.querySelector('[data-unrated] .ohm-verdict')).borderColor"
    bad = page.evaluate(red)
    take(page, reading="28k", at="7", how="Strapped")
    # Said once more when the curves of other parts have come.
    page.locator(f"{FORM} > output[aria-busy]").wait_for(state="detached")
    judged = page.locator(f"{FORM} > output .ohm-verdict")
    assert judged.get_attribute("data-verdict") == "outside"
    assert judged.evaluate("box => getComputedStyle(box).borderColor") == bad
    # A rated one is held to more as soon as more is found.
    page.get_by_label("Meter", exact=True).select_option(label="Pocket meter")
    assert said.inner_text() == ""
    field.fill("1100")
    assert "Pocket meter is not rated for the 1100 V" in " ".join(said.inner_text().split())
