"""A site of two families for the tests of Find, and what a person does and sees there."""

from __future__ import annotations

from pathlib import Path

from generators.find_index import FindItem, make_find_index, text_words
from tests.site.stub_site import stub_site

ROOF, SPLIT = "Roof unit", "Wall split"
IDS = {ROOF: "roof", SPLIT: "split"}


def _item(
    kind: str, title: str, url: str, *keys: tuple[str, str], text: str = "", family: str = ""
) -> FindItem:
    words = text_words(f"{title} {family} {text}")
    return FindItem(kind, title, url, list(keys), words, family, IDS.get(family, ""))


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


def make_find_site(folder: Path) -> str:
    """Return the address of its first page, straight from the folder."""
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
    site = stub_site(folder, pages, make_find_index(ITEMS))
    return (site / "index.html").as_uri()


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


def reasons(phone) -> list[str]:
    return phone.page.locator(".ohm-find-hit .ohm-find-why").all_inner_texts()


def groups(phone) -> list[str]:
    return phone.page.locator(".ohm-find-group").all_inner_texts()


def on_the_page_of(find, title: str) -> None:
    url = next(item.url for item in ITEMS if item.title == title)
    find.page.goto(find.page.url.partition("/site/")[0] + "/site/" + url)


def begin_job(find, family: str) -> None:
    find.page.evaluate("(family) => { Ohm.startJob(family); }", family)
