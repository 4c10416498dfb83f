"""Find in a browser, straight from a folder: as a person types, by thumb and by key."""

from __future__ import annotations

from pathlib import Path

import pytest

from generators.find_items import find_items
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.words.catalogue import template
from tests.site.find_site import groups, reasons, typed


@pytest.mark.parametrize(
    "text",
    [
        "k4-2",
        "K42",
        "k4 2",
        "K4.2",
        "4 long 2 short",
        "4L2S",
        "4l 2s",
        "four long two short",
        "4-2",
        "----..",
        "27",
        "4 2",
        "4/2",
        "L4S2",
        "---- ..",
        "2 short, 4 long",
        "long long long long short short",
        "H1 4 long 2 short",
        "4x long 2x short",
        "4 x long, 2 x short",
        "flashes 4× long 2× short",
    ],
)
def test_a_code_is_first_however_it_is_typed(find, text):
    assert typed(find, text)[0] == "K4-2: outdoor coil"


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("012", "012: locked"),
        ("1e3", "1E3: bus"),
        ("no", "NO: no oil"),
        ("6 blinks", "24: heavy"),
        ("flashes 6 times", "24: heavy"),
        ("6 short", "24: heavy"),
        ("6x", "24: heavy"),
        ("6", "24: heavy"),
        ("Ｋ４－２", "K4-2: outdoor coil"),
        ("2-4", "24: heavy"),
        ("x24", "R4 outdoor coil"),
        ("cn 6", "T4 outdoor coil"),
        ("t4", "T4 outdoor coil"),
        ("fc8800112", "Main board"),
        ("8800-112", "Main board"),
        ("defrost probe", "R4 outdoor coil"),
        ("outdoor coil wall", "T4 outdoor coil"),
        ("maim board", "Main board"),
        ("n0", "NO: no oil"),
        ("O12", "012: locked"),
        ("iE3", "1E3: bus"),
        ("defrsot", "R4 outdoor coil"),
        ("grille", "R4 outdoor coil"),
        ("rotr", "012: locked"),
    ],
)
def test_what_a_person_types_leads_there(find, text, title):
    assert typed(find, text)[0] == title


def test_a_code_that_exists_is_not_crowded_by_its_neighbours(find):
    assert "K1-2: supply air" not in typed(find, "K4-2")


def test_one_wrong_letter_offers_the_code_under_its_own_words(find):
    assert typed(find, "K9-2") == ["K4-2: outdoor coil", "K1-2: supply air"]
    assert find.page.locator(".ohm-find-group").all_inner_texts() == ["One letter off"]


def test_one_blink_miscounted_offers_the_code_under_its_own_words(find):
    assert typed(find, "4 long 3 short") == ["K4-2: outdoor coil"]
    assert find.page.locator(".ohm-find-group").all_inner_texts() == ["One blink off"]
    says = find.page.locator("[data-ohm-find-says]").text_content()
    assert says == "1 found. Enter opens K4-2: outdoor coil."


def test_nothing_found_says_so_and_shows_the_lists(find):
    assert typed(find, "zzzzqq") == []
    assert find.page.locator(".ohm-find-none").inner_text() == (
        "Nothing found. Look through the codes, sensors or parts."
    )
    assert find.page.get_by_role("combobox").get_attribute("aria-expanded") == "false"


def test_each_hit_says_why_it_was_found_its_kind_and_its_family(find):
    typed(find, "outdoor coil wall")
    said = find.page.locator(".ohm-find-hit").first.locator("span").all_inner_texts()
    assert said == ["T4 outdoor coil", "by its name", "sensor", "Wall split"]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("k42", "shows K4-2"),
        ("27", "gives 27 when asked"),
        ("4 long 2 short", "blinks 4 long 2 short"),
        ("6 blinks", "blinks 6 short"),
        ("4 long 3 short", "blinks 4 long 2 short"),
        ("x24", "plug X24"),
        ("t4", "label T4"),
        ("8800-112", "order text FC 8800-112"),
        ("defrost", "also called defrost probe"),
        ("defrsot", "also called defrost probe"),
        ("outdoor coil", "by its name"),
        ("wall coil", "by its name"),
        ("n0", "shows NO"),
        ("grille", "on the page: grille"),
        ("behind gril", "on the page: behind, grille"),
        ("rotr", "on the page: rotor"),
        ("k4 2", "shows K4-2"),
        ("orrin", "also called Orrin"),
    ],
)
def test_a_hit_says_by_which_of_its_signs_it_was_found(find, text, why):
    typed(find, text)
    assert reasons(find)[0] == why


