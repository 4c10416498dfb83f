"""Pages that are taken over from the old site: never another byte, whatever happened to what is kept."""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, cast

import pytest

from generators import build as building
from generators import curve_files, kept_pages, workers, write_pages
from generators.answers import Answers
from generators.build import build
from generators.make import make_entry
from generators.site_context import SiteContext
from generators.traced_catalog import TracedCatalog
from kb.catalog import Catalog
from kb.model import KINDS, Curve, Lesson
from kb.notes.load import load_notes
from kb.numbers.characteristic import Characteristic
from kb.numbers.grid import Grid

ROOT = Path(__file__).resolve().parents[2]
GOOD = ROOT / "tests/data/entries/good"


@pytest.fixture(scope="module")
def warm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small good notes with their site and all that a build keeps."""
    notes = Path(shutil.copytree(GOOD, tmp_path_factory.mktemp("warm") / "notes"))
    build(notes, out=notes / "site")
    return notes


@pytest.fixture()
def notes(warm: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of those; what is kept for a site goes by its place, here the first one's."""
    kept = kept_pages.kept_file(warm / ".build", out=(warm / "site").absolute()).name
    monkeypatch.setattr(building, "kept_file", lambda work, *, out: work / "kept" / kept)
    pack = pack_of(warm).name
    monkeypatch.setattr(building, "kept_pack_file", lambda work, *, out: work / "kept" / pack)
    return Path(shutil.copytree(warm, tmp_path / "notes"))


