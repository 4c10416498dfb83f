"""The tags of finished HTML are found where they stand, whatever stands around them."""

from __future__ import annotations

import pytest

from generators.html_tags import closing, opening_tag, read_tags

TEXT = (
    '<!doctype html>\n<div id="a" hidden>1 < 2 &amp; <b title=\'say "no"\'>x</b>\n<br><img src=y>'
    "<svg viewBox='0 0 1 1'><path d=''/></svg><!-- <i> --><script>if (a<b) '</i>';</script></div>"
)


def test_every_tag_stands_where_the_text_says():
    assert [TEXT[tag.begin : tag.end] for tag in read_tags(TEXT)] == [
        '<div id="a" hidden>',
        "<b title='say \"no\"'>",
        "</b>",
        "<br>",
        "<img src=y>",
        "<svg viewBox='0 0 1 1'>",
        "<path d=''/>",
        "",
        "</svg>",
        "<script>",
        "</script>",
        "</div>",
    ]


def test_attributes_are_read_as_a_browser_reads_them():
    div, bold = read_tags(TEXT)[:2]
    assert div.attributes == {"id": "a", "hidden": None}
    assert bold.attributes == {"title": 'say "no"'}
    assert read_tags('<p ID="first" id="second" class="one two">')[0].attributes["id"] == "first"
    assert read_tags('<p class="one two">')[0].has_class("two")
    assert not read_tags('<p class="one-two">')[0].has_class("two")


def test_an_element_ends_where_its_own_end_stands():
    tags = read_tags("<div><div></div><p></p></div><div></div>")
    assert (closing(tags, 0), closing(tags, 1)) == (5, 2)
    with pytest.raises(ValueError, match=r"^<p> has no end$"):
        closing(read_tags("<p>open"), 0)


def test_a_tag_is_written_so_that_it_reads_back():
    attributes = {"title": 'a "b" & <c>', "hidden": None}
    assert opening_tag("p", attributes) == '<p title="a &quot;b&quot; &amp; &lt;c&gt;" hidden>'
    assert read_tags(opening_tag("p", attributes))[0].attributes == attributes
