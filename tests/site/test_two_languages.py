"""A site in one language says nothing in another: every word of it stands in the catalogue.

The demo is built twice: in letters that nobody writes, so that whatever was left out of the
catalogue stands out, and in German.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.site.test_boxes import pages_of_each_kind
from tests.unplaced_words import (
    ENGLISH_PAGES,
    build_wide,
    said_by_notes,
    unplaced,
    unplaced_by_page,
)

ROOT = Path(__file__).resolve().parents[2]
FAMILY = "quellmark-rooftop"
SENSOR = "sensors/quellmark-coil-out.html"
PAGES = (
    SENSOR,
    "sensors/quellmark-fan-overheat.html",
    "parts/quellmark-supply-fan.html",
    "parts/quellmark-compressor.html",
    "parts/quellmark-main-board.html",
    "codes/quellmark-k4-2.html",
    "families/quellmark-rooftop.html",
    "curves/ntc-10k-3977.html",
    "which.html",
    "index.html",
    "stop.html",
    "drills.html",
)
"""One page of each kind whose scripts say something; the job page comes last."""
TYPED = """value => {
  const shown = (element) => element.getClientRects().length > 0;
  document.querySelectorAll("details").forEach((fold) => { fold.open = true; });
  for (const field of document.querySelectorAll("form input, form select, form textarea")) {
    if (!shown(field) || field.closest(".ohm-job-panel")) continue;
    if (field.type === "radio") {
      if (!document.querySelector(`input[name="${field.name}"]:checked`)) field.click();
    } else if (field.type === "checkbox") field.click();
    else if (field.localName === "select") {
      if (field.options.length > 1) field.selectedIndex = 1 + (field.options.length > 2);
    } else if (field.type === "file" || field.type === "hidden") continue;
    else field.value = /-at|air|temp|-c$|dew/.test(field.id) ? "21" : value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  }
}"""
READ = """() => {
  const found = [];
  const walker = document.createTreeWalker(document.documentElement, NodeFilter.SHOW_ALL);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (node.nodeType === 3) {
      if (!node.parentElement.closest("script, style, noscript, .ohm-case-text") && node.data.trim()) {
        found.push(node.data);
      }
    } else if (node.nodeType === 1) {
      for (const name of ["title", "aria-label", "placeholder", "alt", "aria-description"]) {
        if (node.getAttribute(name)) found.push(node.getAttribute(name));
      }
    }
  }
  return found;
}"""
WIDTH = "() => document.documentElement.scrollWidth"


def notes_in(folder: Path) -> Path:
    """Copy the demo's notes."""
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, folder / name)
    return folder


