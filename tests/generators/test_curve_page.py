"""A curve's page in any language: what it hangs on is alike, its chart is drawn anew."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generators.curve_files import chart_data, chart_names, curve_scripts
from generators.make import make_entry
from generators.page import Page
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Curve
from tests.unplaced_words import speaking_wide

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
KEPT = re.compile(r'\b(?:id|class|href|for|name|aria-labelledby|data-[\w-]+)="[^"]*"')
"""What links, styles and scripts hang on."""


@pytest.fixture(scope="module")
def context() -> SiteContext:
    return SiteContext(catalog=Catalog(check_notes(GOOD)), root="../")


def pages(context: SiteContext) -> list[Page]:
    scripts = curve_scripts(context)
    curves = context.notes.of(Curve).values()
    return [make_entry(context, curve, charts={}, curves=scripts) for curve in curves]


def test_a_page_hangs_on_the_same_in_every_language(context):
    english = pages(context)
    with speaking_wide():
        wide = pages(context)
    assert [page.summary for page in wide] != [page.summary for page in english]
    assert [KEPT.findall(page.body) for page in wide] == [KEPT.findall(p.body) for p in english]


def test_a_chart_is_asked_for_in_the_language_of_the_site(context):
    curves = chart_names(context)
    english = [chart_data(context, curve) for curve in curves]
    with speaking_wide():
        wide = [chart_data(context, curve) for curve in curves]
    assert [data.t_c for data in wide] == [data.t_c for data in english]
    assert all(a.words != b.words and a.axis != b.axis for a, b in zip(wide, english, strict=True))
