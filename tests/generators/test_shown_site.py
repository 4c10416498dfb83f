"""A page is shown before its release is finished; the site that stands is whole all the while."""

from __future__ import annotations

import shutil
import threading
from pathlib import Path

import pytest

from generators import build as building
from generators.build import build
from generators.shown_site import ShownSite
from kb.release_format.places import LIST

GOOD = Path(__file__).resolve().parents[1] / "data/entries/good"


def read(shown: ShownSite, name: str) -> str | None:
    with shown.files(Path(name)) as files:
        return next((file.read_text() for file in files if file.is_file()), None)


@pytest.fixture()
def site(tmp_path: Path) -> tuple[Path, Path]:
    """A site that stands, and one in the making that lacks a file of it."""
    out, fresh = tmp_path / "out", tmp_path / "fresh"
    for folder, words in ((out, "old"), (fresh, "new")):
        folder.mkdir()
        (folder / "a.html").write_text(words)
    (out / "list").write_text("old")
    return out, fresh


def test_a_sealed_site_is_shown_and_what_it_lacks_comes_from_the_one_before(
    site: tuple[Path, Path],
) -> None:
    out, fresh = site
    news: list[str | None] = []
    shown = ShownSite(out, show=lambda: news.append(read(shown, "a.html")))
    assert read(shown, "a.html") == "old"
    shown.sealed(fresh)
    assert news == ["new"]
    assert (read(shown, "a.html"), read(shown, "list")) == ("new", "old")
    assert read(shown, "none") is None
    shown.stopped()
    assert read(shown, "a.html") == "old"


def test_nobody_reads_while_the_folders_change_places(site: tuple[Path, Path]) -> None:
    out, fresh = site
    shown, heard = ShownSite(out), []
    shown.sealed(fresh)
    with shown.swapping():
        reader = threading.Thread(target=lambda: heard.append(read(shown, "a.html")))
        reader.start()
        # In the middle of a swap the old site stands where the new one was made.
        fresh.rename(out.with_name("aside"))
        reader.join(0.05)
        assert heard == []
        shutil.rmtree(out)
        out.with_name("aside").rename(out)
    reader.join(10)
    assert heard == ["new"]


def test_every_page_stands_when_it_is_shown_and_the_old_site_is_untouched(tmp_path: Path) -> None:
    notes = Path(shutil.copytree(GOOD, tmp_path / "notes"))
    out, seen = notes / "site", []

    class Onlooker(ShownSite):
        def sealed(self, folder: Path) -> None:
            super().sealed(folder)
            pages = {path.relative_to(folder) for path in folder.rglob("*.html")}
            seen.append((pages, (folder / LIST).exists(), out.exists() and text_of(out)))

    build(notes, out=out, onlooker=Onlooker(out))
    first = text_of(out)
    page = notes / "docs_data/methods/look.yaml"
    page.write_text(page.read_text("utf-8").replace("name: ", "name: Other ", 1), "utf-8")
    build(notes, out=out, onlooker=Onlooker(out))
    written = {path.relative_to(out) for path in out.rglob("*.html")}
    assert [listed for _, listed, _ in seen] == [False, False]
    assert [pages for pages, _, _ in seen] == [written, written]
    assert [stood for _, _, stood in seen] == [False, first]
    assert text_of(out) != first


def test_a_release_that_comes_to_nothing_leaves_the_old_site_in_view(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    notes = Path(shutil.copytree(GOOD, tmp_path / "notes"))
    out = notes / "site"
    build(notes, out=out)
    first = text_of(out)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(building, "finish_release", full)
    page = notes / "docs_data/methods/look.yaml"
    page.write_text(page.read_text("utf-8").replace("name: ", "name: Other ", 1), "utf-8")
    shown = ShownSite(out)
    with pytest.raises(OSError, match="No space"):
        build(notes, out=out, onlooker=shown)
    assert "Other" in (read(shown, "methods/look.html") or "")
    shown.stopped()
    assert "Other" not in (read(shown, "methods/look.html") or "")
    assert text_of(out) == first


def text_of(out: Path) -> str:
    return (out / LIST).read_text("utf-8")
