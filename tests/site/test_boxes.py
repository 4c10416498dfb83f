"""On every kind of page, at every width, look, medium and size of text: no text lies on another,
none is cut, and nothing but a table in its frame scrolls sideways.

Everything that unfolds is open while it is looked at. Each fault is said once, with where it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

BOXES = (Path(__file__).with_name("boxes.js")).read_text(encoding="utf-8")
WIDTHS = (320, 390, 820, 1440)
KIND = re.compile(r'class="ohm-sheet ohm-kind-([\w-]+)"')
SIZE = "size => { document.documentElement.style.fontSize = size }"
DARK_WIDTH = 390
TEXT = (100, 200)
PAPER = 718
"""An A4 sheet between its margins, in px."""


def pages_of_each_kind(site: Path) -> dict[str, list[Path]]:
    """Return the shortest and the longest page of each kind but former addresses.

    Those lead on at once: nobody looks at them, and whoever opens one is on another page.
    """
    kinds: dict[str, list[Path]] = {}
    for path in sorted(site.rglob("*.html")):
        found = KIND.search(path.read_text(encoding="utf-8"))
        if found and found[1] != "former":
            kinds.setdefault(found[1], []).append(path)
    for kind, paths in kinds.items():
        paths.sort(key=lambda path: path.stat().st_size)
        kinds[kind] = list(dict.fromkeys([paths[0], paths[-1]]))
    return kinds


def settings() -> Iterator[tuple[int, int, str, str]]:
    """Yield width, per cent of text, medium and look: all that stand on a screen, and paper.

    Dark is other colours of the same boxes (dark.css sets nothing else): one width tells it.
    """
    for width in WIDTHS:
        for percent in TEXT:
            yield width, percent, "screen", "light"
    yield DARK_WIDTH, 100, "screen", "dark"
    # On paper print.css sets the size of text, whatever a phone's is.
    yield PAPER, 0, "print", "light"


def faults_on(page: object) -> dict[str, str]:
    """Return each fault of the page that is open, with the first setting in which it shows."""
    page.evaluate(BOXES)
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    found: dict[str, str] = {}
    for width, percent, medium, look in settings():
        page.set_viewport_size({"width": width, "height": 844})
        page.emulate_media(media=medium, color_scheme=look)
        page.evaluate(SIZE, f"{percent}%" if percent else "")
        for fault in page.evaluate("boxFaults()"):
            found.setdefault(
                re.sub(r"by \d.*|from -?\d.*", "", fault),
                f"{width} px, {percent} %, {medium}, {look}: {fault}",
            )
    return found


def all_kinds() -> list[str]:
    """Return the kinds of pages, as the makers and the frame name them."""
    makers = Path(__file__).resolve().parents[2] / "generators"
    texts = (path.read_text(encoding="utf-8") for path in sorted(makers.rglob("*.py")))
    return sorted({kind for text in texts for kind in re.findall(r'\bkind="([\w-]+)",', text)})


@pytest.fixture(scope="module")
def of_kind(site: Path) -> dict[str, list[Path]]:
    return pages_of_each_kind(site)


@pytest.mark.parametrize("kind", all_kinds())
def test_nothing_lies_on_another_or_is_cut(
    browser: object, of_kind: dict[str, list[Path]], kind: str
) -> None:
    if kind not in of_kind:
        pytest.skip(f"the demo has no page of kind {kind}")
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    faults = []
    for path in of_kind[kind]:
        page.goto(path.as_uri())
        faults += [f"{path.name}: {fault}" for fault in faults_on(page).values()]
    context.close()
    assert faults == [], "\n".join(["", *faults])


def test_every_kind_of_page_is_looked_at(of_kind: dict[str, list[Path]]) -> None:
    assert set(of_kind) <= {*all_kinds(), "page"}


SEEDED = (
    ("overlap", "<p>One</p><p style='margin-top:-1.6rem'>Other words</p>"),
    ("cut", "<p style='width:4rem;overflow:hidden;white-space:nowrap'>Words that are long</p>"),
    ("scrolls", "<p style='width:120vw'>x</p>"),
    (
        "scrolls",
        "<div style='width:4rem;overflow-x:auto;white-space:nowrap'>Words that are long</div>",
    ),
    ("beyond", "<p style='position:relative;left:-3rem'>Words</p>"),
    ("cut", "<ol style='padding:0;margin:0'><li>Words</li></ol>"),
    (
        "overlap",
        "<style>.n li{position:relative;list-style:none}.n li::before"
        "{content:'1';position:absolute;left:0;top:0;width:1.5rem;height:1.5rem}</style>"
        "<ul class=n style='padding:0'><li>Words</li></ul>",
    ),
    ("overlap", "<svg width=99 height=40><text x=2 y=20>One</text><text x=9 y=20>Two</text></svg>"),
)
SOUND = (
    "<meta charset=utf-8><style>td{padding:4px 1rem}</style><h1>Words</h1><p>Words <b>in</b> a line</p>"
    "<ol style='padding-left:2rem'><li>One</li><li>Two <a href='#'>way</a></li></ol>"
    "<div class=ohm-scroll style='overflow-x:auto;width:8rem'><table><tr><td>One</td><td>Two</td>"
    "<td>Three</td></tr></table></div>"
)


def test_a_sound_page_has_no_fault(browser: object) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.set_content(SOUND)
    assert faults_on(page) == {}
    page.close()


@pytest.mark.parametrize(("fault", "body"), SEEDED)
def test_a_seeded_fault_is_found(browser: object, fault: str, body: str) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.set_content(SOUND + body)
    assert any(found.startswith(fault) for found in faults_on(page))
    page.close()
