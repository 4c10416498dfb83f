"""A build turns notes into a site, the same bytes each time, or leaves the old one alone."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from pathlib import Path
from urllib.parse import unquote

import pytest

from generators.build import NotesHaveFaults, Summary, build
from kb.notes.folder import carried
from kb.release_format.places import UPLOADED_LAST, is_record_or_pack
from kb.site_folder import FolderNotOurs
from kb.writer import SomebodyElseWrites, only_writer

ROOT = Path(__file__).resolve().parents[2]
GOOD = ROOT / "tests/data/entries/good"


@pytest.fixture(scope="module")
def demo_notes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo and its frame as they are when the tests begin: somebody may be writing them."""
    notes = tmp_path_factory.mktemp("first")
    for name in ("docs_data", "content", "site_config"):
        shutil.copytree(ROOT / name, notes / name)
    return notes


@pytest.fixture()
def notes(tmp_path: Path) -> Path:
    """A copy of the small good notes: they build in a second, and any test may change them."""
    return Path(shutil.copytree(GOOD, tmp_path / "notes"))


@pytest.fixture(scope="module")
def good_built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Summary]:
    """The small good notes with their site, built once, and what the build said."""
    notes = Path(shutil.copytree(GOOD, tmp_path_factory.mktemp("good") / "notes"))
    return notes, build(notes, out=notes / "site")


@pytest.fixture()
def with_site(good_built: tuple[Path, Summary], tmp_path: Path) -> Path:
    """A copy of the good notes with a site that was built from them before."""
    return Path(shutil.copytree(good_built[0], tmp_path / "notes"))


