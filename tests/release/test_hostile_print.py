"""Hostile words in every field stay words on sheets and stickers: nothing runs, nobody is asked."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pypdfium2
import pytest

from generators.build import build
from generators.publish.label_files import make_labels, sheet_named, sound_notes
from generators.publish.sheets import SORTS, sheet_paths
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model.words import Fault

STARTER = Path(__file__).resolve().parents[2] / "kb/starter"
HOST = "http://127.0.0.1:9/"
HOSTILE = [
    f"<img/src={HOST}a/onerror=ran()>",
    f"</script><script src={HOST}b></script>",
    "<script>ran()</script>",
    "<svg/onload=ran()>",
    f"<iframe src={HOST}c></iframe>",
    f"<meta/http-equiv=refresh content=0;url={HOST}d>",
    f"<link rel=stylesheet href={HOST}e>",
    f"<style>@import url({HOST}f); body:before {{content: url({HOST}g)}}</style>",
    f"</p></div></title><object data={HOST}h></object>",
    f"<base href={HOST}i><form action={HOST}j><input autofocus onfocus=ran()></form>",
    "<a href=javascript:ran()>x</a>",
    "{{ config }} {% include 'x' %} &lt;script&gt;ran()&lt;/script&gt;",
]
_PROSE = re.compile(
    r"^(?P<head>\s*(?:- )?(?:name|title|publisher|practice|does|senses|place|look|found|cure|meaning|"
    r"about|purpose|plate|maker|measures|where|why|shows|look_for|of): |- )(?P<text>[A-Z][^#\[{:]*?)"
    r"\s*(?:#.*)?$"
)


def made_hostile(notes: Path) -> int:
    """Put a hostile word into each line of prose that the notes then still bear; count them."""
    drawn = 0
    for file in sorted((notes / "docs_data").rglob("*.yaml")):
        lines = file.read_text(encoding="utf-8").splitlines()
        for row, line in enumerate(lines):
            if not (found := _PROSE.match(line)):
                continue
            words = f"{found['text']} {HOSTILE[drawn % len(HOSTILE)]}".replace("'", "''")
            lines[row] = f"{found['head']}'{words}'"
            drawn += 1
        file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return drawn


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Notes whose every line of prose is hostile, and their site."""
    notes = Path(shutil.copytree(STARTER, tmp_path_factory.mktemp("hostile") / "notes"))
    assert made_hostile(notes) > 40
    assert [each.picture() for each in check_notes(notes).problems if not each.warning] == []
    build(notes, out=notes / "site")
    return notes


def asked_for(browser: object, pages: list[Path]) -> tuple[list[str], list[str], list[bytes]]:
    """Print pages; return what they asked for, what ran, and the PDFs."""
    context = browser.new_context()
    asked: list[str] = []
    ran: list[str] = []
    pdfs = []
    context.expose_function("ran", lambda: ran.append("ran"))
    for path in pages:
        page = context.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.on("dialog", lambda dialog: ran.append("dialog"))
        page.goto(path.as_uri())
        pdfs.append(page.pdf(prefer_css_page_size=True))
        page.close()
    context.close()
    return asked, ran, pdfs


def test_the_browser_that_prints_sheets_and_stickers_asks_nobody_and_runs_nothing(
    browser: object, hostile: Path
) -> None:
    loaded = sound_notes(hostile)
    sheet = sheet_named(None, measured=None, team=Catalog(loaded).team)
    labels = make_labels(
        loaded,
        families=["example-unit"],
        texts=[HOSTILE[0], HOSTILE[2]],
        copies=1,
        sheet=sheet_named("a4-2x4", measured=None, team=Catalog(loaded).team) or sheet,
        first=1,
        address="https://notes.example/",
    )
    (hostile / "labels.html").write_text(labels.page, encoding="utf-8")
    paths = sheet_paths(Catalog(loaded), families=(), sorts=SORTS)
    pages = [*(hostile / f"site/{path}.html" for path in paths), hostile / "labels.html"]
    asked, ran, pdfs = asked_for(browser, pages)
    assert [url for url in asked if not url.startswith(f"file://{hostile}/")] == []
    assert ran == []
    for path, pdf in zip(pages, pdfs, strict=True):
        assert b"/JavaScript" not in pdf and b"127.0.0.1" not in pdf, path
        texts = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
        # What was typed is there to be read.
        assert re.search(r"ran\(\)|127\.0\.0\.1", "".join(texts)), path


def test_the_same_words_as_tags_would_be_seen(browser: object, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text(f"<!doctype html><p>{' '.join(HOSTILE[:4])}", encoding="utf-8")
    asked, ran, _ = asked_for(browser, [page])
    assert any(url.startswith(HOST) for url in asked)
    assert ran


@pytest.mark.parametrize("address", ["javascript:ran()", 'https://x.example/"><img src=y>', "x y"])
def test_an_address_of_stickers_is_one_that_a_browser_opens(address: str) -> None:
    loaded = check_notes(STARTER)
    team = Catalog(loaded).team
    with pytest.raises(Fault, match="no address that a browser opens"):
        make_labels(
            loaded,
            families=(),
            texts=(),
            copies=1,
            sheet=sheet_named(None, measured=None, team=team),
            first=1,
            address=address,
        )
