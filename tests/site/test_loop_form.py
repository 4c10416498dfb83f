"""A motor's PTC loop on its sensor's page: cautions above the field, a verdict below it."""

from __future__ import annotations

LOOP = "sensors/veldane-loop-1.html"


def _open(phone: object, home_file: str) -> object:
    phone.page.goto(home_file.replace("index.html", LOOP))
    return phone.page


def _verdict(page: object) -> str:
    box = page.locator('[data-calc="loop"] output .ohm-verdict')
    return " ".join(box.inner_text().replace("\u00a0", " ").split())


def test_what_spoils_a_loop_or_hurts_stands_above_its_field(phone: object, home_file: str) -> None:
    page = _open(phone, home_file)
    first = page.locator('[data-calc="loop"] > *').first
    assert "ohm-caution" in first.get_attribute("class")
    line = first.locator("summary").inner_text().replace("\u00a0", " ")
    assert "Both loop wires off." in line
    assert "At most 2.5 V on each element, never an insulation tester." in line
    first.locator("summary").click()
    unfolded = first.inner_text()
    assert "Isolated, locked off, proved dead, both loop wires come off the relay" in unfolded
    assert "The maker's instructions, local codes and licensed practice come first." in unfolded
    above, field = (
        page.locator(where).bounding_box()["y"]
        for where in ('[data-calc="loop"] .ohm-caution-line', "#loop-reading")
    )
    assert above < field


def test_a_cold_loop_is_right_without_a_temperature(phone: object, home_file: str) -> None:
    page = _open(phone, home_file)
    page.locator("#loop-reading").fill("180")
    assert _verdict(page) == (
        "✓ Within limits 180.0 Ω is what a sound loop reads in a cold motor, at any temperature from "
        "−20 °C to 100 °C."
    )
    said = page.locator('[data-calc="loop"] .ohm-more').inner_text().replace("\u00a0", " ")
    assert "In a cold motor at most 750.0 Ω, for 3 in series" in said
    assert "120 °C" in said
    assert phone.complaints == []


def test_a_high_loop_waits_for_the_motors_temperature(phone: object, home_file: str) -> None:
    page = _open(phone, home_file)
    page.locator("#loop-reading").fill("5k")
    assert _verdict(page).startswith("? Not decided 5.000 kΩ is more than a sound loop reads in")
    page.locator("#loop-at").fill("25")
    asked = page.locator('[data-calc="loop"] output').inner_text()
    assert asked.startswith("Say how the temperature was taken")
    page.locator("label[for=loop-how-held-on]").click()
    assert _verdict(page) == (
        "✕ Outside limits 5.000 kΩ is more than a sound loop reads at 25.0 °C; it or its lead is bad."
    )
    assert "Open at the guard but whole at the terminal box is the cable." in (
        page.locator('[data-calc="loop"] output').inner_text()
    )
    page.locator("#loop-reading").fill("OL")
    assert _verdict(page).startswith("∞ Open circuit")
    page.locator("#loop-reading").fill("5")
    assert _verdict(page).startswith("0 Short circuit 5.000 Ω: loop or lead is bridged")
    assert phone.complaints == []


def test_field_and_answer_stand_on_the_first_screen(phone: object, home_file: str) -> None:
    page = _open(phone, home_file)
    page.locator("#loop-reading").fill("180")
    top = "(place) => place.getBoundingClientRect().top + scrollY"
    assert page.locator("#loop-reading").evaluate(top) <= 600
    assert page.locator('[data-calc="loop"] output').evaluate(top) <= 800