def _sums(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


@pytest.fixture(scope="module")
def built(demo_notes: Path) -> Summary:
    """What building the demo said."""
    return build(demo_notes, out=demo_notes / "site")


@pytest.fixture(scope="module")
def demo(demo_notes: Path, built: Summary) -> Path:
    """The demo's site."""
    return demo_notes / "site"


def _links(site: Path) -> dict[str, set[str]]:
    """Page → the pages it links to, read from the finished HTML."""
    found = {}
    for path in site.rglob("*.html"):
        here = path.relative_to(site)
        targets = set()
        for href in re.findall(r'<a\b[^>]*\shref="([^"#?]*)', path.read_text(encoding="utf-8")):
            if href and "://" not in href and not href.startswith("tel:"):
                whole = (site / here.parent / unquote(href)).resolve()
                targets.add(whole.relative_to(site.resolve()).as_posix())
        found[here.as_posix()] = targets
    return found


@pytest.mark.usefixtures("charts_drawn_anew")
def test_the_same_notes_give_the_same_bytes_in_another_folder_on_another_day(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    notes = tmp_path / "elsewhere" / "deeper"
    for name in ("docs_data", "content", "site_config"):
        shutil.copytree(demo.parent / name, notes / name)
    build(notes, out=tmp_path / "other-site")
    assert _sums(tmp_path / "other-site") == _sums(demo)


def test_nothing_in_the_site_tells_where_or_when_it_was_built(demo: Path) -> None:
    for path in demo.rglob("*"):
        if path.suffix in (".html", ".js", ".css", ".json", ".svg"):
            text = path.read_text(encoding="utf-8")
            assert str(ROOT) not in text, path
            assert str(demo.parent) not in text, path
            assert "Build Date" not in text, path


def test_the_safety_page_begins_with_the_teams_own_words(demo: Path) -> None:
    page = (demo / "safety.html").read_text(encoding="utf-8")
    words = [
        ">Safety</h1>",
        "<p>At Larkmoor nobody measures alone on a roof",
        "<p>These notes remind people who already know how.",
    ]
    assert sorted(words, key=page.index) == words


def test_every_page_can_be_reached_from_home_by_links(demo: Path) -> None:
    links = _links(demo)
    reached, waiting = set(), {"index.html"}
    while waiting:
        page = waiting.pop()
        reached.add(page)
        waiting |= {one for one in links[page] if one.endswith(".html")} - reached
    former = {page for page in links if "ohm-kind-former" in (demo / page).read_text("utf-8")}
    assert reached == set(links) - former


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
        # What is read, and never asked: the example of a field, the team's own address on paper.
        read = {"fields.html": "notes.example", "paper.css": "notes.larkmoor.example"}
        assert hosts <= {"www.w3.org", read.get(path.name)}, (path, hosts)


def test_every_page_carries_the_content_policy_and_no_inline_code(demo: Path) -> None:
    for path in demo.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert "Content-Security-Policy" in text, path
        assert not re.search(r"<[^>]+\sstyle=", text), path
        assert not re.search(r"<[^>]+\son[a-z]+=", text), path
        for attributes, inside in re.findall(r"<script([^>]*)>(.*?)</script>", text, re.DOTALL):
            # What comes late names its file as well, and holds nothing itself.
            assert re.search(r"\b(src|data-later)=", attributes) and not inside.strip(), path


def test_codes_that_look_like_numbers_dates_and_words_survive_as_typed(demo: Path) -> None:
    shown = set()
    for path in (demo / "codes").glob("*.html"):
        text = path.read_text(encoding="utf-8")
        shown |= set(re.findall(r'<span class="ohm-code">([^<]*)</span>', text))
    assert {"012", "1:30", "NO", "1E3"} <= shown


def test_the_release_lists_every_file_with_its_checksum(demo: Path) -> None:
    listed = json.loads((demo / "release.json").read_text(encoding="utf-8"))
    there = {
        path: told
        for path, told in _sums(demo).items()
        if path not in UPLOADED_LAST and not is_record_or_pack(path)
    }
    assert listed["files"] == there


def test_a_fault_in_the_notes_leaves_the_old_site_as_it_was(with_site: Path) -> None:
    notes, site = with_site, with_site / "site"
    before = _sums(site)
    curve = notes / "docs_data/curves/table-ten.yaml"
    curve.write_text(curve.read_text(encoding="utf-8").replace("law: table", "law: tabel"))
    with pytest.raises(NotesHaveFaults) as stopped:
        build(notes, out=site)
    assert [one.rule for one in stopped.value.notes.problems if not one.warning] == ["unknown-word"]
    assert _sums(site) == before


def test_a_build_that_is_stopped_half_way_leaves_the_old_site_as_it_was(
    with_site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = with_site / "site"
    before = _sums(site)

    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("generators.build.seal", stopped)
    with pytest.raises(KeyboardInterrupt):
        build(with_site, out=site)
    assert _sums(site) == before
    monkeypatch.undo()
    build(with_site, out=site)
    assert _sums(site) == before


def test_a_folder_that_is_no_site_is_never_replaced(notes: Path, tmp_path: Path) -> None:
    letters = tmp_path / "letters"
    letters.mkdir()
    (letters / "dear.txt").write_text("keep me")
    with pytest.raises(FolderNotOurs):
        build(notes, out=letters)
    assert (letters / "dear.txt").read_text() == "keep me"


def test_two_builds_of_the_same_notes_do_not_run_at_once(notes: Path, tmp_path: Path) -> None:
    with only_writer(notes / ".build"), pytest.raises(SomebodyElseWrites):
        build(notes, out=tmp_path / "site")


def test_a_second_build_draws_no_chart_again(
    good_built: tuple[Path, Summary], with_site: Path
) -> None:
    again = build(with_site, out=with_site / "site")
    assert again.charts_drawn == 0
    assert again.charts_reused == good_built[1].charts_drawn > 0


def test_the_compiled_grids_stay_within_two_thousandths_of_a_kelvin(built: Summary) -> None:
    assert 0 < built.worst_grid_error_k <= 0.002


def test_the_bare_start_builds_at_once(tmp_path: Path) -> None:
    starter = carried("site_config").parent / "kb/starter"
    shutil.copytree(starter, tmp_path / "notes")
    summary = build(tmp_path / "notes", out=tmp_path / "site")
    assert summary.entries > 0
    assert (tmp_path / "site/index.html").is_file()


def test_relative_folders_build_from_where_one_stands(
    notes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    build(Path("notes"), out=Path("out"))
    assert (tmp_path / "out/index.html").is_file()


def test_what_the_writer_knows_beside_the_list_is_what_a_release_puts_there() -> None:
    assert set(UPLOADED_LAST) == set(UPLOADED_LAST)


def _finished(folder: Path) -> Path:
    head = {"number": 1, "date": "", "title": "", "team": "Ours"}
    folder.mkdir()
    (folder / "release.json").write_text(json.dumps({"files": {}, "release": head}))
    return folder


@pytest.mark.parametrize(
    ("place", "why"),
    [
        ("/", "/ is the whole disk, and a site replaces its folder"),
        ("notes", "{out} holds the notes themselves, and a site replaces its folder"),
        (".", "{out} holds the folder of the notes ({notes}), and a site replaces its folder"),
        *(
            (
                f"notes/{name}/new",
                f"{{out}} is in {name}/ of the notes, which a build reads or works in",
            )
            for name in ("docs_data", "content", "site_config", ".build")
        ),
        ("finished/new", "{out} is in the finished site {above}, which the next build replaces"),
    ],
)
def test_a_site_never_takes_the_place_of_what_is_needed(
    notes: Path, tmp_path: Path, place: str, why: str
) -> None:
    above = _finished(tmp_path / "finished")
    before = _sums(tmp_path)
    out = (tmp_path / place).resolve()
    with pytest.raises(FolderNotOurs) as told:
        build(notes, out=tmp_path / place)
    said = why.format(out=out, notes=notes, above=above)
    assert str(told.value) == f"{said}; name a new folder, such as {notes / 'site'}"
    assert _sums(tmp_path) == before


def test_a_site_gets_no_letters_thrown_away_with_it(with_site: Path) -> None:
    letter = with_site / "site/dear.txt"
    letter.write_text("keep me")
    with pytest.raises(FolderNotOurs, match=r"but dear\.txt in it did not come from a build"):
        build(with_site, out=with_site / "site")
    assert letter.read_text() == "keep me"
