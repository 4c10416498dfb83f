"""What a pocket file leaves out of its pages, every browser supplies: the page is the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from generators.publish.pocket_slim import spare

SAME = """([whole, slim]) => {
    const body = (text) =>
        new DOMParser().parseFromString(`<!doctype html><body><article>${text}`, "text/html").body;
    return body(whole).isEqualNode(body(slim));
}"""


def test_a_browser_reads_the_same_page_out_of_fewer_bytes(browser: object, site: Path) -> None:
    page = browser.new_page()
    saved = whole = 0
    for path in sorted(site.rglob("*.html")):
        text = path.read_text(encoding="utf-8")
        begin = text.index('id="ohm-main"')
        body = text[text.index(">", begin) + 1 : text.index("<footer")]
        slim = spare(body)
        assert page.evaluate(SAME, [body, slim]), path.relative_to(site)
        whole += len(body)
        saved += len(body) - len(slim)
    page.close()
    assert saved > whole / 20


@pytest.mark.parametrize(
    ("whole", "slim"),
    [
        ('<ul class="a"><li>1</li><li>2</li></ul>', "<ul class=a><li>1<li>2</ul>"),
        ('<tr><td class="a b">1</td></tr>', '<tr><td class="a b">1</tr>'),
        ("<p>1</p> after", "<p>1</p> after"),
        ("<a><p>1</p></a>", "<a><p>1</p></a>"),
        ('<i id="a" data-n="3" title="1/2"></i>', '<i id="a" data-n=3 title="1/2"></i>'),
        ('<p data-f="{&#34;a&#34;:1}"></p>', "<p data-f='{\"a\":1}'></p>"),
        ('<p data-f="it&#39;s &#34;a&#34;"></p>', "<p data-f='it&#39;s \"a\"'></p>"),
        ('<rect x="1" rx="2"></rect>', '<rect x=1 rx="2"/>'),
    ],
)
def test_what_is_left_out_is_what_is_implied(whole: str, slim: str) -> None:
    assert spare(whole) == slim
