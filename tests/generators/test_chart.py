"""A chart is the same bytes from the same data, and carries nothing that a strict policy refuses."""

import math
import re

import pytest

from generators.chart import ChartData, draw_chart
from generators.chart_cache import chart_name

T_C = tuple(float(t) for t in range(-40, 111, 5))


def _data(
    curve_id: str = "example", *, known: bool = True, falling: bool = True, axis: str = "ohms"
) -> ChartData:
    if falling:
        r = tuple(10_000 * math.exp(3435 * (1 / (t + 273.15) - 1 / 298.15)) for t in T_C)
    else:
        r = tuple(1000 + 3.9 * t for t in T_C)
    band = (tuple(x * 0.98 for x in r), tuple(x * 1.02 for x in r), tuple(0.4 for _ in r))
    return ChartData(curve_id, "Words.", axis, falling, T_C, r, *(band if known else ((), (), ())))


@pytest.fixture(scope="module")
def svg() -> str:
    return draw_chart(_data())


def test_two_drawings_of_the_same_data_are_the_same_bytes(svg: str) -> None:
    assert draw_chart(_data()) == svg


def test_other_data_give_another_drawing(svg: str) -> None:
    assert draw_chart(_data("other", falling=False)) != svg


def test_another_language_is_another_drawing_under_another_name(svg: str) -> None:
    german = _data(axis="Widerstand, Ω")
    assert chart_name(german) != chart_name(_data())
    drawn = draw_chart(german)
    assert "Widerstand, Ω" in drawn and "Widerstand" not in svg


def test_a_letter_that_the_drawing_font_lacks_is_left_to_the_page() -> None:
    assert "抵抗" in draw_chart(_data(axis="抵抗, Ω"))


def test_no_style_no_script_no_date_and_no_colour_of_its_own(svg: str) -> None:
    assert "style" not in svg
    assert "<script" not in svg
    assert "<metadata" not in svg
    colours = set(re.findall(r'(?:fill|stroke)="([^"]*)"', svg))
    assert colours <= {"none", "currentColor"}


def test_the_band_and_the_line_can_be_told_apart_by_class(svg: str) -> None:
    assert 'class="ohm-band"' in svg
    assert 'class="ohm-line"' in svg


def test_an_unknown_tolerance_draws_no_band() -> None:
    assert "ohm-band" not in draw_chart(_data(known=False))


def test_ids_of_two_charts_in_one_page_do_not_meet(svg: str) -> None:
    other = draw_chart(_data("other"))
    ids = [set(re.findall(r'\bid="([^"]+)"', one)) for one in (svg, other)]
    assert ids[0] and ids[1] and not ids[0] & ids[1]


def test_every_inner_reference_has_its_target(svg: str) -> None:
    targets = set(re.findall(r'\bid="([^"]+)"', svg))
    used = set(re.findall(r'(?:href="#|url\(#)([^")]+)', svg))
    assert used and used <= targets


def test_it_says_in_words_what_it_shows(svg: str) -> None:
    assert 'role="img" aria-label="Words."' in svg
