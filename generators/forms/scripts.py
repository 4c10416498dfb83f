"""Which scripts a form needs, in the order in which they must run."""

from __future__ import annotations

from collections.abc import Iterable

from ..book import Book
from ..html import Html, el, join

JUDGING = ("team", "out-of-range", "notation", "grid", "instruments", "verdict")
"""What every verdict on a reading is computed with."""


def scripts(book: Book, *names: str) -> Html:
    """Return the tags of some of our own scripts, in the order given, each once."""
    return join([
        el("script", src=f"{book.root}assets/{name}.js", defer=True)
        for name in dict.fromkeys(names)
    ])


def curve_scripts(book: Book, curve_ids: Iterable[str]) -> Html:
    """Return the tags that bring curves' compiled grids to the page, each once."""
    return scripts(book, *(f"curves/{curve_id}" for curve_id in sorted(set(curve_ids))))
