"""A small drawing for each kind of entry, in the hand of the mark: a line with square ends."""

from __future__ import annotations

from collections.abc import Mapping

from .html import Html, el

SIGNS: Mapping[str, str] = {
    "families": "M3 5h18v14H3zM6 12a5 5 0 1 0 10 0a5 5 0 1 0-10 0M18.5 8v8",
    "codes": "M5 5h14l2 2v10l-2 2H5l-2-2V7zM6.5 12h5M14 12h1M17 12h1",
    "sensors": "M9 3h6v9H9zM10.5 12v9M13.5 12v9",
    "parts": "M4 4h16v16H4zM9 9h6v6H9zM12 4v5M12 15v5M4 12h5M15 12h5",
    "methods": "M4 6h3M10 6h10M4 12h3M10 12h10M4 18h3M10 18h6",
    "instruments": "M6 3h12v18H6zM9 6.500h6V10H9zM12 17v-4",
    "curves": "M4 4v16h16M7 5c1 8 5 11 12 12",
    "drawings": "M11 4h9v6h-9zM12 10l-6 8M4.5 18h3v3h-3z",
    "cases": "M6 3h9l3 3v15H6zM9 13l2.5 2.5 4-5",
    "sources": "M4 5h7.500v15H4zM12.5 5H20v15h-7.5",
    "lessons": "M3 20h5v-5h5v-5h5V5h3",
}
"""Kind → its course in a box of 24."""
ANY = "M5 5h14l2 2v10l-2 2H5l-2-2V7z"
"""A kind without one of its own: an empty plate."""


def kind_sign(kind: str) -> Html:
    """Return the sign of a kind; it stands beside the kind's name and never in its place."""
    return el(
        "svg",
        el("path", d=SIGNS.get(kind, ANY)),
        viewBox="0 0 24 24",
        aria_hidden="true",
        class_="ohm-sign",
    )
