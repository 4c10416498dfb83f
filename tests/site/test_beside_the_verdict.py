"""What stands beside a verdict on a phone: the strip, the sister's fold, and earlier readings."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from .conftest import PHONE
from .find_site import until

FORM = 'form[data-calc="judge"]'
ENDS = """() => {
  const [bar] = document.querySelectorAll(".ohm-strip-bar");
  const [, , lines] = document.querySelectorAll(".ohm-strip path");
  return [bar, lines].map((path) => path.getAttribute("d"));
}"""


@pytest.fixture(scope="module")
def opened(browser: object) -> Iterator[object]:
    """One page for all of this file."""
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
    page = context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    yield page
    context.close()
    assert complaints == []


@pytest.fixture()
def page(opened: object, served: str) -> object:
    """That page, the phone empty."""
    opened.goto(served + "safety.html")
    opened.evaluate("localStorage.clear()")
    return opened


def take(page: object, *, reading: str, at: str, how: str) -> None:
    """Type what thermometer and meter show, and wait until it is judged."""
    page.get_by_label("Temperature at the sensor", exact=True).fill(at)
    page.get_by_text(how, exact=True).click()
    page.get_by_label("Meter shows").fill(reading)
    until(page, f"document.querySelector('{FORM} > output .ohm-verdict') !== null")


def words_of(page: object, selector: str) -> str:
    return " ".join(page.locator(f"{FORM} {selector}").inner_text().split())


def test_the_strip_says_in_words_and_order_where_the_error_may_be_and_which_limits_there_are(
    page: object, served: str
) -> None:
    page.goto(served + "codes/brenholt-tm.html")
    page.locator("a[data-ohm-code='brenholt-tm'][href*='brenholt-discharge']").first.click()
    page.wait_for_url("**/sensors/brenholt-discharge.html*")
    take(page, reading="42k", at="25", how="Held on")
    strip = page.locator(".ohm-strip")
    assert strip.is_visible()
    # The narrowest first, and the code's, which is not the part's, last.
    names = [name.replace("\u00a0", " ") for name in strip.locator("text").all_text_contents()]
    assert [re.sub(r" [\d.]+ K$", "", name) for name in names] == [
        "off by (95 %)",
        "part ±",
        "machine ±",
        "code",
    ]
    # Whoever sees no picture is read the same, with the bounds in figures.
    spoken = strip.get_attribute("aria-label").replace("\u00a0", " ")
    assert re.match(r"off by \+[\d.]+ K to \+[\d.]+ K; part ± ", spoken)
    assert spoken.endswith("; ".join(names[1:]))
    bar, lines = page.evaluate(ENDS)
    low, high = (int(x) for x in re.fullmatch(r"M(\d+) 10H(\d+)", bar).groups())
    part, machine = ([int(x) for x in ends] for ends in re.findall(r"M(\d+) \d+H(\d+)", lines)[:2])
    code = int(re.findall(r"M(\d+) \d+v12", lines)[-1])
    middle = 232
    assert machine[0] < part[0] < middle < part[1] < machine[1] == code
    # 2.5 K hotter than measured: the part's own tolerance is ruled out, the two others are not.
    assert part[1] < low < code < high


def test_a_sister_in_the_cup_stands_for_the_thermometer_and_is_kept_as_such(
    page: object, served: str
) -> None:
    page.goto(served + "sensors/quellmark-coil-out.html")
    page.get_by_label("Meter shows").fill("20.3k")
    assert "type the temperature at the sensor" in words_of(page, "> output")
    page.get_by_text("Without a thermometer", exact=True).click()
    fold = page.locator("[data-side=sister]")
    assert "the same meter on the same range" in fold.inner_text()
    page.get_by_label("The sister reads").fill("20.5k")
    until(page, f"document.querySelector('{FORM} > output .ohm-verdict') !== null")
    assert words_of(page, "> output").startswith("✓ Within limits")
    assert "no thermometer counts" in words_of(page, "> output")
    # Another curve reads otherwise in the same cup, once it has come; what it cannot read is refused.
    page.get_by_label("The sister is").select_option(label="R7 (another curve)")
    until(page, f"document.querySelector('{FORM} > output').innerText.includes('Outside')")
    page.get_by_label("The sister reads").fill("9M")
    until(page, f"document.querySelector('{FORM} > output .ohm-verdict') === null")
    assert "take another as the sister" in words_of(page, "> output")
    kept = page.evaluate("Object.keys(localStorage).map((key) => localStorage[key]).join()")
    assert '"how":"sister"' in kept
    assert '"at":""' in kept


def test_an_earlier_reading_of_the_visit_explains_and_is_named_until_it_is_taken_out(
    page: object, served: str
) -> None:
    page.goto(served + "sensors/quellmark-coil-out.html")
    # A sound sensor with 7.7 kΩ in series, at two temperatures: the first alone leaves it open.
    take(page, reading="28k", at="7", how="Strapped")
    assert "7.7 kΩ too much in series (bad contact or joint), the plug of R3" in words_of(
        page, ".ohm-more"
    )
    assert "counts too" not in words_of(page, ".ohm-more")
    page.get_by_role("button", name="Read it again").click()
    take(page, reading="17.7k", at="25", how="Strapped")
    said = words_of(page, ".ohm-more")
    assert re.search(r"Your reading of \d\d:\d\d counts too: 28\.00 kΩ at 7\.0 °C\.", said)
    assert "in series" in said
    assert "R3" not in said.partition("Your reading")[0]
    assert "28k at 7.0 °C" in words_of(page, ".ohm-earlier")
    # Taken out, it counts no more.
    page.get_by_role("button", name="Remove").click()
    page.get_by_role("button", name="Yes, remove it").click()
    until(page, f"!document.querySelector('{FORM} .ohm-more').innerText.includes('counts too')")
