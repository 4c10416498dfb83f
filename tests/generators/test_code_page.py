"""A code's page says every limit that trips it, each once."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generators.pages.code import make_code
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.model import Code
from kb.model.code import Trip
from kb.notes.load import load_notes

GOOD = Path(__file__).resolve().parents[1] / "data" / "entries" / "good"


@pytest.fixture(scope="module")
def context() -> SiteContext:
    return SiteContext(Catalog(load_notes(GOOD)))


def limits(context: SiteContext, **trip: float) -> list[tuple[str, str]]:
    """Return name and words of each limit on the page of a code that is tripped so."""
    code = context.catalog.get(Code, "a-k4-2").model_copy(
        update={"trip": [Trip(sensor="suction-a", words="Out of range.", **trip)]}
    )
    rows = re.findall(r"<dt>(Below|Above)</dt><dd>(.*?)</dd>", str(make_code(context, code).body))
    return [(name, re.sub("<[^>]+>", "", words).replace("\u00a0", " ")) for name, words in rows]


def test_a_limit_in_ohms_stands_beside_another_in_degrees(context: SiteContext) -> None:
    assert limits(context, below_c=-8.0, above_ohm=500e3) == [
        ("Below", "−8 °C, which is 40.94 kΩ at the sensor"),
        ("Above", "500.0 kΩ"),
    ]


@pytest.mark.parametrize("below_ohm", [9.7e3, 10e3, 10.3e3])
def test_a_limit_given_in_degrees_and_in_the_same_ohms_stands_once(
    context: SiteContext, below_ohm: float
) -> None:
    assert limits(context, above_c=25.0, below_ohm=below_ohm) == [
        ("Above", "25 °C, which is 10.00 kΩ at the sensor")
    ]


def test_a_limit_in_ohms_says_which_temperature_it_stands_for(context: SiteContext) -> None:
    assert limits(context, below_ohm=10e3) == [("Below", "10.00 kΩ, as if at 25 °C")]


@pytest.mark.parametrize(("below_ohm", "words"), [(9.4e3, "9.400 kΩ"), (10.6e3, "10.60 kΩ")])
def test_a_limit_in_other_ohms_stands_for_itself(
    context: SiteContext, below_ohm: float, words: str
) -> None:
    rows = limits(context, above_c=25.0, below_ohm=below_ohm)
    assert [name for name, _ in rows] == ["Above", "Below"]
    assert rows[1][1].startswith(f"{words}, as if at ")
