"""What links, styles and scripts hang on is alike in every language; only what is read differs."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

import pytest

from generators.make import chart_data, compile_grids, make_entry
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import KINDS, Curve
from tests.unplaced_words import READ_ALOUD, speaking_wide

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
SHOWN = READ_ALOUD | {"data-done", "data-finish", "data-name", "value"}
"""Attributes whose words somebody reads."""


class Frame(HTMLParser):
    """Gathers every element with what it hangs on, without what is read."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[object, ...]] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, *(pair for pair in attrs if pair[0] not in SHOWN)))


@pytest.fixture(scope="module")
def context() -> SiteContext:
    return SiteContext(catalog=Catalog(check_notes(GOOD)), root="../")


def frames(context: SiteContext, kind: str) -> list[list[tuple[object, ...]]]:
    grids = compile_grids(context) if kind == Curve.kind else {}
    pages = [
        make_entry(context, entry, charts={}, grids=grids)
        for entry in context.notes.of_kind(kind).values()
    ]
    return [Frame(page.body).elements for page in pages]


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_hangs_on_the_same_in_every_language(context, kind):
    english = frames(context, kind)
    with speaking_wide():
        assert frames(context, kind) == english


def test_a_chart_is_asked_for_in_the_language_of_the_site(context):
    english = chart_data(context)
    with speaking_wide():
        wide = chart_data(context)
    assert [data.t_c for data in wide] == [data.t_c for data in english]
    assert all(a.words != b.words and a.axis != b.axis for a, b in zip(wide, english, strict=True))
