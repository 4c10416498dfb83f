"""A sensor's page stands in the order of use: warned, read, answered, found, and the rest folded."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generators.pages.sensor import make_sensor
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.model import Sensor
from kb.notes.load import load_notes

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"
ORDER = ["ohm-plug-mark", "Isolate, lock off, prove dead.", "<form", "find-it", "healthy-values"]


@pytest.fixture(scope="module")
def context() -> SiteContext:
    return SiteContext(Catalog(load_notes(GOOD)))


def page_of(context: SiteContext, name: str, **changed: object) -> str:
    sensor = context.catalog.get(Sensor, name).model_copy(update=changed)
    return str(make_sensor(context, sensor).body)


def test_caution_and_form_come_before_where_it_is_and_what_is_healthy(context: SiteContext) -> None:
    page = page_of(context, "suction-b")
    places = [page.index(words) for words in ORDER]
    assert places == sorted(places)


def test_mark_colour_and_pins_are_one_line(context: SiteContext) -> None:
    line = re.search(r'<p class="ohm-plug">.*?</p>', page_of(context, "suction-a"))
    assert line is not None
    assert re.sub("<[^>]+>", " ", line[0]).split() == ["T1", "white,", "pins", "1", "and", "2"]


def test_a_sensor_without_plug_has_no_such_line(context: SiteContext) -> None:
    assert "ohm-plug" not in page_of(context, "suction-a", plug=None)


def test_what_no_meter_tests_says_why_before_anything_else_and_has_no_form(
    context: SiteContext,
) -> None:
    (name,) = [sensor.id for sensor in context.catalog.all(Sensor).values() if not sensor.testable]
    page = page_of(context, name)
    assert page.index("It cannot be tested with a meter") < page.index("Isolate, lock off")
    assert "<form" not in page


def test_the_table_the_meters_and_the_past_jobs_are_folded(context: SiteContext) -> None:
    page = page_of(context, "suction-a")
    folds = re.findall(r"<details class=\"ohm-fold[^>]*><summary><h2 id=\"([^\"]+)\"", page)
    assert {"what-it-should-read", "meters-that-can-judge-it", "past-jobs"} <= set(folds)
    assert "find-it" not in folds