@pytest.fixture(scope="module")
def wide(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo in letters that stand nowhere else."""
    notes = notes_in(tmp_path_factory.mktemp("wide"))
    build_wide(notes, out=notes / "site")
    return notes / "site"


@pytest.fixture(scope="module")
def german(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The notes of a team that speaks German, with the site and one pocket file beside them."""
    from generators.publish.pockets import write_pockets

    notes = notes_in(tmp_path_factory.mktemp("german"))
    team = notes / "docs_data" / "team.yaml"
    english = team.read_text(encoding="utf-8")
    team.write_text(english.replace("language: english", "language: german"), encoding="utf-8")
    assert team.read_text(encoding="utf-8") != english
    list(write_pockets(notes, families=(FAMILY,), to=notes / "pocket"))
    return notes


def german_site(notes: Path) -> Path:
    from generators.build import PUBLISHED
    from kb.site_folder import WORK

    return notes / WORK / PUBLISHED


def test_every_word_of_a_page_stands_in_the_catalogue_or_in_the_notes(wide: Path) -> None:
    left = unplaced_by_page(wide, notes=wide.parent)
    lines = [f"{page}: {', '.join(map(repr, runs))}" for page, runs in left.items()]
    assert left == {}, "\n".join(["", *lines[:40], f"{len(lines)} pages"])


def test_every_word_that_a_script_says_stands_there_too(phone: object, wide: Path) -> None:
    """Each page with its forms filled in twice, soundly and over range, in a job of its own."""
    page, notes = phone.page, said_by_notes(wide.parent)
    page.on("dialog", lambda dialog: dialog.accept())
    left: dict[str, str] = {}

    def look(name: str, when: str) -> None:
        for run in unplaced(page.evaluate(READ), notes=notes):
            left.setdefault(run, f"{name} {when}")

    page.goto((wide / SENSOR).as_uri())
    start_job(page)
    look(SENSOR, "with the panel open")
    for name in (*PAGES, f"jobs/{FAMILY}.html"):
        page.goto((wide / name).as_uri())
        for value in ("10k", "OL", "?"):
            page.evaluate(TYPED, value)
            page.wait_for_timeout(150)
            look(name, f"with {value}")
    assert phone.complaints == []
    assert left == {}, "\n".join(["", *(f"{where}: {run}" for run, where in left.items())])


def start_job(page: object) -> None:
    """Begin a job by the bar, whatever the language, and open the bar's panel again."""
    page.locator(".ohm-job-change").tap()
    page.locator("#ohm-job-mark").fill("AHU 3")
    page.locator(".ohm-job-start").tap()
    page.locator(".ohm-job-name").filter(has_text="AHU 3").wait_for()
    page.locator(".ohm-job-change").tap()


def test_a_page_says_which_language_it_is_in(german: Path) -> None:
    pages = [*german_site(german).rglob("*.html"), *(german / "pocket").glob("*.html")]
    assert len(pages) > 300
    for path in pages:
        assert '<html lang="de"' in path.read_text(encoding="utf-8")[:400], path.name


@pytest.fixture(scope="module")
def kinds(german: Path) -> list[Path]:
    """The longest page of each kind of the German site; the keeper's own are in English."""
    longest = [paths[-1] for paths in pages_of_each_kind(german_site(german)).values()]
    return [path for path in longest if path.name not in ENGLISH_PAGES]


def test_longer_words_fit_a_small_phone(phone: object, kinds: list[Path]) -> None:
    page, wider = phone.page, []
    for path in kinds:
        page.goto(path.as_uri())
        page.evaluate(TYPED, "10k")
        for width in (320, 390):
            page.set_viewport_size({"width": width, "height": 844})
            found = page.evaluate(WIDTH)
            if found > width:
                wider.append(f"{path.name}: {found} px at {width}")
    assert phone.complaints == []
    assert phone.asked_elsewhere("file:") == []
    assert wider == []


OF_WORDS = ["cat.name-role-value", "cat.language", "cat.forms", "cat.text-alternatives"]
"""What axe asks that another language may answer otherwise: colours and order are the same."""


def test_a_reader_hears_german_names_of_everything(browser: object, kinds: list[Path]) -> None:
    axe = pytest.importorskip("axe_playwright_python", reason="axe-core is not installed")
    source = (Path(axe.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
    context = browser.new_context(viewport={"width": 390, "height": 844}, bypass_csp=True)
    page, found = context.new_page(), []
    for path in kinds:
        page.goto(path.as_uri())
        page.evaluate(TYPED, "10k")
        page.evaluate(source)
        seen = page.evaluate(
            "runOnly => axe.run(document, {resultTypes: ['violations'], runOnly})", OF_WORDS
        )
        assert seen["passes"], path
        found += [
            f"{path.name}: {fault['id']}: {node['html'][:120]}"
            for fault in seen["violations"]
            for node in fault["nodes"]
        ]
    context.close()
    assert found == []


def test_a_reading_is_judged_in_german(phone: object, german: Path) -> None:
    """From the folder and from the pocket file: the verdict is the catalogue's own."""
    pocket = (german / "pocket" / f"{FAMILY}.html").as_uri()
    for address in (
        (german_site(german) / SENSOR).as_uri(),
        f"{pocket}#sensors-quellmark-coil-out",
    ):
        page = phone.page
        page.goto(address)
        form = page.locator('form[data-calc="judge"]:visible')
        form.get_by_label("Multimeter zeigt").fill("OL")
        form.locator(".ohm-verdict-word").wait_for()
        assert "Unterbrechung" in form.locator(".ohm-verdict-word").inner_text()
    assert phone.complaints == []
    assert phone.asked_elsewhere("file:") == []
