"""Windings and insulation on a phone: cautions and the maker's limit first, loud when too high."""

from __future__ import annotations

import pytest

FAN = "parts/quellmark-fan-motor.html"
COMPRESSOR = "parts/quellmark-compressor.html"
SPLIT = "parts/brenholt-compressor.html"
HEATER = "parts/veldane-frost-heater.html"
START = "parts/osterlyn-condenser-fan.html"


def _open(phone: object, home_file: str, path: str) -> object:
    phone.page.goto(home_file.replace("index.html", path))
    return phone.page


def _windings(page: object, *readings: str, at: str = "20") -> str:
    for i, reading in enumerate(readings, start=1):
        page.locator(f"#winding-{i}").fill(reading)
    page.get_by_label("Temperature of the winding", exact=True).first.fill(at)
    return page.locator('[data-calc="winding"]').inner_text().replace("\u00a0", " ")


def _insulation(page: object, volts: str, reading: str, at: str = "40") -> str:
    form = page.locator('[data-calc="insulation"]')
    form.get_by_label("Test voltage").select_option(volts)
    form.get_by_label("Tester shows after one minute").fill(reading)
    page.locator("#insulation-at").fill(at)
    return form.locator("output").inner_text().replace("\u00a0", " ")


@pytest.mark.parametrize("form", ["winding", "insulation"])
def test_cautions_stand_before_the_first_field(phone: object, home_file: str, form: str) -> None:
    page = _open(phone, home_file, FAN)
    first = page.locator(f'[data-calc="{form}"] > *').first
    assert "ohm-caution" in first.get_attribute("class")
    assert "The maker's instructions, local codes and licensed practice come first" in (
        first.inner_text()
    )


def test_even_windings_are_alike_and_the_makers_value(phone: object, home_file: str) -> None:
    said = _windings(_open(phone, home_file, FAN), "38.7", "38.7", "38.7")
    assert "Alike" in said
    assert "The maker's value" in said
    assert "constant 234.5 for copper" in said
    assert phone.complaints == []


def test_one_low_winding_is_not_alike(phone: object, home_file: str) -> None:
    said = _windings(_open(phone, home_file, FAN), "38.7", "38.7", "31.0")
    assert "Not alike" in said
    assert "4 % is allowed" in said


def test_a_hot_winding_is_brought_to_twenty_degrees(phone: object, home_file: str) -> None:
    # IEC 60335-1: R20 = R (234.5 + 20) / (234.5 + t), of the reading as typed.
    said = _windings(_open(phone, home_file, FAN), "46.0", "46.0", "46.0", at="70")
    assert f"{46.0 * 254.5 / 304.5:.1f} Ω" in said
    assert "The maker's value" in said


def test_an_open_winding_is_named(phone: object, home_file: str) -> None:
    said = _windings(_open(phone, home_file, FAN), "38.7", "OL", "38.7")
    assert "Open circuit" in said
    assert "V1-V2: over range" in said


def test_half_an_ohm_is_too_little_for_a_pocket_meter_and_the_page_says_so(
    phone: object, home_file: str
) -> None:
    said = _windings(_open(phone, home_file, COMPRESSOR), "0.8", "0.8", "0.8")
    assert "Not decided" in said
    assert "one digit of this meter is too coarse to decide" in said
    assert "use one that shows a digit more" in said


def test_equal_low_windings_are_alike_on_a_bench_meter_to_its_last_digit(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, COMPRESSOR)
    page.locator("#winding-meter").select_option("bench-meter")
    said = _windings(page, "0.96", "0.96", "0.96")
    assert "Alike\n\nAlike to the last digit; 3 % is allowed." in said
    assert "0.96 Ω\t" in said and "0.9600" not in said
    assert "0 % ± 0.98 %" in said
    assert "compares readings of one meter on one range within a minute, and nothing else" in said
    assert "Leads zeroed, or their reading taken off: the page takes off nothing." in said
    assert phone.complaints == []


def test_nothing_at_all_is_said_and_not_divided_by(phone: object, home_file: str) -> None:
    said = _windings(_open(phone, home_file, COMPRESSOR), "0", "0.8", "0.8")
    assert "reads nothing: shorted" in said
    assert "NaN" not in said and "Infinity" not in said


def test_start_and_run_windings_are_not_held_against_each_other(
    phone: object, home_file: str
) -> None:
    said = _windings(_open(phone, home_file, START), "41.5", "57.5")
    assert "lik" not in said.split("Pocket meter")[-1].split("The windings at 20")[0]
    assert "The maker's value" in said


