"""The curve page: every degree, another curve beside it, resistors in place of the sensor."""

from __future__ import annotations

from pathlib import Path

import pytest

from kb.characteristics import characteristic_of
from kb.check import check_notes
from kb.model import Curve, Sensor
from kb.numbers.curve_pair import apart, most_apart
from kb.numbers.divider import volts_at_plug
from kb.numbers.grid import compile_grid
from kb.numbers.rounding import format_k, format_ohm, format_t, format_volts
from kb.numbers.stand_in import stand_ins

ROOT = Path(__file__).resolve().parents[2]
CURVE = "curves/ntc-10k-3435.html"


@pytest.fixture(scope="module")
def notes() -> object:
    """The demo's notes."""
    return check_notes(ROOT)


def _grid(notes: object, curve_id: str) -> object:
    return compile_grid(characteristic_of(notes.of(Curve)[curve_id]))


@pytest.fixture()
def curve(phone: object, home_file: str) -> object:
    """The curve's page, straight from the folder."""
    phone.page.goto(home_file.replace("index.html", CURVE))
    return phone.page


def _plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_every_degree_is_there_on_demand_and_equals_python(
    phone: object, curve: object, notes: object
) -> None:
    fold = curve.locator('[data-calc="fine-table"]')
    assert fold.locator("tr").count() == 0
    fold.locator("summary").click()
    row = fold.get_by_role("row", name="17 °C")
    grid = _grid(notes, "ntc-10k-3435")
    assert format_ohm(float(grid.r_ohm(17.0))) in row.inner_text()
    assert format_k(float(grid.tol_k(17.0))) in row.inner_text()
    assert phone.complaints == []


def test_a_long_range_comes_in_pieces_that_together_miss_no_degree(curve: object) -> None:
    fold = curve.locator('[data-calc="fine-table"]')
    fold.locator("summary").click()
    # The fold builds its keys when it has opened, which the browser tells a moment later.
    fold.get_by_role("button").first.wait_for()
    seen = set()
    for key in fold.get_by_role("button").all():
        key.click()
        heads = fold.locator("tbody th").all_inner_texts()
        assert len(heads) <= 51
        seen |= {int(head.split()[0].replace("−", "-")) for head in heads}
    assert seen == set(range(-50, 111))


def test_in_fahrenheit_the_fine_table_has_whole_degrees_fahrenheit(curve: object) -> None:
    fold = curve.locator('[data-calc="fine-table"]')
    fold.locator("summary").click()
    curve.get_by_role("button", name="Temperatures in °C").click()
    assert _plain(fold.locator("tbody th").first.inner_text()).endswith(" °F")
    row = fold.locator("tr", has=curve.get_by_text("68\u00a0°F", exact=True))
    assert row.locator("strong").inner_text() == "12.09\u00a0kΩ"


def test_another_curve_is_fetched_when_chosen_and_compared_as_python_does(
    phone: object, curve: object, notes: object
) -> None:
    form = curve.locator('[data-calc="compare"]')
    form.get_by_label("The other curve").select_option("ntc-10k-3977")
    form.get_by_label("At", exact=True).fill("7")
    form.get_by_text("apart").first.wait_for()
    one, other = _grid(notes, "ntc-10k-3435"), _grid(notes, "ntc-10k-3977")
    here, most = apart(one, other=other, t_c=7.0), most_apart(one, other=other)
    said = form.locator("output").inner_text()
    assert f"{format_k(abs(here.by_k))} apart" in said
    assert format_ohm(here.one_ohm) in said and format_ohm(here.other_ohm) in said
    assert f"{format_k(abs(most.by_k))} at {format_t(most.at_c)}" in said
    assert phone.complaints == []


def test_outside_what_both_hold_there_is_no_answer(curve: object) -> None:
    form = curve.locator('[data-calc="compare"]')
    form.get_by_label("The other curve").select_option("ntc-10k-3977")
    form.get_by_label("At", exact=True).fill("500")
    form.get_by_text("ask for a temperature inside").wait_for()
    assert "Both curves hold from " in form.locator("output").inner_text()
    form.get_by_label("At", exact=True).fill("x")
    assert "is not a temperature" in form.locator("output").inner_text()


@pytest.mark.parametrize("series", ["E24", "E12", "E96"])
def test_stand_in_resistors_are_pythons(curve: object, notes: object, series: str) -> None:
    form = curve.locator('[data-calc="stand-in"]')
    form.get_by_label("The board should show", exact=True).fill("-5")
    form.get_by_label("Resistors in the drawer").select_option(series)
    singles, pairs = stand_ins(_grid(notes, "ntc-10k-3435"), t_c=-5.0, series=series)
    lines = [_plain(one) for one in form.locator("li:not(.ohm-caution li)").all_inner_texts()]
    assert len(lines) == len(singles) + len(pairs)
    digits = 3 if series == "E96" else 2
    for line, one in zip(lines, [*singles, *pairs], strict=True):
        named = " and ".join(format_ohm(r, digits=digits) for r in one.parts_ohm)
        assert line.startswith(_plain(named))
        assert _plain(f"shows {format_t(one.shows_c)}") in line


def test_the_resistors_own_tolerance_is_said_in_kelvin_and_isolating_comes_first(
    curve: object,
) -> None:
    form = curve.locator('[data-calc="stand-in"]')
    form.get_by_label("The board should show", exact=True).fill("20")
    said = _plain(form.locator("output").inner_text())
    assert "Measure the resistor first: E24 may be ± 5.0 % off unless marked better" in said
    first = form.locator(".ohm-caution li").first.text_content()
    assert first.startswith("Isolate, lock off, prove dead and let the charge drain before")


@pytest.mark.parametrize("at", ["110", "230F", "230 °F", "110 ℃"])
def test_an_end_of_the_range_holds_in_every_spelling(curve: object, at: str) -> None:
    form = curve.locator('[data-calc="both-ways"]')
    form.get_by_label("Temperature", exact=True).fill(at)
    assert "A good part reads" in form.locator("output").inner_text()


@pytest.mark.parametrize(
    ("at", "reading", "why"),
    [
        ("150.1", "", "not at 150.1 °C; ask for a temperature inside."),
        ("", "", "Type a temperature."),
        ("", "OL", "Over range is an open circuit, and stands for no temperature."),
        ("", "1", "1.000 Ω is off it, and may be another's."),
    ],
)
def test_what_has_no_answer_is_said_as_the_terminal_says_it(
    curve: object, at: str, reading: str, why: str
) -> None:
    form = curve.locator('[data-calc="both-ways"]')
    form.get_by_label("Temperature", exact=True).fill(at)
    if reading:
        form.get_by_label("Resistance").fill(reading)
    assert why in _plain(form.locator("output").inner_text())


def test_on_a_sensor_page_the_volts_at_the_plug_stand_beside_each_resistor(
    phone: object, home_file: str, notes: object
) -> None:
    sensor = notes.of(Sensor)["quellmark-coil-out"]
    phone.page.goto(home_file.replace("index.html", f"sensors/{sensor.id}.html"))
    phone.page.get_by_role("heading", name="Stand-in resistors").click()
    first = phone.page.locator('[data-calc="stand-in"] .ohm-stand-ins li').first.inner_text()
    volts = volts_at_plug(
        12_000.0, supply_v=sensor.board_input.supply_v, pull_up_ohm=sensor.board_input.pull_up_ohm
    )
    assert _plain(first).startswith("12 kΩ")
    assert _plain(format_volts(volts)) in _plain(first)
    assert phone.complaints == []
