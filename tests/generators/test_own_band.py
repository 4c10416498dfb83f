"""A curve's own width on its page: one line always, a dashed band where it can be seen."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from generators.chart import ChartData, draw_chart
from generators.curve_files import chart_data, chart_names
from generators.own_band import chart_places_c, own_band
from generators.pages.curve import make_curve
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.model import Curve
from kb.notes.load import load_notes
from kb.numbers.characteristic import Characteristic
from kb.numbers.ntc_beta import NtcBeta
from kb.numbers.tolerance import KelvinTolerance

DEMO = Path(__file__).resolve().parents[2]
CAPTION = "Dashed: how far the curve itself may be off."


@pytest.fixture(scope="module")
def context() -> SiteContext:
    return SiteContext(Catalog(load_notes(DEMO)))


def page_of(context: SiteContext, name: str) -> str:
    curve = context.catalog.get(Curve, name)
    body = str(make_curve(context, curve, chart="<svg></svg>", grid_error_k=0.001).body)
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", body))


@pytest.mark.parametrize(
    ("curve", "line"),
    [
        ("ntc-10k-3435", "The table itself within 0.052 K, 0.11 K between −50 °C and −30 °C"),
        ("ntc-10k-3977-b", "The law itself within 4.4 K, most between −40 °C and −10 °C"),
        ("ntc-20k-osterlyn", "The law itself within 0.10 K"),
        ("pt1000", "The law itself taken as it was published"),
    ],
)
def test_a_curves_page_says_how_well_it_is_known_worst_and_where(
    context: SiteContext, curve: str, line: str
) -> None:
    assert line in page_of(context, curve).replace("\u00a0", " ")


def test_the_caption_stands_where_the_band_is_drawn_and_nowhere_else(context: SiteContext) -> None:
    drawn = {curve: bool(chart_data(context, curve).own_k) for curve in chart_names(context)}
    assert {True, False} == set(drawn.values())
    for curve, seen in drawn.items():
        assert (CAPTION in page_of(context, curve)) == seen, curve


def curve_known_to(half_k: float, *, tol_k: float) -> Characteristic:
    class Known:
        def half_k(self, t_c: np.ndarray) -> np.ndarray:
            return np.full_like(t_c, half_k)

    return Characteristic(
        law=NtcBeta(r_ref=10e3, b_k=3500),
        tolerance=KelvinTolerance(kelvin=tol_k),
        low_c=-40,
        high_c=100,
        width=Known(),
    )


@pytest.mark.parametrize(
    ("half_k", "tol_k", "seen"),
    [(0.04, 0.1, False), (0.06, 0.1, True), (0.06, 2.0, False), (0.11, 2.0, True)],
)
def test_a_band_is_drawn_where_it_is_wide_enough_to_be_seen(
    half_k: float, tol_k: float, seen: bool
) -> None:
    characteristic = curve_known_to(half_k, tol_k=tol_k)
    found = own_band(characteristic, t_c=chart_places_c(characteristic))
    assert (found is not None) == seen
    assert found is None or found.low_ohm.size == 0


def test_beside_the_line_it_is_drawn_from_a_kelvin_on() -> None:
    characteristic = curve_known_to(1.5, tol_k=2.0)
    t_c = chart_places_c(characteristic)
    found = own_band(characteristic, t_c=t_c)
    assert found is not None
    # 1.5 K colder and hotter; past an end its own slope goes on.
    assert found.high_ohm[60] == pytest.approx(float(characteristic.r_ohm(t_c[60] - 1.5)))
    assert found.low_ohm[60] == pytest.approx(float(characteristic.r_ohm(t_c[60] + 1.5)))
    assert np.all(found.low_ohm < found.high_ohm)


def test_its_look_is_its_own_and_the_same_from_drawing_to_drawing(context: SiteContext) -> None:
    wide = chart_data(context, "ntc-10k-3977-b")
    svg = draw_chart(wide)
    assert svg == draw_chart(wide)
    own = [tag for tag in re.findall(r"<(?:path|use)[^>]*>", svg) if "ohm-own" in tag]
    # Not by colour alone: its edges are dashed, in both pictures.
    assert sum("stroke-dasharray" in tag for tag in own) == 4
    assert "ohm-own" not in draw_chart(chart_data(context, "pt1000"))


def test_where_nobody_knows_the_tolerance_the_band_stands_alone_in_kelvin() -> None:
    t_c = (0.0, 50.0, 100.0)
    bare = ChartData("bare", "Words.", "ohms", True, t_c, (30e3, 4e3, 1e3), (), (), ())
    svg = draw_chart(replace(bare, own_k=(0.2, 0.1, 0.2)))
    assert "± K" in svg and "ohm-own" in svg and "ohm-band" not in svg
    assert "± K" not in draw_chart(bare)
