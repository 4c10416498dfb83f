"""Find in a browser, straight from a folder: as a person types, by thumb and by key."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from generators.find_index import FindItem, make_find_index

_spec = importlib.util.spec_from_file_location(
    "stub_site", Path(__file__).with_name("stub_site.py")
)
stubs = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(stubs)

ROOF, SPLIT = "Roof unit", "Wall split"
ITEMS = [
    FindItem(
        "code",
        "K4-2: outdoor coil",
        "codes/k4-2.html",
        [("code", "K4-2"), ("blinks", "4L2S"), ("code", "27")],
        "reads too cold",
        ROOF,
    ),
    FindItem(
        "code",
        "K1-2: supply air",
        "codes/k1-2.html",
        [("code", "K1-2"), ("blinks", "1L2S")],
        "reads nothing",
        ROOF,
    ),
    FindItem("code", "012: locked", "codes/012.html", [("code", "012")], "blocked rotor", SPLIT),
    FindItem("code", "1E3: bus", "codes/1e3.html", [("code", "1E3")], "no answer", SPLIT),
    FindItem("code", "NO: no oil", "codes/no.html", [("code", "NO")], "level", SPLIT),
    FindItem("code", "24: heavy", "codes/24.html", [("code", "24"), ("blinks", "0L6S")], "", SPLIT),
    FindItem(
        "sensor",
        "R4 outdoor coil",
        "sensors/r4.html",
        [("name", "outdoor coil"), ("label", "R4"), ("plug", "X24"), ("aka", "defrost probe")],
        "behind the grille",
        ROOF,
    ),
    FindItem(
        "sensor",
        "T4 outdoor coil",
        "sensors/t4.html",
        [("name", "outdoor coil"), ("label", "T4"), ("plug", "CN6")],
        "top left",
        SPLIT,
    ),
    FindItem(
        "part",
        "Main board",
        "parts/a1.html",
        [("name", "Main board"), ("order", "FC 8800-112")],
        "wear the strap",
        ROOF,
    ),
]


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
        pages[item.url.removesuffix("html") + "md"] = told + '<div class="ohm">x</div>\n'
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


def test_each_hit_says_its_kind_and_its_family(find):
    typed(find, "outdoor coil wall")
    said = find.page.locator(".ohm-find-hit").first.locator("span").all_inner_texts()
    assert said == ["T4 outdoor coil", "sensor", "Wall split"]


def test_the_family_whose_page_is_open_comes_first_among_equals(find):
    assert typed(find, "outdoor coil")[:2] == ["R4 outdoor coil", "T4 outdoor coil"]
    find.page.goto(find.page.url.replace("index.html", "codes/012.html"))
    assert typed(find, "outdoor coil")[0] == "T4 outdoor coil"


def test_enter_opens_the_first_hit(find):
    typed(find, "k42")
    find.page.keyboard.press("Enter")
    find.page.wait_for_url("**/codes/k4-2.html")


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