def test_a_code_shows_its_blinks_as_numerals_however_it_was_found(find):
    typed(find, "k42")
    first = find.page.locator(".ohm-find-hit").first
    assert first.locator(".ohm-find-blinks").inner_text() == "blinks 4 long 2 short"
    # Once: where they are the reason they are not said again.
    typed(find, "4L2S")
    assert first.inner_text().count("4 long 2 short") == 1


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("roof flashes 4 long 2 short", "K4-2: outdoor coil"),
        ("roof unit blinks 4 2", "K4-2: outdoor coil"),
        ("blinks 4 2", "K4-2: outdoor coil"),
        ("flash 4 2", "K4-2: outdoor coil"),
        ("unit board 4-2", "K4-2: outdoor coil"),
        ("42", "K4-2: outdoor coil"),
        ("42 roof", "K4-2: outdoor coil"),
        ("marl ---- ..", "K4-2: outdoor coil"),
        ("marl rt 045 4-2", "K4-2: outdoor coil"),
        ("marl r4", "R4 outdoor coil"),
        ("wall 012", "012: locked"),
        ("orrin 6 blinks", "24: heavy"),
    ],
)
def test_words_of_a_family_and_a_sign_combine(find, text, title):
    assert typed(find, text)[0] == title


def test_two_digits_are_a_text_first_and_then_blinks_of_each_kind(find):
    assert typed(find, "24")[:2] == ["24: heavy", "QD: hot gas"]
    assert reasons(find)[:2] == ["shows 24", "blinks 2 long 4 short"]


def test_the_machine_that_is_named_comes_first_and_others_stand_under_their_own_words(find):
    assert typed(find, "7 long 5 short") == ["57: one way", "58: other way"]
    assert typed(find, "orrin 7 long 5 short") == ["58: other way", "57: one way"]
    assert groups(find) == ["Codes", "On other families"]
    assert typed(find, "roof 7 5") == ["57: one way", "58: other way"]
    # Nobody who names the wrong machine is left with nothing.
    assert typed(find, "orrin 4 long 2 short")[0] == "K4-2: outdoor coil"
    assert groups(find)[0] == "On other families"


@pytest.mark.parametrize(
    ("text", "found"),
    [("57", ["57: one way", "58: other way"]), ("s7", ["58: other way", "57: one way"])],
)
def test_a_digit_and_a_letter_that_displays_show_alike_are_both_found(find, text, found):
    assert typed(find, text) == found
    assert groups(find) == ["Codes", "Looks alike on a display"]


def test_the_family_whose_page_is_open_comes_first_among_equals(find):
    assert typed(find, "outdoor coil")[:2] == ["R4 outdoor coil", "T4 outdoor coil"]
    find.page.goto(find.page.url.replace("index.html", "codes/012.html"))
    assert typed(find, "outdoor coil")[0] == "T4 outdoor coil"


def test_every_sign_in_the_demo_has_words_for_what_it_is():
    """So that no hit is without a reason."""
    catalog = Catalog(check_notes(Path(__file__).resolve().parents[2]))
    types = {kind for item in find_items(SiteContext(catalog)) for kind, _ in item.keys}
    assert {"code", "asked", "blinks", "label", "plug", "order", "aka", "name"} == types
    for kind in types - {"blinks"}:
        assert template(f"find.by-{kind}")


def test_arrows_move_enter_opens_escape_closes_and_then_empties(find):
    typed(find, "outdoor coil")
    field = find.page.get_by_role("combobox")
    find.page.keyboard.press("ArrowDown")
    find.page.keyboard.press("ArrowDown")
    chosen = find.page.get_by_role("option", selected=True)
    assert chosen.count() == 1
    assert chosen.get_attribute("id") == field.get_attribute("aria-activedescendant")
    title = chosen.locator(".ohm-find-title").inner_text()
    assert title == "T4 outdoor coil"
    find.page.keyboard.press("ArrowUp")
    find.page.keyboard.press("ArrowUp")
    assert find.page.get_by_role("option").last.get_attribute("aria-selected") == "true"
    find.page.keyboard.press("Escape")
    assert field.get_attribute("aria-expanded") == "false"
    assert field.get_attribute("aria-activedescendant") is None
    assert field.input_value() == "outdoor coil"
    find.page.keyboard.press("Escape")
    assert field.input_value() == ""


def test_a_tap_opens_a_hit_and_every_hit_is_big_enough_for_a_thumb(find):
    typed(find, "coil")
    for hit in find.page.get_by_role("option").all():
        assert hit.bounding_box()["height"] >= 48
    find.page.get_by_role("option").nth(1).tap()
    find.page.wait_for_url("**/sensors/r4.html")


def test_find_is_the_first_field_and_stays_in_sight(find):
    first = find.page.evaluate(
        "document.querySelector('input:not([type=checkbox])').getAttribute('role')"
    )
    assert first == "combobox"
    find.page.evaluate("document.getElementById('ohm-main').style.height = '5000px'")
    find.page.mouse.wheel(0, 2000)
    box = find.page.get_by_role("combobox").bounding_box()
    assert 0 <= box["y"] < 100


def test_the_list_goes_away_on_a_tap_elsewhere(find):
    typed(find, "coil")
    assert find.page.locator(".ohm-find-panel").is_visible()
    find.page.locator(".ohm-first").tap()
    assert not find.page.locator(".ohm-find-panel").is_visible()


def test_without_scripts_lists_stand_where_the_field_would(browser, find_home):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(find_home)
    assert page.get_by_role("combobox").count() == 0
    assert page.locator(".ohm-find-instead").inner_text() == "Find by list: codes sensors parts"
    context.close()
