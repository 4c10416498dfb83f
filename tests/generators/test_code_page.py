"""A code's page stands in the order of use, and says every limit that trips it once."""

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


def page_of(context: SiteContext, **changed: object) -> str:
    code = context.catalog.get(Code, "a-k4-2").model_copy(update=changed)
    return str(make_code(context, code).body)


def keys(page: str) -> list[tuple[str, str]]:
    """Return where the page's keys lead, and their words."""
    return re.findall(r'<a href="([^"]+)" class="ohm-go[^"]*"[^>]*>(.*?)</a>', page)


def test_the_key_leads_to_the_first_sensor_though_something_else_is_checked_first(
    context: SiteContext,
) -> None:
    page = page_of(context)
    assert re.findall(r"<li><h3>(?:<[^>]+>)*([^<]+)<", page)[0] == "Corroded plug"
    assert keys(page)[0] == ("../sensors/suction-a.html", "Measure T1 sensor")


def test_the_key_leads_to_the_first_part_where_no_sensor_is_accused(context: SiteContext) -> None:
    parts = [suspect for suspect in context.catalog.get(Code, "a-k4-2").suspects if suspect.part]
    assert keys(page_of(context, suspects=parts))[0][0] == "../parts/board-a.html"


def test_a_code_that_accuses_neither_sensor_nor_part_has_the_key_to_the_job_alone(
    context: SiteContext,
) -> None:
    what = [suspect for suspect in context.catalog.get(Code, "a-k4-2").suspects if suspect.what]
    (only,) = keys(page_of(context, suspects=what))
    assert only[0].startswith("../jobs/")


def test_the_machine_is_asked_before_it_is_isolated_and_isolated_before_anything_is_checked(
    context: SiteContext,
) -> None:
    page = page_of(context)
    order = ["ohm-go", "power on, doors shut", "Isolate, lock off, prove dead.", "Corroded plug"]
    places = [page.index(words) for words in order]
    assert places == sorted(places)


def test_a_codes_own_steps_stand_open_and_the_familys_are_folded(context: SiteContext) -> None:
    assert '<section aria-labelledby="ask">' in page_of(context)
    folded = page_of(context, ask=[])
    assert '<h2 id="ask">' in folded
    assert '<section aria-labelledby="ask">' not in folded


def test_a_suspect_is_a_line_that_says_how_likely_how_long_and_that_it_is_live(
    context: SiteContext,
) -> None:
    code = context.catalog.get(Code, "a-k4-2")
    live = [suspect.model_copy(update={"live": bool(suspect.part)}) for suspect in code.suspects]
    page = page_of(context, suspects=live)
    line = re.search(r'<li><h3><a href="../parts/board-a(?:(?!<li>).)*?</summary>', page)
    assert line is not None
    assert re.sub("<[^>]+>", "", line[0]).endswith("⚠ live9.1\u00a0%, 20\u00a0min")
    # A link within a summary would be one thing to press within another.
    assert not re.search(r"<summary>(?:(?!</summary>).)*<a ", page)


def test_one_sentence_stands_above_the_keys_and_the_others_below_the_checks(
    context: SiteContext,
) -> None:
    page = page_of(context, meaning="It reads 3.5 K too warm. It may not heat.")
    places = [page.index(words) for words in ("It reads 3.5 K too warm.", "ohm-go", "It may not")]
    assert places == sorted(places)
