"""What stands at the edge of a printed page: the sheet, the release, the page's number."""

from __future__ import annotations

import re
from collections.abc import Mapping

from kb.model import KINDS, Curve, Family, Method, Part, Team
from kb.words.catalogue import PLACEHOLDER, template
from kb.words.phrase import in_words

from .plan import Plan
from .site_context import SiteContext

PAPER = "assets/paper.css"
"""Read by the pages that are made for paper, and by no other."""
SIZES = {"a4": "A4", "letter": "letter"}
"""A team's paper → its name in a style sheet (CSS Paged Media 3, `size`)."""
AS_THEY_STAND = (Curve, Method)
"""Kinds whose page on paper is their own page; others are gathered on one of its own."""


def on_paper(context: SiteContext, plan: Plan) -> dict[str, str]:
    """Return the name of every page that is made for paper, by its path without an ending."""
    catalog = context.catalog
    names = {path: catalog.get(Family, family_id).name for path, family_id in plan.sheets.items()}
    for path, part_id in plan.refits.items():
        part = catalog.get(Part, part_id)
        families = ", ".join(catalog.get(Family, family_id).name for family_id in part.families)
        names[path] = f"{families}: {part.name}"
    for path, entry in plan.entries.items():
        if KINDS[entry.kind] in AS_THEY_STAND:
            names[path] = entry.name
    return {path.removesuffix(".md"): name for path, name in names.items()}


def paper_style(team: Team, *, release: str, sheets: Mapping[str, str]) -> str:
    """Return the style sheet of printed pages.

    Parameters
    ----------
    team : Team
    release : str
        What the release calls itself, in words.
    sheets : mapping of page path without its ending → what the sheet is called

    Notes
    -----
    A page's edge is drawn by the browser (CSS Paged Media 3, margin boxes; Chromium has them), and
    a sheet's name comes to it by a property of the root. Where a browser draws none of it, the
    foot of the page itself says the release.
    """
    newer = in_words("sheet-page.newer", address=team.at_address) if team.at_address else team.title
    edges = {
        "@top-left": "var(--ohm-paper)",
        "@top-right": _text(newer),
        "@bottom-left": _text(f"{team.name}. {release}"),
        "@bottom-right": _counted(),
    }
    boxes = "\n".join(f"{box} {{ content: {content}; {_FACE} }}" for box, content in edges.items())
    names = "\n".join(
        f':root:has([data-paper="{path}"]) {{ --ohm-paper: {_text(name)}; }}'
        for path, name in sheets.items()
    )
    size = f"size: {SIZES[team.paper]}; margin: 16mm 12mm 15mm;"
    return f"@page {{ {size}\n{boxes}\n}}\n{names}\n"


_FACE = "font: 8pt/1.2 system-ui, sans-serif; color: #000; white-space: nowrap;"


def _counted() -> str:
    """Return `Page 2 of 5` with both figures left to the browser."""
    words, parts, end = template("sheet-page.page-of"), [], 0
    for found in PLACEHOLDER.finditer(words):
        parts += [_text(words[end : found.start()]), f"counter({found[1]})"]
        end = found.end()
    return " ".join([*parts, _text(words[end:])])


def _text(words: str) -> str:
    """Return some words as a string of a style sheet."""
    inner = words.replace("\\", "\\\\").replace('"', '\\"')
    # A line break would end the string.
    return '"' + re.sub(r"\s", " ", inner) + '"'
