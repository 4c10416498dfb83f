"""The tags that bring a page's forms to life."""

from __future__ import annotations

from collections.abc import Iterable

from ..book import Book
from ..html import Html, el, join


def form_scripts(book: Book, curve_ids: Iterable[str] = ()) -> Html:
    """Return the tags of curves' compiled grids, the team's instruments, and all forms."""
    names = [*(f"curves/{curve_id}" for curve_id in sorted(set(curve_ids))), "team", "forms"]
    return join([
        el("script", src=f"{book.root}assets/{name}.js", defer=True) for name in names
    ])
