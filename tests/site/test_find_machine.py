"""Find for the machine at hand: whose hits come first, what Enter opens, what Back brings back."""

from __future__ import annotations

import pytest

from tests.site.find_site import (
    ITEMS,
    ROOF,
    begin_job,
    on_the_page_of,
    reasons,
    titles,
    typed,
    until,
)


def test_the_family_of_the_open_job_comes_first(find):
    assert typed(find, "7 long 5 short")[0] == "57: one way"
    begin_job(find, "split")
    find.page.reload()
    assert typed(find, "7 long 5 short")[0] == "58: other way"
    assert typed(find, "outdoor coil")[0] == "T4 outdoor coil"
    # What was touched last is the machine in front of you.
    begin_job(find, "roof")
    find.page.reload()
    assert typed(find, "7 long 5 short")[0] == "57: one way"
    # A page of a family stands nearer than a job of another one.
    on_the_page_of(find, "012: locked")
    assert typed(find, "7 long 5 short")[0] == "58: other way"


def test_of_the_machine_at_hand_even_blinks_come_before_another_one_s_text(find):
    begin_job(find, "roof")
    find.page.reload()
    assert typed(find, "24")[:2] == ["QD: hot gas", "24: heavy"]


def test_a_closed_job_says_nothing_of_the_machine_at_hand(find):
    find.page.evaluate("() => { Ohm.closeJob(Ohm.startJob('split').id); }")
    find.page.reload()
    assert typed(find, "7 long 5 short")[0] == "57: one way"


@pytest.mark.parametrize("text", ["k42", "27", "x24", "defrost probe", "4 long 3 short", "8800"])
def test_enter_opens_a_hit_that_alone_is_meant(find, text):
    first = typed(find, text)[0]
    find.page.keyboard.press("Enter")
    find.page.wait_for_url(f"**/{next(item.url for item in ITEMS if item.title == first)}")


@pytest.mark.parametrize(
    "text", ["7 long 5 short", "24", "outdoor coil", "coil", "K9-2", "57", "roof 2"]
)
def test_enter_goes_to_the_list_where_another_machine_or_sign_may_be_meant(find, text):
    first = typed(find, text)[0]
    says = find.page.locator("[data-ohm-find-says]").text_content()
    assert f"Enter goes to the first, {first}." in says
    before = find.page.url
    find.page.keyboard.press("Enter")
    chosen = find.page.get_by_role("option", selected=True)
    assert chosen.locator(".ohm-find-title").inner_text() == first
    find.page.wait_for_timeout(100)
    assert find.page.url == before
    find.page.keyboard.press("Enter")
    find.page.wait_for_url(f"**/{next(item.url for item in ITEMS if item.title == first)}")


def test_enter_does_not_jump_past_the_machine_of_the_open_job(find):
    """Who says `wall` may mean what hangs there."""
    begin_job(find, "roof")
    find.page.reload()
    assert typed(find, "wall 7 long 5 short") == ["58: other way", "57: one way"]
    before = find.page.url
    find.page.keyboard.press("Enter")
    find.page.wait_for_timeout(100)
    assert find.page.url == before


@pytest.mark.parametrize("way", ["Enter", "tap"])
def test_back_brings_the_query_back_and_its_list(find, way):
    typed(find, "wall coil")
    if way == "tap":
        find.page.get_by_role("option").first.tap()
    else:
        find.page.keyboard.press("Enter")
    find.page.wait_for_url("**/sensors/t4.html")
    field = find.page.get_by_role("combobox")
    assert field.input_value() == ""
    assert not find.page.locator(".ohm-find-panel").is_visible()
    find.page.go_back()
    find.page.wait_for_url("**/index.html")
    until(find.page, "document.querySelector('.ohm-find-field').value === 'wall coil'")
    assert titles(find)[0] == "T4 outdoor coil"
    assert find.page.locator(".ohm-find-clear").is_visible()
    # The next hit is one tap away, and Back leads here again.
    find.page.get_by_role("option").first.tap()
    find.page.wait_for_url("**/sensors/t4.html")
    find.page.go_back()
    until(find.page, "document.querySelector('.ohm-find-field').value === 'wall coil'")


def test_back_brings_back_what_stands_in_a_text_too(find):
    typed(find, "grille")
    find.page.keyboard.press("Enter")
    find.page.wait_for_url("**/sensors/r4.html")
    find.page.go_back()
    until(find.page, "document.querySelectorAll('.ohm-find-hit').length === 1")
    assert reasons(find) == ["on the page: grille"]


@pytest.mark.parametrize("away", ["tap", "Escape", "clear"])
def test_a_list_that_was_put_away_does_not_come_back(find, away):
    typed(find, "k42")
    find.page.keyboard.press("Enter")
    find.page.wait_for_url("**/codes/k4-2.html")
    find.page.go_back()
    until(find.page, "document.querySelector('.ohm-find-field').value === 'k42'")
    if away == "tap":
        find.page.locator(".ohm-first").tap()
    elif away == "clear":
        find.page.locator(".ohm-find-clear").tap()
    else:
        find.page.get_by_role("combobox").focus()
        find.page.keyboard.press("Escape")
    find.page.reload()
    assert find.page.get_by_role("combobox").input_value() == ""
    assert not find.page.locator(".ohm-find-panel").is_visible()


def test_a_key_on_a_page_restricts_find_to_its_family_until_that_is_lifted(find):
    on_the_page_of(find, ROOF)
    find.page.get_by_role("button", name="Find here").tap()
    assert find.page.evaluate("document.activeElement.className") == "ohm-find-field"
    chip = find.page.locator(".ohm-find-only")
    chip.wait_for()
    assert chip.locator("span").inner_text() == "Only Roof unit"
    assert typed(find, "outdoor coil") == ["R4 outdoor coil", "K4-2: outdoor coil"]
    assert typed(find, "7 long 5 short") == ["57: one way"]
    # Which family it is of is said once, above them.
    assert not find.page.locator(".ohm-find-context").count()
    # The text of other families is left out as well.
    assert typed(find, "rotor") == []
    assert chip.is_visible()
    typed(find, "7 long 5 short")
    lift = chip.get_by_role("button", name="All families")
    assert lift.bounding_box()["height"] >= 44
    lift.tap()
    assert titles(find) == ["57: one way", "58: other way"]
    assert not chip.is_visible()
    assert find.page.evaluate("document.activeElement.className") == "ohm-find-field"


def test_back_brings_the_restriction_back(find):
    on_the_page_of(find, ROOF)
    find.page.get_by_role("button", name="Find here").tap()
    typed(find, "7 5")
    find.page.keyboard.press("Enter")
    find.page.wait_for_url("**/codes/57.html")
    find.page.go_back()
    until(find.page, "document.querySelector('.ohm-find-field').value === '7 5'")
    assert find.page.locator(".ohm-find-only").is_visible()
    assert titles(find) == ["57: one way"]
