"""What a hostile hand-written page may not do: act, leave, hang the check, or lose its words."""

from __future__ import annotations

import time

import pytest

from kb.check.page_text import faults_of_page
from kb.check.people import personal
from kb.check.shown_text import links, without_typed


def faults(text: str) -> list[str]:
    found = faults_of_page(text, name="a", file="a.md", pages={"a", "b"}, photos={"c.jpg"})
    return [problem.headline() for problem in sorted(found)]


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("<meta/http-equiv=refresh content='0;url=//x'>", "<meta> changes the page's head"),
        ("<img/src=x/onerror=y>", "will not be in the site"),
        ("<img/src='c.jpg'/onerror=y>", "'onerror=' runs something inside the page"),
        ("<svg/onload=y>", "<svg> is no tag that a page may hold"),
        ("<SCRIPT/x>y</SCRIPT>", "<script> runs"),
        ('<a href="java&#115;cript:y">z</a>', "this link runs something"),
        ('<a href="java\tscript:y">z</a>', "this link runs something"),
        ("[z](\x01javascript:y)", "this link runs something"),
        ("[z](file:///etc/x)", "'file:' is no address that a page may lead to"),
        ("<p data-later=x.js>z</p>", "'data-later' is nothing that <p> may have in a page"),
        ('<a title="a>b" onclick=y>z</a>', "'onclick=' runs something inside the page"),
        ("<b/style=x>z</b>", "'style=' dresses something inside the page"),
        ("<!--><iframe src=x>-->", "<iframe> shows another page"),
        ("words</a>", "</a> closes nothing here"),
        ("replace <part> now", "<part> is no tag that a page may hold"),
    ],
)
def test_each_way_past_a_pattern_is_named(written, words):
    assert [words in each for each in faults(f"# A\n\n{written}\n")][:1] == [True]
    assert faults(f"# A\n\n{written}\n")[0].startswith("a.md:3:")


@pytest.mark.parametrize(
    "written",
    [
        "R < 5 and t <y",
        "<https://example.org/a> and <desk@example.org>",
        "`<script>` and ``<a ` b>``",
        "```\n<script>\n```",
        "<details open><summary>More</summary>\n\n<kbd>x</kbd><br/>\n\n</details>",
        '<table><tr><th scope="row">a<td colspan=2>b</table>',
        '[b](b.md "title") <a href="b.html#c" class="d" aria-label=e>f</a>',
        "<!-- <script> -->",
    ],
)
def test_what_a_page_may_hold_is_let_pass(written):
    assert faults(written) == []


ATOMS = [
    *("a", "0", "-", "a.", "a-", "a@", "a:", "[", "![", "[](", "[a](b", "[a][", "<", "<a", "<a "),
    *("`", "`a", "``a `", "~~~\n", "<!--", "<!-- ", "{", "{a", "{a:", '<a b="', "<a b='c \""),
    *("</a>", "(", "1 Aa ", "00 ", "(0", "http://", "<http://", "<a@", "é", " ", "\n", "[a]: "),
]


@pytest.mark.parametrize("atom", ATOMS)
def test_a_word_of_100_kb_is_read_in_a_moment(atom):
    text = atom * (100_000 // len(atom)) + "!"
    began = time.process_time()
    shown = without_typed(text)
    list(links(shown))
    list(personal(text))
    for _ in zip(
        range(60), faults_of_page(text, name="a", file="a", pages={"a"}, photos=set()), strict=False
    ):
        pass
    assert time.process_time() - began < 2


@pytest.mark.parametrize(
    ("atom", "words"),
    [
        ("[ ", "never-closed: more than 100 '[' on"),
        ("![ ", "never-closed: more than 100 '[' on"),
        ("[a]( ", "never-closed: more than 100 '](' on"),
        ("<a ", "never-closed: more than 100 '<' on"),
        ("1. ", "too-deep: more than 20 lists begin in each other here"),
        ("> ", "too-deep: more than 20 lists begin in each other here"),
    ],
)
def test_piles_that_would_stop_a_build_are_named(atom, words):
    assert [words in each for each in faults(f"# A\n\n{atom * 150}\n")].count(True) == 1
    assert not any("never-closed" in each or "too-deep" in each for each in faults(atom * 15))
