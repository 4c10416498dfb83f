"""The frame of a page: what goes in, what comes out, and that nothing of the theme's runs."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml

from generators.browser_catalog import MODULE, SPELLINGS, catalog_module_text, spellings_module_text
from generators.dress import PagesNotDressed, dress
from generators.site_assets import EVERYWHERE
from kb.words.catalogue import words
from kb.writer import write_folder

DRESSING = Path(__file__).resolve().parents[2] / "site_config"
ASSETS = DRESSING / "assets"
EXTRA = yaml.safe_load((DRESSING / "mkdocs.yml").read_text(encoding="utf-8"))["extra"]
JOINED, ALONE = EXTRA["joined"], EXTRA["alone"]

MODULES = {MODULE: catalog_module_text(), SPELLINGS: spellings_module_text()}


@dataclass(frozen=True)
class Team:
    name: str = "Fenwick & Daughters"
    title: str = "Fenwick's notes"


HOME = (
    '---\ntitle: Notes\nkind: home\ntrail: []\n---\n\n<div class="ohm ohm-home"><p>In</p></div>\n'
)
CODE = (
    '---\ntitle: "012: <coil> & fan"\nkind: code\nsummary: What "012" means\n'
    "trail:\n- {title: Families, href: families/index.html}\n---\n\n"
    '<div class="ohm ohm-code"><h2 id="x">A</h2>\n\n    <p>*not* Markdown &amp; kept</p></div>\n'
)
SAFETY = (
    '# Safety\n\nSee the [code](codes/a.md).\n\n!!! warning "Stored charge"\n    Measure.\n\n'
    "| Volts | Wait |\n|--:|---|\n| 400 | 5 min |\n"
)


def dressed(tmp_path: Path, **pages: str) -> Path:
    texts = {"index.md": HOME, "codes/a.md": CODE, "safety.md": SAFETY}
    texts.update({name.replace("__", "/") + ".md": text for name, text in pages.items()})
    write_folder(tmp_path / "pages", texts)
    dress(
        tmp_path / "pages", tmp_path / "out", DRESSING, team=Team(), words=words(), modules=MODULES
    )
    return tmp_path / "out"


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return dressed(tmp_path_factory.mktemp("dress"))


def read(out: Path, path: str) -> str:
    return (out / path).read_text(encoding="utf-8")


def test_ready_html_passes_untouched(out):
    assert "    <p>*not* Markdown &amp; kept</p></div>" in read(out, "codes/a.html")


def test_the_frame_says_title_team_and_trail_and_escapes_them(out):
    text = read(out, "codes/a.html")
    assert "<h1>012: &lt;coil&gt; &amp; fan</h1>" in text
    assert '<span class="ohm-team">Fenwick &amp; Daughters</span>' in text
    assert '<a href="../families/index.html">Families</a>' in text
    assert '<meta name="description" content="What &#34;012&#34; means">' in text


def test_every_page_says_who_comes_first(out):
    words = "The maker's instructions, local codes and licensed practice come first."
    for path in out.rglob("*.html"):
        assert words in path.read_text(encoding="utf-8")


def test_hand_written_pages_get_boxes_tables_that_scroll_and_their_links(out):
    text = read(out, "safety.html")
    assert '<a href="codes/a.html">code</a>' in text
    assert '<div class="admonition warning">' in text
    assert '<div class="ohm-scroll" tabindex="0" role="region" aria-label="Table">' in text
    assert "style=" not in text
    assert text.count("<h1") == 1
    assert "md-skip" not in text


def test_no_script_or_style_of_the_theme_nor_any_inside_the_page(out):
    for path in out.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert re.findall(r"<script(?![^>]*\ssrc=)", text) == []
        assert "<style" not in text
        assert "mkdocs" not in text
        loaded = re.findall(r'(?:src|href)="([^"]+\.(?:js|css))"', text)
        assert loaded
        for address in loaded:
            assert re.fullmatch(r"(?:\.\./|\./)?assets/[a-z-]+\.(?:js|css)", address)


def bare(style: str) -> str:
    """Return a sheet without comments, blanks and what only ends a block: no two words make one."""
    return re.sub(r"/\*.*?\*/|\s|;(?=\s*\})", "", style, flags=re.DOTALL)


def test_a_joined_style_holds_its_parts_in_their_order_without_their_comments(out):
    parts = {name: parts for name, parts in JOINED.items() if name.endswith(".css")}
    for name, names in {**parts, "dark.css": ["dark.css"], "print.css": ["print.css"]}.items():
        text = "\n".join((ASSETS / part).read_text(encoding="utf-8") for part in names)
        assert "/*" in text
        assert "/*" not in read(out, f"assets/{name}")
        assert bare(text) == bare(read(out, f"assets/{name}"))


def test_every_source_reaches_a_page_and_no_script_twice(out):
    styles = {part for parts in JOINED.values() for part in parts if part.endswith(".css")}
    assert {path.name for path in ASSETS.glob("*.css")} == {
        *styles,
        *("dark.css", "print.css", "learn.css", "sheet.css"),
    }
    names = [name for name in JOINED if name.endswith(".js") and name not in ALONE]
    handed_on = Counter(
        name.strip()
        for script in names
        for listed in re.findall(
            r"Object\.assign\(Ohm,\{([^}]*)\}\);", read(out, f"assets/{script}")
        )
        for name in listed.split(",")
    )
    entries = {part for script in (*names, *ALONE) for part in JOINED[script]}
    for path in ASSETS.rglob("*.js"):
        place = path.relative_to(ASSETS).as_posix()
        exports = re.findall(
            r"^export (?:\w+ )*?(?:function|const|class) (\w+)", path.read_text("utf-8"), re.M
        )
        assert {handed_on[name] for name in exports} <= {0, 1}, place
        assert exports or place in entries, place
    for script in names:
        taken = re.findall(r'"use strict";const\{([^}]*)\}=Ohm;', read(out, f"assets/{script}"))
        wanted = {name for listed in taken for name in listed.split(",")}
        assert wanted <= handed_on.keys(), script


def test_a_page_loads_the_scripts_of_every_page_before_its_others(out):
    loaded = re.findall(r'<script[^>]* src="(?:\.\./|\./)?assets/([^"]+)"', read(out, "index.html"))
    own = [name for name in loaded if name in JOINED]
    assert own[: len(EVERYWHERE)] == list(EVERYWHERE)


@pytest.fixture()
def dressing(tmp_path: Path) -> Path:
    """A dressing of the test's own, to be spoilt."""
    shutil.copytree(DRESSING, tmp_path / "dressing")
    return tmp_path / "dressing"


