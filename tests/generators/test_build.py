"""A build turns notes into a finished site, the same bytes each time, or leaves the old one alone."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from pathlib import Path
from urllib.parse import unquote

import pytest

from generators.build import NotesHaveFaults, build
from generators.release.list import OUTSIDE
from kb.notes.folder import carried
from kb.writer import FolderNotOurs, SomebodyElseWrites, only_writer

ROOT = Path(__file__).resolve().parents[2]


def _copy_of_demo(to: Path) -> Path:
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, to / name)
    return to


def _sums(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, built in a folder of its own."""
    notes = _copy_of_demo(tmp_path_factory.mktemp("first"))
    build(notes, notes / "site")
    return notes / "site"


def _links(site: Path) -> dict[str, set[str]]:
    """Page → the pages it links to, read from the finished HTML."""
    found = {}
    for path in site.rglob("*.html"):
        here = path.relative_to(site)
        targets = set()
        for href in re.findall(r'<a\b[^>]*\shref="([^"#?]*)', path.read_text(encoding="utf-8")):
            if href and "://" not in href:
                whole = (site / here.parent / unquote(href)).resolve()
                targets.add(whole.relative_to(site.resolve()).as_posix())
        found[here.as_posix()] = targets
    return found


def test_the_same_notes_give_the_same_bytes_in_another_folder_on_another_day(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    notes = _copy_of_demo(tmp_path / "elsewhere" / "deeper")
    build(notes, tmp_path / "other-site")
    assert _sums(tmp_path / "other-site") == _sums(demo)


def test_nothing_in_the_site_tells_where_or_when_it_was_built(demo: Path) -> None:
    for path in demo.rglob("*"):
        if path.suffix in (".html", ".js", ".css", ".json", ".svg"):
            text = path.read_text(encoding="utf-8")
            assert str(ROOT) not in text, path
            assert "Build Date" not in text, path


def test_every_page_can_be_reached_from_home_by_links(demo: Path) -> None:
    links = _links(demo)
    reached, waiting = set(), {"index.html"}
    while waiting:
        page = waiting.pop()
        reached.add(page)
        waiting |= {one for one in links[page] if one.endswith(".html")} - reached
    assert reached == set(links)


def test_every_link_leads_to_a_file_that_is_there(demo: Path) -> None:
    missing = {
        (page, target)
        for page, targets in _links(demo).items()
        for target in targets
        if not (demo / target).is_file()
    }
    assert missing == set()


def test_no_page_names_another_host(demo: Path) -> None:
    for path in [*demo.rglob("*.html"), *demo.rglob("*.js"), *demo.rglob("*.css")]:
        hosts = set(re.findall(r"https?://([^/\"'\s<>)]+)", path.read_text(encoding="utf-8")))
        assert hosts <= {"www.w3.org"}, (path, hosts)


def test_every_page_carries_the_content_policy_and_no_inline_code(demo: Path) -> None:
    for path in demo.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert "Content-Security-Policy" in text, path
        assert not re.search(r"<[^>]+\sstyle=", text), path
        assert not re.search(r"<[^>]+\son[a-z]+=", text), path
        for attributes, inside in re.findall(r"<script([^>]*)>(.*?)</script>", text, re.DOTALL):
            assert "src=" in attributes and not inside.strip(), path


def test_codes_that_look_like_numbers_dates_and_words_survive_as_typed(demo: Path) -> None:
    shown = set()
    for path in (demo / "codes").glob("*.html"):
        text = path.read_text(encoding="utf-8")
        shown |= set(re.findall(r'<span class="ohm-code">([^<]*)</span>', text))
    assert {"012", "1:30", "NO", "1E3"} <= shown


def test_the_release_lists_every_file_with_its_checksum(demo: Path) -> None:
    listed = json.loads((demo / "release.json").read_text(encoding="utf-8"))
    there = {
        path: told for path, told in _sums(demo).items()
        if path not in OUTSIDE and not path.startswith("releases/")
    }
    assert listed["files"] == there


def test_a_fault_in_the_notes_leaves_the_old_site_as_it_was(tmp_path: Path) -> None:
    notes = _copy_of_demo(tmp_path / "notes")
    build(notes, tmp_path / "site")
    before = _sums(tmp_path / "site")
    curve = notes / "docs_data/curves/ntc-10k-3435.yaml"
    curve.write_text(curve.read_text(encoding="utf-8").replace("law: table", "law: tabel"))
    with pytest.raises(NotesHaveFaults) as stopped:
        build(notes, tmp_path / "site")
    assert [one.rule for one in stopped.value.notes.problems if not one.warning] == ["unknown-word"]
    assert _sums(tmp_path / "site") == before


def test_a_build_that_is_stopped_half_way_leaves_the_old_site_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    notes = _copy_of_demo(tmp_path / "notes")
    build(notes, tmp_path / "site")
    before = _sums(tmp_path / "site")

    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("generators.build.seal", stopped)
    with pytest.raises(KeyboardInterrupt):
        build(notes, tmp_path / "site")
    assert _sums(tmp_path / "site") == before
    monkeypatch.undo()
    build(notes, tmp_path / "site")
    assert _sums(tmp_path / "site") == before


def test_a_folder_that_is_no_site_is_never_replaced(tmp_path: Path) -> None:
    notes = _copy_of_demo(tmp_path / "notes")
    letters = tmp_path / "letters"
    letters.mkdir()
    (letters / "dear.txt").write_text("keep me")
    with pytest.raises(FolderNotOurs):
        build(notes, letters)
    assert (letters / "dear.txt").read_text() == "keep me"


def test_two_builds_of_the_same_notes_do_not_run_at_once(tmp_path: Path) -> None:
    notes = _copy_of_demo(tmp_path / "notes")
    with only_writer(notes / ".build"), pytest.raises(SomebodyElseWrites):
        build(notes, tmp_path / "site")


def test_a_second_build_draws_no_chart_again(demo: Path) -> None:
    again = build(demo.parent, demo)
    assert again.charts_drawn == 0
    assert again.charts_reused > 0


def test_the_compiled_grids_stay_within_two_thousandths_of_a_kelvin(demo: Path) -> None:
    assert 0 < build(demo.parent, demo).worst_grid_error_k <= 0.002


def test_the_bare_start_builds_at_once(tmp_path: Path) -> None:
    starter = carried("site_config").parent / "kb/starter"
    shutil.copytree(starter, tmp_path / "notes")
    summary = build(tmp_path / "notes", tmp_path / "site")
    assert summary.entries > 0
    assert (tmp_path / "site/index.html").is_file()
