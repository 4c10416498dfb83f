"""Windings and insulation on a phone: cautions and the maker's limit first, loud when too high."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import urlparse
from urllib.request import url2pathname

import pytest

FAN = "parts/quellmark-fan-motor.html"
COMPRESSOR = "parts/quellmark-compressor.html"
SPLIT = "parts/brenholt-compressor.html"
HEATER = "parts/veldane-frost-heater.html"
START = "parts/osterlyn-condenser-fan.html"


def _open(phone: object, home_file: str, path: str) -> object:
    phone.page.goto(home_file.replace("index.html", path))
    return phone.page


def _open_changed(phone: object, home_file: str, path: str, *, changes: dict[str, str]) -> object:
    """Open a page as other notes would have made it."""
    url = home_file.replace("index.html", path)
    text = Path(url2pathname(urlparse(url).path)).read_text(encoding="utf-8")
    quote = re.search(r"data-facts=\"\{(&[#\w]+;)", text)[1]
    for before, after in changes.items():
        assert text.count(before.replace('"', quote)) == 1
        text = text.replace(before.replace('"', quote), after.replace('"', quote))
    phone.page.route(url, lambda route: route.fulfill(body=text, content_type="text/html"))
    phone.page.goto(url)
    return phone.page


def _windings(page: object, *readings: str, at: str = "20") -> str:
    for i, reading in enumerate(readings, start=1):
        page.locator(f"#winding-{i}").fill(reading)
    page.locator("#winding-at").fill(at)
    return page.locator('[data-calc="winding"]').inner_text().replace("\u00a0", " ")


def _verdict(page: object, form: str) -> str:
    box = page.locator(f'[data-calc="{form}"] output .ohm-verdict')
    return " ".join(box.inner_text().replace("\u00a0", " ").split())


def _insulation(page: object, volts: str, reading: str, at: str = "40") -> str:
    form = page.locator('[data-calc="insulation"]')
    form.get_by_label("Test voltage").select_option(volts)
    form.get_by_label("Tester shows after one minute").fill(reading)
    if at:
        page.locator("#insulation-at").fill(at)
    return form.locator("output").inner_text().replace("\u00a0", " ")


@pytest.mark.parametrize("form", ["winding", "insulation"])
def test_cautions_stand_before_the_first_field(phone: object, home_file: str, form: str) -> None:
    page = _open(phone, home_file, FAN)
    first = page.locator(f'[data-calc="{form}"] > *').first
    assert "ohm-caution" in first.get_attribute("class")
    cautions = first.inner_text().replace("\u00a0", " ")
    assert "The maker's instructions, local codes and licensed practice come first" in cautions
    isolating = cautions.index("isolate, lock off, prove dead (")
    assert cautions.index("Wait 10 min, then measure below 50 V (") > isolating
    own = "Every lead off the inverter" if form == "winding" else "Disconnect first: All six leads"
    assert cautions.index(own) > isolating


def test_even_windings_are_alike_and_the_makers_value(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    said = _windings(page, "38.7", "38.7", "38.7")
    assert _verdict(page, "winding") == (
        "✓ Within limits The windings are alike to the last digit, and each reads what the entry "
        "gives."
    )
    assert "constant 234.5 (copper, as IEC 60335-1" in said
    assert (
        "Even windings do not prove a motor: bearings and a short between turns stay open." in said
    )
    assert "Ohms from lead to lead say nothing about earth: test the insulation too." in said
    assert phone.complaints == []


def test_one_low_winding_is_not_alike(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    _windings(page, "38.7", "38.7", "31.0")
    assert _verdict(page, "winding") == (
        "✕ Outside limits W1-W2 is −14 % off the mean, and 4.0 % is allowed; W1-W2 is −19 % off the "
        "38.4 Ω that its entry gives at 20.0 °C, and 10 % is allowed."
    )


def test_windings_that_differ_among_others_are_balanced_with_their_equals(
    phone: object, home_file: str
) -> None:
    # An entry that has an auxiliary winding beside two equal ones.
    changes = {'"W1-W2":38.4': '"W1-W2":50.0'}
    page = _open_changed(phone, home_file, FAN, changes=changes)
    _windings(page, "38.4", "44.0", "50.0")
    assert _verdict(page, "winding") == (
        "✕ Outside limits U1-U2 is −6.8 % off the mean, and 4.0 % is allowed; V1-V2 is +6.8 % off "
        "the mean, and 4.0 % is allowed; V1-V2 is +15 % off the 38.4 Ω that its entry gives at "
        "20.0 °C, and 10 % is allowed."
    )
    row = page.locator('[data-calc="winding"] tbody tr').last.inner_text()
    assert "W1-W2" in row and row.count("±") == 1
    assert phone.complaints == []


def test_a_hot_winding_is_brought_to_twenty_degrees(phone: object, home_file: str) -> None:
    # IEC 60335-1: R20 = R (234.5 + 20) / (234.5 + t), of the reading as typed.
    said = _windings(_open(phone, home_file, FAN), "46.0", "46.0", "46.0", at="70")
    assert f"{46.0 * 254.5 / 304.5:.1f} Ω" in said
    assert "each reads what the entry gives" in said


@pytest.mark.parametrize(
    ("at", "why"),
    [
        (
            "900",
            "A winding at 900.0 °C is not cold, and is judged up to 150.0 °C only. Let it cool, then "
            "read.",
        ),
        (
            "−234.5",
            "No winding is judged at −234.5 °C, only from −40.0 °C. Look at the thermometer, or let "
            "it warm up, then read.",
        ),
    ],
)
def test_a_winding_too_hot_or_too_cold_is_refused_with_words(
    phone: object, home_file: str, at: str, why: str
) -> None:
    page = _open(phone, home_file, FAN)
    _windings(page, "38.7", "38.7", "38.7", at=at)
    refused = page.locator('[data-calc="winding"] output').inner_text().replace("\u00a0", " ")
    assert refused == why
    assert page.locator("#winding-at").get_attribute("aria-invalid") == "true"
    assert phone.complaints == []


def test_without_a_temperature_only_balance_is_judged(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    said = _windings(page, "38.7", "38.7", "38.7", at="")
    assert _verdict(page, "winding") == (
        "✓ Within limits The windings are alike to the last digit."
    )
    assert "Give the winding's temperature to hold it against its entry." in said
    assert "At 20 °C" not in said


def test_an_open_winding_is_named(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    _windings(page, "38.7", "OL", "38.7")
    assert _verdict(page, "winding") == (
        "∞ Open circuit V1-V2 is over range: a winding or a lead is broken, or a protector inside is "
        "open. A hot shell may take hours to close it."
    )


def test_half_an_ohm_is_too_little_for_a_pocket_meter_and_the_page_says_so(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, COMPRESSOR)
    said = _windings(page, "0.8", "0.8", "0.8")
    assert _verdict(page, "winding") == (
        "? Not decided Pocket meter is too coarse to tell at these ohms."
    )
    # Which meter of the team's reads closer is part of the answer.
    assert "Take Bench meter." in said


def test_equal_low_windings_are_alike_on_a_bench_meter_to_its_last_digit(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, COMPRESSOR)
    page.locator("#winding-meter").select_option("bench-meter")
    said = _windings(page, "0.48", "0.48", "0.48")
    assert _verdict(page, "winding") == (
        "? Not decided The windings are alike to the last digit, but Bench meter and a temperature "
        "known to ± 2.0 K cannot hold them against their entry's values."
    )
    assert "No meter of the team reads closer." in said
    assert "Allowed: 3.0 % off the mean and" in said
    assert "0.48 Ω\t" in said and "0.4800" not in said
    assert "0 % ± 2.0 %" in said
    assert (
        "Balance compares readings of one meter on one range within a minute, and nothing else: "
        "there one digit of it counts." in said
    )
    assert "Leads zeroed, or their reading taken off: the page takes off nothing." in said
    assert phone.complaints == []


def test_nothing_at_all_is_said_and_not_divided_by(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, COMPRESSOR)
    # ± 5 digits of 0.1 Ω: a sound winding of 0.48 Ω may hide behind them.
    said = _windings(page, "0", "0.8", "0.8")
    assert _verdict(page, "winding") == (
        "? Not decided U-V reads nothing, but Pocket meter may show nothing for a sound one "
        "too. Read it with a meter for milliohms."
    )
    said += _windings(_open(phone, home_file, FAN), "0", "38.4", "38.4")
    assert _verdict(page, "winding") == (
        "0 Short circuit U1-U2 reads nothing, where Pocket meter would show a sound one: look "
        "for a short."
    )
    assert "NaN" not in said and "Infinity" not in said


def test_start_and_run_windings_are_not_held_against_each_other(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, START)
    said = _windings(page, "41.5", "57.5")
    assert _verdict(page, "winding") == "✓ Within limits Each reads what the entry gives."
    assert "off the mean" not in said.casefold()


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
    assert said == (
        "Stop. 1000 V is too much for this part.\n\n"
        "Outdoor fan motor M1 is tested at 500 V at most, and 1000 V may break its insulation down: "
        "no verdict is given on that. Do not repeat it; discharge the winding, and test at 500 V."
    )


def test_the_parts_own_limit_is_judged_first_and_the_standards_is_a_comparison(
    phone: object, home_file: str
) -> None:
    # 2 MΩ of its own beside the standard's 5 MΩ.
    page = _open(phone, home_file, SPLIT)
    _insulation(page, "500", "120M")
    assert _verdict(page, "insulation") == (
        "✓ Within limits The part's own limit is met, 120 MΩ at 40 °C."
    )
    figures = page.locator('[data-calc="insulation"] .ohm-more')
    more = figures.inner_text().replace("\u00a0", " ")
    compared = more.index(
        "For comparison, IEEE 43 (written for machines, not for hermetic compressors): at least "
        "5.0 MΩ at 40.0 °C; here 120 MΩ: within limits."
    )
    assert more.index("The part's own limit: at least 2.0 MΩ at 40.0 °C; here 120 MΩ") < compared
    _insulation(page, "500", "3M")
    assert _verdict(page, "insulation") == (
        "✓ Within limits The part's own limit is met, 3.00 MΩ at 40 °C. For comparison, IEEE 43 asks "
        "for 5.0 MΩ and this is less."
    )
    assert page.locator('[data-calc="insulation"] output [data-verdict="outside"]').count() == 0


def test_the_standard_is_left_out_where_it_asks_for_the_same(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    said = _insulation(page, "500", "1M")
    assert _verdict(page, "insulation") == (
        "✕ Outside limits 1.00 MΩ at 40 °C is less than the part's own limit."
    )
    assert "Brought to 40 °C as thermoset insulation (IEEE 43)." in said
    more = page.locator('[data-calc="insulation"] .ohm-more').inner_text().replace("\u00a0", " ")
    assert "For comparison" not in said + more
    assert "1.00 MΩ at 40.0 °C and 500 V with Insulation tester, ± 3.0 %." in more
    assert "leave the tester on until it shows zero, then earth it." in more


@pytest.mark.parametrize("reading", ["OL", "1.2G"])
def test_over_range_counts_as_what_the_tester_can_show_and_no_more(
    phone: object, home_file: str, reading: str
) -> None:
    said = _insulation(_open(phone, home_file, FAN), "500", reading)
    assert "Within limits\n\nThe part's own limit is met, more than 1.00 GΩ at 40 °C." in said
    # The same on a tester that ends below the part's limit.
    changes = {'"maxOhm":1000000000.0': '"maxOhm":1000000.0'}
    page = _open_changed(phone, home_file, FAN, changes=changes)
    _insulation(page, "500", reading)
    assert _verdict(page, "insulation") == (
        "? Not decided Insulation tester ends too low to tell: over range is more than 1.00 MΩ at "
        "40 °C, and the part's own limit is higher. Take a tester that shows more."
    )
    assert phone.complaints == []


def test_a_bare_number_is_asked_back_and_never_taken_for_ohms(
    phone: object, home_file: str
) -> None:
    page = _open(phone, home_file, FAN)
    said = _insulation(page, "500", "25.0")
    assert said == "'25.0' of what? Write 25.0M for megohms or 25.0k for kilohms."
    assert page.locator("#insulation-shows").get_attribute("aria-invalid") == "true"
    assert "Outside limits" in _insulation(page, "500", "0")
    assert "Within limits" in _insulation(page, "500", "OL")
    assert phone.complaints == []


def test_insulation_is_brought_to_forty_degrees(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, FAN)
    assert "limit is met, 20.0 MΩ at 40 °C." in _insulation(page, "500", "20M", at="40")
    # A cold winding reads more than it would at 40 °C.
    assert "limit is met, 15.2 MΩ at 40 °C." in _insulation(page, "500", "20M", at="20")


@pytest.mark.parametrize(
    ("reading", "at", "verdict", "said"),
    [
        (
            "1M",
            "2",
            "Outside limits",
            "the cold only flatters: brought to 40.0 °C it would be lower still.",
        ),
        (
            "20M",
            "2",
            "Not decided",
            "But the cold flatters, and below 10.0 °C no correction holds. Warm it by its crankcase heater "
            "for some hours, isolate it again, and read again.",
        ),
        ("OL", "−5", "Not decided", "nothing speaks against it. But the cold flatters"),
        (
            "1M",
            "95",
            "Not decided",
            "heat lowers it, and above 85.0 °C no correction holds. Let it cool, and read again.",
        ),
        ("20M", "95", "Within limits", "cooler it would read more"),
    ],
)
def test_where_no_correction_holds_it_says_what_is_certain_and_what_to_do(
    phone: object, home_file: str, reading: str, at: str, verdict: str, said: str
) -> None:
    told = _insulation(_open(phone, home_file, SPLIT), "500", reading, at=at)
    assert verdict in told
    assert said in told
    assert "at 40 °C" not in told and "NaN" not in told
    assert phone.complaints == []


def test_less_than_the_parts_voltage_is_said(phone: object, home_file: str) -> None:
    said = _insulation(_open(phone, home_file, FAN), "250", "120M")
    assert (
        "It was read below the part's 500 V: a bad figure counts, a good one proves less." in said
    )


def test_a_heater_is_not_held_to_the_machine_standard(phone: object, home_file: str) -> None:
    page = _open(phone, home_file, HEATER)
    said = _insulation(page, "500", "3M", at="")
    assert "Within limits\n\nThe part's own limit is met, 3.00 MΩ as read." in said
    assert page.locator("#insulation-at").count() == 0
    assert (
        "Held against its limit as read: IEEE 43 is about motor windings, and sets no least value "
        "and no correction for any other part." in said
    )