def faults_of(tmp_path: Path, dressing: Path) -> list[str]:
    write_folder(tmp_path / "pages", {"index.md": HOME})
    with pytest.raises(PagesNotDressed) as stopped:
        dress(
            tmp_path / "pages",
            tmp_path / "out",
            dressing,
            team=Team(),
            words=words(),
            modules=MODULES,
        )
    return stopped.value.faults


def test_a_part_that_is_not_there_is_named_with_the_file_that_wants_it(tmp_path, dressing):
    (dressing / "assets/kinds.css").unlink()
    assert faults_of(tmp_path, dressing) == [
        "site_config/mkdocs.yml: joined: ohmfolio.css has the part kinds.css, which is not in assets/"
    ]


def test_a_script_that_is_not_there_is_named_with_every_line_that_wants_it(tmp_path, dressing):
    (dressing / "assets/page/case-yaml.js").unlink()
    found = faults_of(tmp_path, dressing)
    assert [re.sub(r":\d+:", ":", fault) for fault in found] == [
        f"site_config/assets/page/{name}: there is no script page/case-yaml.js"
        for name in ("job-case.js", "round-text.js")
    ]


def test_only_pages_and_our_own_assets_come_out(out):
    strange = [
        path.relative_to(out).as_posix()
        for path in out.rglob("*")
        if path.is_file()
        and path.suffix != ".html"
        and not (DRESSING / path.relative_to(out)).is_file()
        and path.name not in JOINED
        and not path.name.startswith("sitemap.xml")
    ]
    assert strange == []


def test_no_page_holds_the_list_of_all_pages(tmp_path):
    many = {f"codes__c{i}": CODE.replace("012", f"c{i}") for i in range(60)}
    few = len(read(dressed(tmp_path / "few"), "codes/a.html"))
    assert len(read(dressed(tmp_path / "many", **many), "codes/a.html")) == few


def test_a_dead_link_in_a_hand_written_page_stops_the_build(tmp_path):
    with pytest.raises(PagesNotDressed) as stopped:
        dressed(tmp_path, safety="# Safety\n\n[gone](codes/gone.md)\n")
    assert stopped.value.faults == [
        "Doc file 'safety.md' contains a link 'codes/gone.md', but the target is not found among "
        "documentation files."
    ]


def test_two_builds_in_two_folders_are_the_same_bytes(tmp_path, out):
    again = dressed(tmp_path / "elsewhere")
    for path in sorted(out.rglob("*")):
        if path.is_file() and not path.name.startswith("sitemap"):
            assert path.read_bytes() == (again / path.relative_to(out)).read_bytes()


def test_the_dressing_names_no_other_host():
    for path in sorted(DRESSING.rglob("*")):
        if path.is_file():
            hosts = re.findall(r"//([\w.-]+\.[a-z]{2,})", path.read_text(encoding="utf-8"))
            assert set(hosts) <= {"www.w3.org"}, path


def test_at_most_three_templates_of_the_theme_are_replaced():
    assert len(list((DRESSING / "overrides").rglob("*.html"))) <= 3
