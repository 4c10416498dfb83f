"""What a part's forms ask folded: leads without names, damp, how a reading moved."""

from __future__ import annotations

from .test_part_forms import FAN, SPLIT, START, _insulation, _open, _verdict, _windings

PUMP = "parts/veldane-pump.html"


def test_three_leads_without_names_are_told_beneath_the_answer(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, START)
    fold = page.locator('[data-calc="winding"] details')
    assert fold.evaluate("fold => fold.open") is False
    fold.locator("summary").click()
    for i, reading in enumerate(("98", "41 41.2", "57"), start=3):
        page.locator(f"#winding-{i}").fill(reading)
    page.locator("#winding-at").fill("20")
    said = page.locator('[data-calc="winding"] output').inner_text()
    assert said.startswith(
        "Lead 3 is blue, the common one; 2 is brown, usually run; 1 is black, usually start."
    )
    assert "Within limits" in said
    assert phone.complaints == []


def test_a_star_names_its_winding_and_the_page_says_what_its_limit_hides(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, PUMP)
    static = page.locator("body").inner_text().replace("\u00a0", " ")
    assert "Joined as a star." in static
    assert "3.0 % off the mean is about 9.0 % of one winding" in static
    page.locator("#winding-meter").select_option("bench-meter")
    _windings(page, "5.6", "5.9", "5.6", at="")
    assert "turns of the winding at U are shorted: in this star it has 2.65 Ω" in (
        _verdict(page, "winding")
    )
    assert phone.complaints == []


def test_dampness_and_how_it_moved_fold_beneath_the_answer(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    assert "Outside limits" in _insulation(page, "500", "2M", at="12")
    damp, moved = page.locator('[data-calc="insulation"] details').all()
    assert not damp.evaluate("fold => fold.open") and not moved.evaluate("fold => fold.open")
    damp.locator("summary").click()
    page.locator("#insulation-air").fill("20")
    page.locator("#insulation-humidity").fill("61")
    moved.locator("summary").click()
    page.locator("#insulation-trend").select_option("falling")
    said = _verdict(page, "insulation")
    assert said.startswith("? Not decided 1.35 MΩ is too little, but the winding at 12.0 °C is not")
    assert "It fell while the voltage stood" in said
    page.locator("#insulation-humidity").fill("wet")
    assert page.locator("#insulation-humidity").get_attribute("aria-invalid") == "true"
    page.locator("#insulation-humidity").fill("20")
    page.locator("#insulation-10min").fill("4M")
    said = page.locator('[data-calc="insulation"] output').inner_text().replace("\u00a0", " ")
    assert "Outside limits" in said and "which means little here: a small winding" in said
    assert phone.complaints == []


def test_only_a_compressor_warns_of_vacuum(phone: object, home_file: str) -> None:
    caution = '[data-calc="insulation"] .ohm-caution'
    assert "Never under vacuum" in _open(phone, home_file, SPLIT).locator(caution).inner_text()
    assert "vacuum" not in _open(phone, home_file, FAN).locator(caution).inner_text()
