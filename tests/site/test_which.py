"""An unmarked sensor: the page names its curve, or says honestly that it cannot."""

from __future__ import annotations

from pathlib import Path

import pytest

from kb.characteristics import characteristic_of
from kb.check import check_notes
from kb.model import Curve

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def curves() -> dict[str, object]:
    """Every curve of the demo, computed by Python."""
    found = check_notes(ROOT).of(Curve)
    return {key: c for key, one in found.items() if (c := characteristic_of(one)) is not None}


@pytest.fixture()
def which(phone: object, home_file: str) -> object:
    """The page, straight from the folder."""
    phone.page.goto(home_file.replace("index.html", "which.html"))
    phone.page.get_by_label("How it was taken").select_option("strapped")
    return phone.page


def _type(page: object, pairs: list[tuple[str, str]]) -> None:
    for i, (t_c, reading) in enumerate(pairs, start=1):
        if i > 1:
            page.get_by_role("button", name="One more reading").click()
        page.locator(f"#t-{i}").fill(t_c)
        page.locator(f"#r-{i}").fill(reading)


def _says(page: object) -> str:
    return page.locator('[data-calc="which"] output').inner_text().replace("\u00a0", " ")


def test_home_the_curves_and_each_curve_lead_here(phone: object, home_file: str) -> None:
    for path in ("index.html", "curves/index.html", "curves/ntc-10k-3435.html"):
        phone.page.goto(home_file.replace("index.html", path))
        phone.page.get_by_role("link", name="Which curve is this?").first.click()
        phone.page.wait_for_url("**/which.html")
    assert phone.complaints == []


@pytest.mark.parametrize("curve", ["ntc-10k-3435", "ntc-5k-3470", "ni1000-6180", "pt1000"])
def test_readings_of_a_curve_find_it(which: object, curves: dict, curve: str) -> None:
    r_ohm = [curves[curve].r_ohm(t_c) for t_c in (0.0, 40.0)]
    _type(which, [("0", f"{r_ohm[0]:.2f}"), ("40", f"{r_ohm[1]:.2f}")])
    ranking = which.locator(".ohm-ranking a").all()
    hrefs = [one.get_attribute("href") for one in ranking]
    assert f"curves/{curve}.html" in hrefs


def test_two_that_cannot_be_told_apart_are_both_named_with_where_they_part(which: object) -> None:
    _type(which, [("25", "10k")])
    said = _says(which)
    assert "fit: not told apart" in said
    assert "These readings cannot tell " in said and " apart. " in said
    assert "Measure at" in said or "Never do " in said
    assert which.locator(".ohm-ranking > li").count() > 1


def test_a_second_reading_in_ice_water_decides(which: object, curves: dict) -> None:
    r_ohm = curves["ntc-10k-3435"].r_ohm(0.0)
    _type(which, [("25", "10k"), ("0", f"{r_ohm:.0f}")])
    hrefs = [one.get_attribute("href") for one in which.locator(".ohm-ranking a").all()]
    assert "curves/ntc-10k-3435.html" in hrefs
    assert "curves/ntc-10k-3977.html" not in hrefs


def test_what_no_curve_reads_fits_none(which: object) -> None:
    _type(which, [("20", "3.3")])
    said = _says(which)
    assert "None of ours" in said
    assert (
        "No curve of the notes fits. Was the plug off, and sensor and thermometer at one " in said
    )


@pytest.mark.parametrize(
    ("t_c", "reading", "said"),
    [
        ("warm", "10k", "is not a temperature"),
        ("20", "a lot", "is not a resistance"),
        ("20", "OL", "Over range belongs to every curve or none; give what it reads."),
        ("-300", "10k", "below absolute zero"),
        ("900", "10k", "not 900.0\u00a0°C; take another thermometer."),
    ],
)
def test_what_cannot_be_read_is_said_at_its_pair(
    phone: object, which: object, t_c: str, reading: str, said: str
) -> None:
    _type(which, [(t_c, reading)])
    assert said in which.locator(".ohm-pair-says").first.inner_text()
    assert "NaN" not in which.locator('[data-calc="which"]').inner_text()
    assert phone.complaints == []


def test_pairs_stay_on_this_phone_until_cleared(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + "which.html")
    _type(page, [("0", "27.3k"), ("40", "5.8k")])
    page.reload()
    assert page.locator("#r-2").input_value() == "5.8k"
    page.get_by_role("button", name="Clear what I typed").click()
    page.reload()
    assert page.locator("#r-1").input_value() == ""
    assert not page.locator("#r-2").is_visible()
    assert phone.complaints == []


def test_typed_temperatures_follow_the_unit(which: object) -> None:
    _type(which, [("0", "27.28k")])
    before = _says(which)
    which.get_by_role("button", name="Temperatures in °C").click()
    assert which.locator("#t-1").input_value() == "32"
    assert _says(which).splitlines()[0] == before.splitlines()[0]


def test_how_the_temperatures_were_taken_is_asked_and_not_assumed(
    phone: object, home_file: str
) -> None:
    phone.page.goto(home_file.replace("index.html", "which.html"))
    assert phone.page.get_by_label("How it was taken").input_value() == ""
    _type(phone.page, [("0", "32.6k"), ("25", "10k")])
    assert phone.page.locator(".ohm-ranking").count() == 0
    assert "Say how the temperature was taken" in phone.page.locator(".ohm-pairs").inner_text()