def sums(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def kept_file(notes: Path) -> Path:
    others = ("site-", "pack-")
    (file,) = (
        path for path in (notes / ".build/kept").iterdir() if not path.name.startswith(others)
    )
    return file


def pack_of(notes: Path) -> Path:
    (file,) = (notes / ".build/kept").glob("pack-*")
    return file


def rewritten(notes: Path, change: Callable[[dict[str, Any]], object]) -> None:
    """Change what is kept, and let its own checksum agree."""
    file = kept_file(notes)
    content = json.loads(file.read_bytes().partition(b"\n")[2])
    change(content)
    text = json.dumps(content).encode()
    file.write_bytes(hashlib.sha256(text).hexdigest().encode() + b"\n" + text)


def dressed_pages(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return a list that fills with the pages that are put into their frame."""
    # What a worker notes stays with it.
    monkeypatch.setattr(workers, "cores", lambda: 1)
    dressed: list[str] = []
    before = write_pages.Frame.dressed

    def noted(self: write_pages.Frame, made: write_pages.Page) -> str:
        dressed.append(made.path)
        return before(self, made)

    monkeypatch.setattr(write_pages.Frame, "dressed", noted)
    return dressed


def test_a_build_of_the_same_notes_dresses_no_page(
    notes: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, dressed = sums(notes / "site"), dressed_pages(monkeypatch)
    build(notes, out=notes / "site")
    assert sums(notes / "site") == before
    assert dressed == []


def first_of(notes: Path, kind: str) -> Path:
    return sorted((notes / "docs_data" / kind).rglob("*.yaml"))[0]


@pytest.mark.parametrize("kind", list(KINDS))
def test_after_an_edit_the_site_is_what_a_clean_build_makes(
    kind: str, notes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = first_of(notes, kind)
    text = file.read_text(encoding="utf-8")
    changed = text.replace("name: ", "name: Other ", 1)
    assert changed != text
    file.write_text(changed, encoding="utf-8")
    dressed = dressed_pages(monkeypatch)
    build(notes, out=notes / "site")
    few, many = len(dressed), len(list((notes / "site").rglob("*.html")))
    assert 0 < few < many
    clean = tmp_path / "clean"
    for name in ("docs_data", "content"):
        shutil.copytree(notes / name, clean / name)
    build(clean, out=clean / "site")
    assert sums(notes / "site") == sums(clean / "site")


def flipped(path: Path) -> None:
    raw = path.read_bytes()
    path.write_bytes(raw[:-5] + bytes([raw[-5] ^ 1]) + raw[-4:])


def other_text(path: Path) -> None:
    path.write_text(path.read_text(encoding="utf-8").replace("</h1>", " poison</h1>"))


def page_of(notes: Path) -> Path:
    return sorted((notes / "site/sensors").glob("*.html"))[-1]


HARMS: dict[str, Callable[[Path], object]] = {
    "a page in the old site changed": lambda notes: other_text(page_of(notes)),
    "a page in the old site gone": lambda notes: page_of(notes).unlink(),
    "a page cut off": lambda notes: page_of(notes).write_text("<!doctype html>"),
    "a kept script changed": lambda notes: flipped(notes / ".build/frame/assets/look.js"),
    "a byte of the record flipped": lambda notes: flipped(kept_file(notes)),
    "the record half written": lambda notes: kept_file(notes).write_bytes(
        kept_file(notes).read_bytes()[:900]
    ),
    "the record empty": lambda notes: kept_file(notes).write_bytes(b""),
    "the record of another program": lambda notes: rewritten(
        notes, lambda content: content.update(key="0" * 64)
    ),
    "the record of an older form": lambda notes: rewritten(
        notes, lambda content: content.update(form=0)
    ),
    "a record of something else": lambda notes: rewritten(
        notes, lambda content: content.update(pages={"a.html": 3})
    ),
    "a byte of the pack flipped": lambda notes: flipped(pack_of(notes)),
    "the pack half written": lambda notes: pack_of(notes).write_bytes(
        pack_of(notes).read_bytes()[:90]
    ),
    "pages that asked nothing": lambda notes: rewritten(
        notes, lambda content: [row.__setitem__(3, []) for row in content["pages"].values()]
    ),
}


@pytest.mark.parametrize("harm", HARMS)
def test_whatever_happened_to_what_is_kept_the_site_is_the_same(harm: str, notes: Path) -> None:
    before = sums(notes / "site")
    HARMS[harm](notes)
    build(notes, out=notes / "site")
    assert sums(notes / "site") == before


def test_the_record_of_other_notes_changes_nothing(notes: Path, tmp_path: Path) -> None:
    other = Path(shutil.copytree(notes, tmp_path / "other"))
    for kind in ("sensors", "families", "codes"):
        file = first_of(other, kind)
        file.write_text(file.read_text(encoding="utf-8").replace("name: ", "name: Other ", 1))
    build(other, out=other / "site")
    before = sums(notes / "site")
    shutil.copy(kept_file(other), kept_file(notes))
    build(notes, out=notes / "site")
    assert sums(notes / "site") == before


def test_another_language_takes_over_no_page(notes: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(building, "language", lambda: "another")
    dressed = dressed_pages(monkeypatch)
    build(notes, out=notes / "site")
    written = list((notes / "content").rglob("*.md"))
    assert len(dressed) == len(list((notes / "site").rglob("*.html"))) - len(written)


def test_every_page_of_an_entry_can_be_held_against_its_questions() -> None:
    catalog = Catalog(load_notes(ROOT))
    answers = Answers(catalog)
    for kind in KINDS:
        for entry in catalog.notes.of_kind(kind).values():
            if isinstance(entry, Curve | Lesson):
                # A curve's page is made from its chart too, a lesson's from hand-written pages.
                continue
            traced = TracedCatalog(catalog)
            make_entry(SiteContext(cast(Catalog, traced)), entry, charts={}, curves={})
            assert traced.questions is not None, entry
            assert None not in map(answers.to, traced.questions), entry


def test_a_new_term_makes_the_pages_that_say_it_anew(
    notes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = "name: bench\nsource: habit\nmeans: Where things are tried.\n"
    (notes / "docs_data/terms/bench.yaml").write_text(words, encoding="utf-8")
    dressed = dressed_pages(monkeypatch)
    build(notes, out=notes / "site")
    linked = {
        path.relative_to(notes / "site").with_suffix(".md").as_posix()
        for path in (notes / "site").rglob("*.html")
        if 'class="ohm-word" href="../terms/bench.html"' in path.read_text(encoding="utf-8")
    }
    few, many = len(dressed), len(list((notes / "site").rglob("*.html")))
    assert "sensors/coil-a.md" in linked <= {*dressed}
    assert few < 0.75 * many
    clean = tmp_path / "clean"
    for name in ("docs_data", "content"):
        shutil.copytree(notes / name, clean / name)
    build(clean, out=clean / "site")
    assert sums(notes / "site") == sums(clean / "site")


def test_what_is_worked_out_of_entries_is_kept_and_never_another(
    notes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One entry of each kind gone, one come, one changed in its figures: builds in a row."""
    again: list[str] = []
    monkeypatch.setattr(workers, "cores", lambda: 1)
    compiled = curve_files.compile_grid

    def noted(characteristic: Characteristic) -> Grid:
        again.append(characteristic.id)
        return compiled(characteristic)

    monkeypatch.setattr(curve_files, "compile_grid", noted)
    first = notes / "docs_data/curves/beta-ten.yaml"
    first.write_text(first.read_text("utf-8").replace("b_k: 3500", "b_k: 3501"), "utf-8")
    build(notes, out=notes / "site")
    assert again == ["beta-ten"]
    coil = first_of(notes, "sensors")
    coil.write_text(coil.read_text("utf-8").replace("place: ", "place: At the vent. ", 1), "utf-8")
    look = notes / "docs_data/methods/look.yaml"
    another = shutil.copy(look, look.with_name("another.yaml"))
    build(notes, out=notes / "site")
    Path(another).unlink()
    family = first_of(notes, "families")
    family.write_text(family.read_text("utf-8").replace("name: ", "name: Old ", 1), "utf-8")
    build(notes, out=notes / "site")
    assert again == ["beta-ten"]
    clean = tmp_path / "clean"
    for name in ("docs_data", "content"):
        shutil.copytree(notes / name, clean / name)
    build(clean, out=clean / "site")
    assert len(again) > 2
    assert sums(notes / "site") == sums(clean / "site")
    assert "vent" in (notes / "site/assets/find-text.js").read_text("utf-8")
    assert "Old" in (notes / "site/assets/practice-notes.js").read_text("utf-8")