@pytest.mark.parametrize("typed", ["a lot", "-3", "6m"])
def test_an_unreadable_winding_gets_words_beside_it(
    phone: object, home_file: str, typed: str
) -> None:
    page = _open(phone, home_file, FAN)
    _windings(page, typed)
    assert page.locator("#winding-1-says").inner_text() != ""
    assert page.locator("#winding-1").get_attribute("aria-invalid") == "true"
    assert "winding-1-says" in page.locator("#winding-1").get_attribute("aria-describedby")
    assert phone.complaints == []


def test_a_test_voltage_above_the_parts_is_refused_loudly_and_nothing_is_judged(
    phone: object, home_file: str
) -> None:
    said = _insulation(_open(phone, home_file, FAN), "1000", "120M")
    assert "Stop. 1000 V is too much for this part." in said
    assert "It is tested with 500 V and no more." in said
    assert "Within" not in said and "within" not in said


def test_the_parts_own_limit_is_judged_first_and_the_standards_is_a_comparison(
    phone: object, home_file: str
) -> None:
    # 2 MΩ of its own beside the standard's 5 MΩ.
    page = _open(phone, home_file, SPLIT)
    said = _insulation(page, "500", "120M")
    compared = said.index("For comparison, IEEE 43: within limits.")
    assert said.index("Part's limit: within limits") < compared
    said = _insulation(page, "500", "3M")
    assert "Part's limit: within limits" in said
    assert "For comparison, IEEE 43: outside limits." in said
    assert "It is not written for hermetic compressors." in said
    assert page.locator('[data-calc="insulation"] output [data-verdict="outside"]').count() == 0


def test_the_standard_is_left_out_where_it_asks_for_the_same(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    said = _insulation(page, "500", "1M")
    assert "Part's limit: outside limits" in said
    assert "For comparison" not in said
    figures = page.locator('[data-calc="insulation"] .ohm-facts').inner_text()
    assert "Correction\nthermoset, IEEE 43" in figures


def test_a_bare_number_is_asked_back_and_never_taken_for_ohms(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, FAN)
    said = _insulation(page, "500", "25.0")
    assert said == (
        "'25.0' of what? Write 25.0M for megohms or 25.0k for kilohms, or OL for over range."
    )
    assert page.locator("#insulation-shows").get_attribute("aria-invalid") == "true"
    assert "Part's limit: outside limits" in _insulation(page, "500", "0")
    assert "Part's limit: within limits" in _insulation(page, "500", "OL")
    assert phone.complaints == []


def test_insulation_is_brought_to_forty_degrees(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    assert "it reads 20.0 MΩ brought there" in _insulation(page, "500", "20M", at="40")
    # A cold winding reads more than it would at 40 °C.
    assert "it reads 15.2 MΩ brought there" in _insulation(page, "500", "20M", at="20")


@pytest.mark.parametrize(
    ("reading", "at", "verdict", "said"),
    [
        (
            "1M",
            "2",
            "outside limits",
            "The cold only flatters: at 40 °C it would read lower still.",
        ),
        (
            "20M",
            "2",
            "not decided",
            "The cold flatters, and below 10 °C no correction holds. Warm it by its crankcase heater "
            "or by standing indoors until it is warm and dry, isolate it again, and read again.",
        ),
        ("OL", "−5", "not decided", "Nothing speaks against it. But the cold flatters"),
        (
            "1M",
            "95",
            "not decided",
            "Heat lowers it, and above 85 °C no correction holds. Let it cool, and read again.",
        ),
        ("20M", "95", "within limits", "cooler it would read more"),
    ],
)
def test_where_no_correction_holds_it_says_what_is_certain_and_what_to_do(
    phone: object, home_file: str, reading: str, at: str, verdict: str, said: str
) -> None:
    told = _insulation(_open(phone, home_file, SPLIT), "500", reading, at=at)
    assert f"Part's limit: {verdict}" in told
    assert said in told
    assert "brought there" not in told and "NaN" not in told
    assert phone.complaints == []


def test_less_than_the_parts_voltage_is_said(phone: object, home_file: str) -> None:
    said = _insulation(_open(phone, home_file, FAN), "250", "120M")
    assert "Tested with 250 V where 500 V is meant" in said


def test_a_heater_is_not_held_to_the_machine_standard(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, HEATER)
    said = _insulation(page, "500", "3M", at="5")
    assert "Part's limit: within limits" in said
    assert "IEEE 43" not in said


def test_the_voltage_is_never_remembered(phone: object, served: str) -> None:
    page = phone.page
    page.goto(served + FAN)
    _insulation(page, "500", "120M")
    page.reload()
    assert page.get_by_label("Test voltage").input_value() == ""
    assert page.get_by_label("Tester shows after one minute").input_value() == "120M"
    assert (
        "Choose the test voltage first"
        in page.locator('[data-calc="insulation"] output').inner_text()
    )
    assert phone.complaints == []
