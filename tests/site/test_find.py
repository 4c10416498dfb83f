"""Find in a browser, straight from a folder: as a person types, by thumb and by key."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from generators.find_index import FindItem, make_find_index
from generators.find_items import find_items
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.check import check_notes
from kb.words.catalogue import template

_spec = importlib.util.spec_from_file_location(
    "stub_site", Path(__file__).with_name("stub_site.py")
)
stubs = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(stubs)

ROOF, SPLIT = "Roof unit", "Wall split"
IDS = {ROOF: "roof", SPLIT: "split"}


def _item(
    kind: str, title: str, url: str, *keys: tuple[str, str], text: str = "", family: str = ""
) -> FindItem:
    return FindItem(kind, title, url, list(keys), text, family, IDS.get(family, ""))


ITEMS = [
    _item(
        "code",
        "K4-2: outdoor coil",
        "codes/k4-2.html",
        ("code", "K4-2"),
        ("blinks", "4L2S"),
        ("asked", "27"),
        text="reads too cold",
        family=ROOF,
    ),
    _item(
        "code",
        "K1-2: supply air",
        "codes/k1-2.html",
        ("code", "K1-2"),
        ("blinks", "1L2S"),
        text="reads nothing",
        family=ROOF,
    ),
    _item(
        "code", "012: locked", "codes/012.html", ("code", "012"), text="blocked rotor", family=SPLIT
    ),
    _item("code", "1E3: bus", "codes/1e3.html", ("code", "1E3"), text="no answer", family=SPLIT),
    _item("code", "NO: no oil", "codes/no.html", ("code", "NO"), text="level", family=SPLIT),
    _item("code", "24: heavy", "codes/24.html", ("code", "24"), ("blinks", "0L6S"), family=SPLIT),
    _item("code", "QD: hot gas", "codes/qd.html", ("code", "QD"), ("blinks", "2L4S"), family=ROOF),
    _item("code", "57: one way", "codes/57.html", ("code", "57"), ("blinks", "7L5S"), family=ROOF),
    _item(
        "code", "58: other way", "codes/58.html", ("code", "S7"), ("blinks", "7L5S"), family=SPLIT
    ),
    _item(
        "sensor",
        "R4 outdoor coil",
        "sensors/r4.html",
        ("name", "outdoor coil"),
        ("label", "R4"),
        ("plug", "X24"),
        ("aka", "defrost probe"),
        text="behind the grille",
        family=ROOF,
    ),
    _item(
        "sensor",
        "T4 outdoor coil",
        "sensors/t4.html",
        ("name", "outdoor coil"),
        ("label", "T4"),
        ("plug", "CN6"),
        text="top left",
        family=SPLIT,
    ),
    _item(
        "part",
        "Main board",
        "parts/a1.html",
        ("name", "Main board"),
        ("order", "FC 8800-112"),
        text="wear the strap",
        family=ROOF,
    ),
    _item("family", ROOF, "families/roof.html", ("name", ROOF), ("aka", "Marl RT 045")),
    _item("family", SPLIT, "families/split.html", ("name", SPLIT), ("aka", "Orrin")),
]


BODY = '<div class="ohm"><button type="button" data-ohm-find-within="{}">Find here</button></div>\n'


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("find")
    front = "---\ntitle: {title}\nkind: {kind}\ntrail: {trail}\n---\n\n"
    pages = {
        path: front.format(title=path, kind="index", trail="[]") + '<div class="ohm">x</div>\n'
        for path in (
            "index.md",
            "safety.md",
            "numbers.md",
            "codes/index.md",
            "sensors/index.md",
            "parts/index.md",
            "families/index.md",
        )
    }
    for item in ITEMS:
        trail = f"[{{title: {item.context}, href: families/index.html}}]"
        told = front.format(title=f'"{item.title}"', kind=item.kind, trail=trail)
        pages[item.url.removesuffix("html") + "md"] = told + BODY.format(item.context or item.title)
    site = stubs.stub_site(folder, pages, make_find_index(ITEMS))
    return (site / "index.html").as_uri()


@pytest.fixture()
def find(phone, home):
    phone.page.goto(home)
    yield phone
    assert phone.complaints == []
    assert phone.asked_elsewhere("file:") == []


def until(page, expression: str) -> None:
    """Wait for something in the page; the browser driver's own wait needs what the policy forbids."""
    for _ in range(100):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(20)
    raise AssertionError(f"never came true: {expression}")


def titles(phone) -> list[str]:
    return phone.page.locator(".ohm-find-hit .ohm-find-title").all_inner_texts()


def typed(phone, text: str) -> list[str]:
    field = phone.page.get_by_role("combobox")
    field.fill(text)
    # The full text arrives once; what it adds must not come after the test has looked.
    until(phone.page, "window.OhmFindText !== undefined")
    return titles(phone)


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


def reasons(phone) -> list[str]:
    return phone.page.locator(".ohm-find-hit .ohm-find-why").all_inner_texts()


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


def groups(phone) -> list[str]:
    return phone.page.locator(".ohm-find-group").all_inner_texts()


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


def on_the_page_of(find, title: str) -> None:
    url = next(item.url for item in ITEMS if item.title == title)
    find.page.goto(find.page.url.partition("/site/")[0] + "/site/" + url)


def begin_job(find, family: str) -> None:
    find.page.evaluate("(family) => { Ohm.startJob(family); }", family)


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


def test_without_scripts_lists_stand_where_the_field_would(browser, home):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(home)
    assert page.get_by_role("combobox").count() == 0
    assert page.locator(".ohm-find-instead").inner_text() == "Find by list: codes sensors parts"
    context.close()
