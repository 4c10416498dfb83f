"""Draw once what many pages of a pocket file show alike: a sketch's ground and each of its pins."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..html_tags import Tag, closing, read_tags
from .pocket_page import PocketPage

LEAST = 60
"""A piece of fewer characters is hardly longer than what would stand for it."""

Piece = tuple[int, int, str]
"""Where a piece of a drawing begins and ends in its page, and its text."""


def drawn_once(pages: Sequence[PocketPage]) -> tuple[list[PocketPage], str]:
    """Return the pages with marks in place of what they draw alike, and a drawing that holds it.

    The drawing stands outside of every page: one page alone is shown at a time.
    """
    found = [list(_pieces(page.body)) for page in pages]
    times = Counter(text for pieces in found for _, _, text in pieces)
    names: dict[str, str] = {}
    changed = []
    for page, pieces in zip(pages, found, strict=True):
        body, done = "", 0
        for begin, end, text in pieces:
            if times[text] > 1 and len(text) >= LEAST:
                name = names.setdefault(text, f"drawn-{len(names)}")
                body += f'{page.body[done:begin]}<use href="#{name}"></use>'
                done = end
        changed.append(replace(page, body=body + page.body[done:]))
    return changed, _holding(names)


def _holding(names: dict[str, str]) -> str:
    """Return a drawing that shows nothing by itself, under the names that stand for its pieces."""
    if not names:
        return ""
    # The class on each: what stands in a mark's place is dressed by what it holds, not by its page.
    inner = "".join(f'<g id="{name}" class="ohm-sketch">{text}</g>' for text, name in names.items())
    return f'<svg class="ohm-hidden" aria-hidden="true"><defs>{inner}</defs></svg>'


def _pieces(body: str) -> Iterable[Piece]:
    """Yield what can stand for itself in each sketch: its ground as one, and every pin untapped."""
    tags = read_tags(body)
    for i, tag in enumerate(tags):
        if tag.name == "svg" and not tag.closes and tag.has_class("ohm-sketch"):
            children = _children(tags, begin=i + 1, end=closing(tags, i))
            ground = [child for child in children if child[0].name in ("image", "path", "text")]
            if ground:
                yield _piece(body, ground[0][0].begin, ground[-1][1].end)
            for first, last in children:
                if first.has_class("ohm-pin"):
                    yield _piece(body, first.begin, last.end)


def _children(tags: list[Tag], *, begin: int, end: int) -> list[tuple[Tag, Tag]]:
    """Return the first and the last tag of each element that stands at the top of a drawing."""
    children, i = [], begin
    while i < end:
        last = closing(tags, i)
        children.append((tags[i], tags[last]))
        i = last + 1
    return children


def _piece(body: str, begin: int, end: int) -> Piece:
    return begin, end, body[begin:end]
