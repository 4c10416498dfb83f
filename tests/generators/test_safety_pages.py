"""When to stop and whom to ring, what an instrument may be held to, cautions before every field."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generators.components import live_marked, rated_line
from generators.pages.second_reader import make_second_reader
from generators.pages.stop import make_stop
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Family, Instrument
from kb.model.instrument import Rating
from kb.model.team import Ring
from kb.notes.load import Notes
from kb.words.catalogue import stops

TOP = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def notes() -> Notes:
    return check_notes(TOP)


def context_of(notes: Notes) -> SiteContext:
    return SiteContext(catalog=Catalog(notes), root="")


def with_team(notes: Notes, **fields: object) -> SiteContext:
    """Return the demo as another team's."""
    other = check_notes(TOP)
    other.team = notes.team.model_copy(update=fields)
    return context_of(other)


def test_whom_to_ring_stands_before_what_happened_and_a_number_is_a_key(notes):
    page = make_stop(
        with_team(notes, ring=[Ring(who="The office", when="at any hour", number="+00 (1) 23-45")])
    )
    text = str(page.body)
    assert '<a href="tel:+0012345" class="ohm-ring">Ring +00 (1) 23-45</a>' in text
    assert text.index("The office") < text.index(stops()[0].heading)


def test_a_team_that_named_nobody_is_told_so(notes):
    assert "These notes name nobody to ring." in make_stop(with_team(notes, ring=[])).body


def test_everything_at_which_the_work_stops_says_what_to_do_and_where_it_comes_from(notes):
    text = str(make_stop(context_of(notes)).body)
    for stop in stops():
        assert stop.do
        assert stop.source
        assert f'id="{re.sub(r"[^a-z0-9]+", "-", stop.heading.lower()).strip("-")}"' in text
    assert "Never short it" in text


@pytest.mark.parametrize(
    ("rated", "volts", "category", "holds"),
    [
        (None, 12, "II", False),
        (Rating(category="III", volts=600, fused_leads=True), 565, "III", True),
        (Rating(category="III", volts=600, fused_leads=True), 601, "III", False),
        (Rating(category="II", volts=1000, fused_leads=True), 230, "III", False),
        (Rating(category="IV", volts=300, fused_leads=True), 230, "III", True),
    ],
)
def test_a_rating_holds_up_to_its_volts_and_in_lower_categories(
    notes, rated, volts, category, holds
):
    meter = notes.of(Instrument)["pocket-meter"].model_copy(update={"rated": rated})
    assert meter.is_rated_for(volts, category=category) is holds


@pytest.mark.parametrize(
    ("plate", "charge_v", "live_v"),
    [
        ("400 V 3N~ 50 Hz", 620, 620),
        ("230/400V 3N~ 50 Hz, 16 A", 360, 400),
        ("230 V 1N~", None, 230),
        ("as on the plate", None, None),
    ],
)
def test_the_most_that_stands_in_a_machine_is_its_charge_or_its_supply(
    notes, plate, charge_v, live_v
):
    family = notes.of(Family)["quellmark-rooftop"]
    supply = family.supply.model_copy(update={"volts": plate})
    changed = family.model_copy(update={"supply": supply, "charge_v": charge_v})
    assert changed.live_v == live_v


def test_what_is_not_rated_is_named_with_a_sign_and_a_word(notes):
    line = str(rated_line(context_of(notes), 565))
    allowed, _, forbidden = line.partition("✕ Never with: ")
    assert "Pocket meter" in allowed
    assert "Two-pole tester" in allowed
    assert "Bench meter" in forbidden
    assert "none of the team&#39;s instruments" in rated_line(context_of(notes), 1400)


def test_only_a_step_that_says_so_is_marked_live():
    assert live_marked("Plug off.") == "Plug off."
    assert str(live_marked("Live, for those authorised: read it.")).startswith(
        '<strong class="ohm-live-words">⚠ Live, for those authorised</strong>: read'
    )


def test_the_second_reader_is_handed_drafts_and_what_rests_on_memory_or_practice(notes):
    text = str(make_second_reader(context_of(notes)).body)
    drafts = [e for kind in notes.entries for e in notes.of_kind(kind).values() if e.draft]
    assert f"Nobody has checked it: {len(drafts)}" in text
    assert 'href="sources/ieee-43.html"' in text
    assert 'href="methods/sensor-resistance.html"' not in text  # it rests on a measurement, too
    assert 'href="methods/fan-by-hand.html"' in text


def test_a_statement_from_memory_reaches_the_second_reader_though_its_entry_has_a_source(notes):
    text = str(make_second_reader(context_of(notes)).body)
    statements = text.partition("Single statements that say so themselves")[2]
    glide = notes.of(Family)["veldane-chiller"]
    assert "from memory" in str(glide.refrigerant)
    assert "some 1.5 K between bubble and dew" in statements
    assert 'href="families/veldane-chiller.html"' in statements
    assert "Standards and categories are named from memory." in statements  # a written page
    assert "about 0.01 % per kelvin, from memory" in statements  # the program's own words
    unmarked = glide.model_copy(update={"refrigerant": "R-454B, 7 to 15 kg"})
    other = check_notes(TOP)
    other.entries["families"]["veldane-chiller"] = unmarked
    assert "between bubble and dew" not in str(make_second_reader(context_of(other)).body).replace(
        "some 5 K between bubble and dew", ""
    )
