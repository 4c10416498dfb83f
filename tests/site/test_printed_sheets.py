"""What is printed: every row whole on one page, safety first, and the release on every page."""

from __future__ import annotations

import re
import shutil
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path

import pypdfium2
import pytest

from generators.paper import paper_style
from generators.publish.chromium import NotPrinted, pages_of, printed
from generators.publish.sheets import Printing, sheet_paths
from kb.catalog import Catalog
from kb.check import check_notes
from kb.site_folder import FolderNotOurs, refuse_foreign_print

CHROMIUM = Path("/usr/bin/chromium")
TOP = Path(__file__).resolve().parents[2]
FAMILY = "sheets/quellmark-rooftop"
SHEETS = (FAMILY, "refits/quellmark-main-board", "curves/ntc-10k-3435", "methods/board-input-volts")
A4_PT, LETTER_PT = (595, 842), (612, 792)
TITLE_PT = 15
"""What sheet.css gives a heading: a page that is too wide is printed smaller as a whole."""


class Rows(HTMLParser):
    """Gathers the words of each cell, row by row, of all tables that paper shows."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self._deep = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "tr":
            self.rows.append([])
        if tag in ("td", "th"):
            self.rows[-1].append("")
            self._deep += 1

    def handle_endtag(self, tag: str) -> None:
        self._deep -= tag in ("td", "th")

    def handle_data(self, data: str) -> None:
        if self._deep:
            self.rows[-1][-1] += data


@dataclass(frozen=True)
class Paper:
    """One printed sheet, as a reader has it."""

    pdf: bytes
    pages: list[str]
    size_pt: tuple[int, int]
    title_pt: float


def solid(text: str) -> str:
    """Return a text without its blanks: where a line breaks says nothing."""
    return re.sub(r"\s", "", text)


def read(pdf: bytes) -> Paper:
    document = pypdfium2.PdfDocument(pdf)
    texts = [page.get_textpage() for page in document]
    pages = [text.get_text_range() for text in texts]
    wide, high = document[0].get_size()
    boxes = (texts[0].get_charbox(i, loose=True) for i in range(texts[0].count_chars()))
    largest = max(top - foot for _, foot, _, top in boxes)
    return Paper(pdf, pages, (round(wide), round(high)), largest)


def rows_of(page: Path) -> list[list[str]]:
    parser = Rows()
    parser.feed(page.read_text(encoding="utf-8"))
    return [[solid(cell) for cell in row if solid(cell)] for row in parser.rows]


@pytest.fixture(scope="module")
def papers(site: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Paper]:
    """Return each kind of sheet of the demo, and the family's on Letter as well."""
    work = tmp_path_factory.mktemp("printing")
    day = "2026-11-27"
    found = {}
    for path in SHEETS:
        page = site / f"{path}.html"
        pdf = printed(page, browser=CHROMIUM, work=work / "work", day=day)
        found[path] = read(pdf)
    letter = work / "letter"
    for file in (f"{FAMILY}.html", *(f"assets/{css.name}" for css in site.glob("assets/*.css"))):
        (letter / file).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(site / file, letter / file)
    team = Catalog(check_notes(TOP)).team.model_copy(update={"paper": "letter"})
    style = paper_style(team, release="Release 1 of 2026-11-27", sheets={FAMILY: "Quellmark"})
    (letter / "assets/paper.css").write_text(style, encoding="utf-8")
    page = letter / f"{FAMILY}.html"
    pdf = printed(page, browser=CHROMIUM, work=work / "work", day=day)
    return {**found, "letter": read(pdf)}


@pytest.mark.parametrize("path", [*SHEETS, "letter"])
def test_no_row_is_cut_by_the_end_of_a_page(
    papers: dict[str, Paper], site: Path, path: str
) -> None:
    pages = [solid(page) for page in papers[path].pages]
    rows = rows_of(site / f"{FAMILY if path == 'letter' else path}.html")
    assert rows or path.startswith("methods/")
    cut = [row for row in rows if not any(all(cell in page for cell in row) for page in pages)]
    assert not cut


@pytest.mark.parametrize("path", [*SHEETS, "letter"])
def test_every_page_says_its_sheet_its_release_and_which_page_it_is(
    papers: dict[str, Paper], path: str
) -> None:
    paper = papers[path]
    name = {"curves/ntc-10k-3435": "NTC 10k, B 3435", "methods/board-input-volts": "Volts at the"}
    for number, page in enumerate(paper.pages, 1):
        assert "Larkmoor Cooling. Release 1 of 2026-11-27" in page
        assert f"Page {number} of {len(paper.pages)}" in page
        assert name.get(path, "Quellmark") in page
    assert pages_of(paper.pdf) == len(paper.pages)
    assert paper.size_pt == (LETTER_PT if path == "letter" else A4_PT)
    assert paper.title_pt == pytest.approx(TITLE_PT * 1.17, rel=0.08), "printed smaller as a whole"


