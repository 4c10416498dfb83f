"""A hand-written page's HTML is written anew: closed, escaped, without what nobody allows."""

from __future__ import annotations

import pytest

from generators.own_html import own_html


@pytest.mark.parametrize(
    ("rendered", "written"),
    [
        ("<p>R &lt; 5 &amp; 6 &#8364;</p>", "<p>R &lt; 5 &amp; 6 &#8364;</p>"),
        ("</div></div><p>a", "<p>a</p>"),
        ("a</a> b", "a b"),
        ("<b>a<i>b</b>c", "<b>a<i>b</i></b>c"),
        ("<b/>a", "<b>a</b>"),
        ("a<!-- our key -->b", "ab"),
        ('<a/href="b.html"/onclick=x>c</a>', '<a href="b.html">c</a>'),
        ('<a href="java&#10;script:x">c</a>', "<a>c</a>"),
        ('<img src=x onerror=y alt="a &quot;b">', '<img src="x" alt="a &quot;b">'),
        ('<img src="//host/x">', "<img>"),
        ("a < b & c", "a &lt; b &amp; c"),
        ('<p id=a id=b data-later="x">c</p>', '<p id="a">c</p>'),
        ("<a href='b", "&lt;a href='b"),
        ("<b>a <https://host/ c</b>", "<b>a &lt;https://host/ c</b>"),
        ("<em>a <kbd <b>c</b></em>", "<em>a &lt;kbd <b>c</b></em>"),
    ],
)
def test_what_is_written_reads_in_one_way(rendered, written):
    assert own_html(rendered) == (written, [])


@pytest.mark.parametrize(
    "rendered",
    ["<meta/http-equiv=refresh content=0>", "<script>x</script>", "<svg/onload=x>", "<part>"],
)
def test_an_element_that_nobody_allows_is_named(rendered):
    written, refused = own_html(f"<p>a</p>{rendered}")
    assert refused
    assert f"<{refused[0]}" not in written
