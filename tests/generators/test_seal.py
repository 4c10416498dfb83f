"""What sealing a site refuses, removes and sets."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generators import page_leads
from generators.page_leads import read_leads
from generators.seal import POLICY, SiteNotWhole, seal

HEAD = '<!doctype html><html><head><meta charset="utf-8"><link rel="stylesheet" href="{root}a.css">'


def page(site: Path, path: str, body: str) -> None:
    file = site / path
    file.parent.mkdir(parents=True, exist_ok=True)
    root = "../" * path.count("/")
    file.write_text(f"{HEAD.format(root=root)}</head><body>{body}</body></html>", encoding="utf-8")


@pytest.fixture()
def site(tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    page(folder, "index.html", '<a href="codes/k1.html#clear">K1</a>')
    page(folder, "codes/k1.html", '<h2 id="clear">Clear it</h2><a href="../index.html">Home</a>')
    (folder / "a.css").write_text("body { background: url(b.svg) }")
    (folder / "b.svg").write_text("<svg/>")
    return folder


def faults_of(site: Path) -> list[str]:
    with pytest.raises(SiteNotWhole) as told:
        seal(site)
    return told.value.faults


def test_every_page_gets_the_policy_before_anything_is_loaded(site):
    seal(site)
    text = (site / "codes/k1.html").read_text(encoding="utf-8")
    assert text.index(f'content="{POLICY}"') < text.index("<link")
    assert '<meta name="robots" content="noindex, nofollow">' in text


def test_files_that_nobody_asks_for_are_removed(site):
    (site / "sitemap.xml").write_text("")
    (site / "assets").mkdir()
    (site / "assets/stray.js").write_text("")
    assert seal(site).pruned == 2
    assert not (site / "sitemap.xml").exists()
    assert not (site / "assets/stray.js").exists()


def test_the_icons_that_the_manifest_names_stay(site):
    (site / "icon.png").write_bytes(b"")
    (site / "notes.webmanifest").write_text(json.dumps({"icons": [{"src": "icon.png"}]}))
    page(site, "index.html", '<p data-later="notes.webmanifest"></p><a href="codes/k1.html">K1</a>')
    assert seal(site).paths == [
        "a.css",
        "b.svg",
        "codes/k1.html",
        "icon.png",
        "index.html",
        "notes.webmanifest",
    ]


def test_a_script_that_is_loaded_later_stays(site):
    (site / "later.js").write_text("")
    page(site, "index.html", '<form data-later="later.js"></form><a href="codes/k1.html">K1</a>')
    seal(site)
    assert (site / "later.js").exists()


def test_a_dead_link_and_a_dead_anchor_are_both_named_and_nothing_is_changed(site):
    page(site, "index.html", '<a href="codes/k2.html">K2</a> <a href="codes/k1.html#gone">K1</a>')
    before = {p: p.read_bytes() for p in site.rglob("*") if p.is_file()}
    assert faults_of(site) == [
        "index.html leads to codes/k2.html, which is not in the site",
        "index.html leads to codes/k1.html#gone, but no such anchor is on that page",
    ]
    assert {p: p.read_bytes() for p in site.rglob("*") if p.is_file()} == before


def test_a_link_out_of_the_site_is_dead(site):
    page(site, "index.html", '<a href="../notes.html">up</a><a href="codes/k1.html">K1</a>')
    assert faults_of(site) == ["index.html leads to ../notes.html, which is not in the site"]


def test_a_link_to_a_publisher_is_allowed_but_loading_from_one_is_not(site):
    page(
        site,
        "index.html",
        '<a href="https://publisher.invalid/">source</a><a href="codes/k1.html">K1</a>'
        '<img src="//host.invalid/x.png">',
    )
    assert faults_of(site) == [
        "index.html: <img> asks another host for //host.invalid/x.png: put the file in the notes"
    ]


def test_styles_and_handlers_inside_a_page_are_refused(site):
    page(
        site, "index.html", '<p style="color:red" onclick="x()"><a href="codes/k1.html">K1</a></p>'
    )
    rest = (
        "the content policy allows no style or handler inside a page; "
        "give it a class and a rule in site_config/assets"
    )
    assert faults_of(site) == [f"index.html: <p style>: {rest}", f"index.html: <p onclick>: {rest}"]


@pytest.mark.parametrize(
    "body",
    ["<p style='color:red'>x</p>", "<p style=color:red>x</p>", '<p class="a>b" style="x">x</p>'],
)
def test_a_style_is_seen_however_it_is_quoted(site, body):
    page(site, "index.html", f'{body}<a href="codes/k1.html">K1</a>')
    assert [fault.partition(": the content")[0] for fault in faults_of(site)] == [
        "index.html: <p style>"
    ]


def test_a_link_in_a_script_or_a_remark_leads_nowhere(site):
    remark = "<!-- <a href='gone.html'> --><script>'<a href=\"gone.html\">'</script>"
    page(site, "index.html", f'{remark}<a href="codes/k1.html">K1</a>')
    assert "index.html" in seal(site).paths


def test_a_page_that_cannot_hold_the_policy_is_refused(site):
    (site / "bare.html").write_text("<!doctype html><p>bare")
    assert faults_of(site) == [
        'bare.html: the page must hold <meta charset="utf-8"> once, '
        "for the content policy to follow it"
    ]


PLAIN = HEAD.format(root="")
ODD = (
    '<p ID="Two" id="three"><svg viewBox="0 0 1 1"><use xlink:href="#a&amp;b"/></svg>',
    '<a title="id=x href" href="x.html" href="y.html">1 > 0</a><input disabled id>',
    '<p onclick="x()" style="a">é</p><textarea id="t"></textarea>',
    '<script src="https://a.example/x.js"></script><img data-later="a b.js">',
    "<a href='single.html'>q</a>",
    '<!-- <a href="remark.html"> --><a href=bare.html>b</a>',
    '<script>if (a < b) "<a href=script.html>"</script>',
    '<textarea><a href="typed.html"></textarea>',
    '<style>a { }</style><a href="z.html"',
    '<a href="x<y.html">',
)


@pytest.mark.parametrize("body", ODD)
def test_a_page_is_read_the_quick_way_as_the_parser_reads_it(
    body: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = f"{PLAIN}</head><body>{body}</body></html>"
    quick = read_leads(text, path="codes/k1.html")
    monkeypatch.setattr(page_leads, "_plain_tags", lambda text: None)
    assert quick == read_leads(text, path="codes/k1.html")


@pytest.mark.parametrize(
    ("piece", "fault"),
    [
        (
            "<meta http-equiv=refresh content='0;url=https://example.org'>",
            "<meta http-equiv=refresh> leaves the site by itself",
        ),
        (
            "<meta/http-equiv=REFRESH content='0;URL=//example.org'>",
            "<meta http-equiv=refresh> leaves the site by itself",
        ),
        ("<meta http-equiv=set-cookie content=a>", "<meta http-equiv> bends how the page is read"),
        ("<iframe srcdoc=a></iframe>", "<iframe> is not among the elements that a page may hold"),
        ("<base href=x>", "<base> is not among the elements that a page may hold"),
        ("<a href='&#106;avascript:x'>a</a>", "<a href> runs something"),
    ],
)
def test_what_no_page_may_hold_is_refused(tmp_path, piece, fault):
    (tmp_path / "a.html").write_text(f'<meta charset="utf-8">{piece}')
    with pytest.raises(SiteNotWhole) as stopped:
        seal(tmp_path)
    assert f"a.html: {fault}" in stopped.value.faults