@pytest.mark.parametrize("path", [*SHEETS, "letter"])
def test_safety_stands_first_and_unfolded(papers: dict[str, Paper], path: str) -> None:
    first = solid(papers[path].pages[0])
    words = {
        SHEETS[2]: ("isolate,lockoff,provedead", "measurethatitisgone"),
        SHEETS[3]: ("Onehand,sleevesbuttoned", "Stopthemachineatitscontrollerfirst."),
    }.get(path, ("Isolate,lockoff,provedead.", "Wait10minutes,thenmeasure:", "inverterA2,meter"))
    after = {SHEETS[0]: "K1-1", "letter": "K1-1", SHEETS[1]: "SET1", SHEETS[2]: "329.5"}
    places = [first.index(word) for word in words]
    assert max(places) < first.index(after.get(path, "Isolatedanddrained"))


def test_a_table_that_goes_on_says_again_what_its_columns_are(papers: dict[str, Paper]) -> None:
    shows = [page for page in papers[FAMILY].pages if re.search(r"\bK\d-\d\b", page)]
    assert len(shows) > 1
    assert all("Check first" in page for page in shows)


def test_the_same_page_gives_the_same_bytes(papers: dict[str, Paper]) -> None:
    pdf = papers[FAMILY].pdf
    assert b"(D:20261127000000" in pdf
    assert pdf.endswith(b"%%EOF\n%ohmfolio-printed\n")


@pytest.fixture
def printing(tmp_path: Path) -> Iterator[Printing]:
    """Stand before three pages, with a browser that fails at the second."""
    for name in ("a", "b", "c"):
        (tmp_path / f"site/sheets/{name}.html").parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / f"site/sheets/{name}.html").write_text("<p>", encoding="utf-8")
    browser = tmp_path / "browser"
    browser.write_text(
        "#!/bin/sh\n"
        'for word in "$@"; do case $word in --print-to-pdf=*) to=${word#*=};; esac; done\n'
        'case "$*" in *b.html) printf "%%PDF-1.4 half" > "$to"; echo "no room" >&2; exit 7;; esac\n'
        'printf "%%PDF-1.4\\n/Type /Page\\n%%%%EOF\\n" > "$to"\n',
        encoding="utf-8",
    )
    browser.chmod(browser.stat().st_mode | stat.S_IXUSR)
    yield Printing(
        site=tmp_path / "site",
        browser=browser,
        paths=("sheets/a", "sheets/b", "sheets/c"),
        to=tmp_path / "to",
        work=tmp_path / "work",
        day="",
    )


def test_a_browser_that_stops_half_way_leaves_no_half_sheet(printing: Printing) -> None:
    sheets = printing.sheets()
    assert next(sheets).pages == 1
    with pytest.raises(
        NotPrinted, match=r"printed no PDF of .*b\.html \(it ended with 7\): no room"
    ):
        next(sheets)
    assert [path.name for path in printing.to.rglob("*.*")] == ["a.pdf"]
    assert not printing.work.exists()


def test_what_was_not_printed_here_is_not_replaced(printing: Printing) -> None:
    ours = next(printing.sheets()).file
    refuse_foreign_print(ours)
    theirs = ours.with_name("theirs.pdf")
    theirs.write_bytes(b"%PDF-1.4\n%%EOF\n")
    with pytest.raises(FolderNotOurs, match=r"theirs\.pdf is no sheet that was printed here"):
        refuse_foreign_print(theirs)


def test_a_familys_sheets_bring_the_curves_and_methods_that_it_uses() -> None:
    catalog = Catalog(check_notes(TOP))
    sorts = ("family", "refit", "curve", "method")
    paths = sheet_paths(catalog, families=["quellmark-rooftop"], sorts=sorts)
    assert paths[0] == FAMILY
    assert {"refits/quellmark-main-board", "curves/ntc-10k-3435"} < {*paths}
    assert not any("brenholt" in path for path in paths)
    assert sheet_paths(catalog, families=[], sorts=["family"]) == tuple(
        f"sheets/{name}"
        for name in ("brenholt-split", "osterlyn-coldroom", "quellmark-rooftop", "veldane-chiller")
    )
