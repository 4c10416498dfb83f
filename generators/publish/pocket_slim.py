"""Say a pocket file's pages in fewer bytes: what repeats stands once, what is implied is left out.

A file must pass through any messenger, and still read without scripts. A list that many pages have
word for word, such as all that must be known before a machine is opened, stands whole on the first
of them; the others lead there, and where scripts run they show it in its place.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from ..html_tags import closing, read_tags
from .pocket_page import PocketPage, anchor_within

LEAST = 250
"""A list of fewer characters is hardly longer than the line that leads to it."""

_SPARE_END = re.compile(
    r"</li>(?=<li[ >]|</[uo]l>)"
    r"|</t[dh]>(?=<t[dh][ >]|</tr>)"
    r"|</tr>(?=<tr[ >]|</t(?:body|head)>)"
    r"|</thead>(?=<tbody>)|</tbody>(?=</table>)"
    r"|</option>(?=<option[ >]|</select>)"
    r"|</d[td]>(?=<d[td][ >])|</dd>(?=</d(?:l|iv)>)"
    r"|</p>(?=<(?:p|div|ul|ol|dl|table|details|section|form|aside|figure|h[1-6])[ >]"
    r"|</(?:div|li|td|details|section|form|aside|article)>)"
)
"""Ends that every reader of HTML supplies by itself, before what follows here."""
_EMPTY_DRAWN = re.compile(r"<(rect|path|line|circle|use|image)((?: [^<>]*)?)></\1>")
_TAG = re.compile(r"<[a-zA-Z][^<>]*>")
_PLAIN = re.compile(r' (?!id=|href=)([a-zA-Z:-]+)="([\w.,:;+%#-]+)"(?=[ >])')
"""A value that needs no quotes: before a stroke it does, for the stroke would belong to it."""
_PACKED = re.compile(r'="([^"\']*&#34;[^"\']*)"')


def once_said(pages: Sequence[PocketPage]) -> list[PocketPage]:
    """Return the pages of a file, each of their longer lists whole on one of them alone."""
    found = [_lists(page.body) for page in pages]
    repeated = {
        text
        for text, times in Counter(text for lists in found for _, text in lists).items()
        if times > 1 and len(text) >= LEAST
    }
    first: dict[str, str] = {}
    slimmed = []
    for place, (page, lists) in enumerate(zip(pages, found, strict=True)):
        pieces, done = [], 0
        for begin, text in lists:
            if text not in repeated:
                continue
            pieces.append(page.body[done:begin])
            done = begin + len(text)
            if text in first:
                pieces.append(_leading(first[text]))
                continue
            first[text] = anchor_within(place, anchor=f"whole-{len(first)}")
            pieces.append(text.replace("<ul", f'<ul id="{first[text]}"', 1))
        body = "".join([*pieces, page.body[done:]])
        slimmed.append(replace(page, body=body))
    return slimmed


def _leading(anchor: str) -> str:
    return f'<p><a href="#{anchor}" data-whole>All of it, with where and how</a></p>'


def _lists(body: str) -> list[tuple[int, str]]:
    """Return where each list begins that says words alone, and its text."""
    tags, found, end = read_tags(body), [], 0
    for i, tag in enumerate(tags):
        if tag.name != "ul" or tag.closes or tag.begin < end:
            continue
        end = tags[closing(tags, i)].end
        text = body[tag.begin : end]
        if " id=" not in text and "<input" not in text and " data-" not in text:
            found.append((tag.begin, text))
    return found


def spare(html: str) -> str:
    """Return HTML that every reader takes for the same, without what is implied in it."""
    html = _EMPTY_DRAWN.sub(r"<\1\2/>", _SPARE_END.sub("", html))
    return _TAG.sub(lambda tag: _spare_quotes(tag[0]), html)


def _spare_quotes(tag: str) -> str:
    tag = _PACKED.sub(lambda found: "='" + found[1].replace("&#34;", '"') + "'", tag)
    return _PLAIN.sub(r" \1=\2", tag)
